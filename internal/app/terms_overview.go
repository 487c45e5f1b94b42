package app

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// termsShown is how many terms are compared unless all are asked for: those that began last.
const termsShown = 4

// TermsAsk is what terms are compared by. A class is asked for by its name, which goes on from term to term. What cannot be had is "".
type TermsAsk struct {
	Class  string
	Family studio.Family
	All    bool // all terms that were kept
}

// TermsOverview compares the terms of the studio, the oldest first. A line without a class is of all classes of its term.
type TermsOverview struct {
	TermsAsk   // as it was answered
	Classes    []string
	Families   []studio.Family
	Terms      []studio.Term
	Kept       int // terms in all that have begun
	Day        Day
	Cover      studio.CoverRule
	Stays      []StayLine
	Progress   []ProgressLine
	Attendance []AttendanceLine
	Gaps       []GapLine
	Ending     []EndingLine
	Coverage   []CoverageLine
	Unused     []UnusedRung
}

// TermClass says what a line is of. Class is "" for all classes of the term.
type TermClass struct{ Term, Class string }

// TermsOverview compares the terms that were kept, also those that have been put away.
func (a *App) TermsOverview(ctx context.Context, actor studio.Actor, ask TermsAsk) (TermsOverview, error) {
	var o TermsOverview
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		var err error
		o, err = termsOverview(ctx, t, ask)
		return err
	})
	return o, err
}

func termsOverview(ctx context.Context, t *postgres.Tx, ask TermsAsk) (TermsOverview, error) {
	b, err := readTerms(ctx, t, ask)
	if err != nil {
		return TermsOverview{}, err
	}
	o := TermsOverview{TermsAsk: b.ask, Classes: b.classNames(), Families: b.families(), Terms: b.shown, Kept: b.begun(), Day: t.Day(), Cover: t.Settings.Cover}
	o.Stays, o.Progress, o.Attendance = b.stays(), b.progress(), b.attendance()
	o.Gaps, o.Ending = b.gaps(), b.ending()
	o.Coverage, o.Unused = b.coverage(), b.unused()
	return o, nil
}

// termsBook is what the comparison is worked out from, indexed.
type termsBook struct {
	postgres.TermsBook
	*ladders
	ask     TermsAsk
	shown   []studio.Term // those compared, the oldest first
	now     time.Time
	today   time.Time
	dayOf   func(time.Time) time.Time
	class   map[uuid.UUID]studio.Class
	term    map[uuid.UUID]studio.Term
	places  map[uuid.UUID][]postgres.TermPlace // by child
	lesson  map[uuid.UUID]postgres.TermLesson
	lessons map[uuid.UUID][]postgres.TermLesson // by class, in order of time
	days    []time.Time                         // the last days of the terms shown, and today, in order
	courses map[uuid.UUID][]standing.Came       // by child, as of these days
	turns   map[uuid.UUID]map[string]int        // marks by lesson and rung, of the rungs asked for
	ever    map[string]bool                     // rungs that anybody was ever marked at
	groups  []group
}

func readTerms(ctx context.Context, t *postgres.Tx, ask TermsAsk) (*termsBook, error) {
	book, err := t.TermsBook(ctx)
	if err != nil {
		return nil, fmt.Errorf("read the terms: %w", err)
	}
	library, err := laddersOf(book.Library, t)
	if err != nil {
		return nil, err
	}
	b := &termsBook{TermsBook: book, ladders: library, ask: ask, now: t.Now, today: t.Today, dayOf: t.DayOf, class: map[uuid.UUID]studio.Class{},
		term: map[uuid.UUID]studio.Term{}, places: map[uuid.UUID][]postgres.TermPlace{}, lesson: map[uuid.UUID]postgres.TermLesson{},
		lessons: map[uuid.UUID][]postgres.TermLesson{}, courses: map[uuid.UUID][]standing.Came{}, turns: map[uuid.UUID]map[string]int{}, ever: map[string]bool{}}
	b.index()
	b.choose()
	b.groups = b.grouped()
	if err := t.EachChildsMarks(ctx, b.take); err != nil {
		return nil, fmt.Errorf("follow the marks: %w", err)
	}
	return b, nil
}

func (b *termsBook) index() {
	for _, t := range b.Terms {
		b.term[t.ID] = t
	}
	for _, c := range b.TermsBook.Classes {
		b.class[c.ID] = c
	}
	for _, p := range b.Places {
		b.places[p.ChildID] = append(b.places[p.ChildID], p)
	}
	for _, l := range b.Lessons {
		b.lesson[l.ID] = l
		b.lessons[l.ClassID] = append(b.lessons[l.ClassID], l)
	}
}

// choose answers what is asked for with what there is.
func (b *termsBook) choose() {
	if !slices.Contains(b.classNames(), b.ask.Class) {
		b.ask.Class = ""
	}
	if !slices.Contains(b.families(), b.ask.Family) {
		b.ask.Family = ""
	}
	for _, t := range b.Terms {
		if !t.StartsOn.After(b.today) {
			b.shown = append(b.shown, t)
		}
	}
	if !b.ask.All {
		b.shown = b.shown[max(0, len(b.shown)-termsShown):]
	}
	b.days = []time.Time{b.today}
	for _, t := range b.shown {
		b.days = append(b.days, earlier(t.EndsOn, b.today))
	}
	slices.SortFunc(b.days, time.Time.Compare)
	b.days = slices.Compact(b.days)
}

func (b *termsBook) begun() int {
	n := 0
	for _, t := range b.Terms {
		if !t.StartsOn.After(b.today) {
			n++
		}
	}
	return n
}

func (b *termsBook) classNames() []string {
	var names []string
	for _, c := range b.TermsBook.Classes {
		if !slices.Contains(names, c.Name) {
			names = append(names, c.Name)
		}
	}
	slices.Sort(names)
	return names
}

// families are those that the library has, in the order of the trade.
func (b *termsBook) families() []studio.Family {
	return slices.DeleteFunc(studio.Families(), func(f studio.Family) bool {
		return !slices.ContainsFunc(b.Ladders, func(l studio.Ladder) bool { return l.Family == f })
	})
}

// take follows one child's marks, and counts them by lesson.
func (b *termsBook) take(child uuid.UUID, marks []postgres.SeenMark) error {
	read := make([]standing.Mark, len(marks))
	for i, m := range marks {
		b.ever[m.RungKey] = true
		if m.LessonID != nil && b.asked(m.RungKey) {
			if b.turns[*m.LessonID] == nil {
				b.turns[*m.LessonID] = map[string]int{}
			}
			b.turns[*m.LessonID][m.RungKey]++
		}
		read[i] = standingMark(m)
		if m.MarkedBy != nil {
			read[i].By = m.MarkedBy.String()
		}
	}
	var err error
	b.courses[child], err = b.graph.Course(read, judging(b.settings), b.days)
	return err
}

// asked reports whether a rung belongs to what is compared.
func (b *termsBook) asked(rung string) bool {
	return b.ask.Family == "" || b.ladder[b.ladders.of[rung]].Family == b.ask.Family
}

// group is a class of a term with the children who were in it, or all classes of the term together.
type group struct {
	TermClass
	term     studio.Term
	classes  []uuid.UUID
	children []uuid.UUID // each once
}

// grouped lists, term by term, all classes together and then each class, so far as they are asked for.
func (b *termsBook) grouped() []group {
	var all []group
	for _, term := range b.shown {
		whole := group{TermClass: TermClass{Term: term.Name}, term: term}
		var each []group
		for _, c := range b.TermsBook.Classes {
			if c.TermID != term.ID || b.ask.Class != "" && c.Name != b.ask.Class {
				continue
			}
			one := group{TermClass: TermClass{term.Name, c.Name}, term: term, classes: []uuid.UUID{c.ID}}
			for _, p := range b.Places {
				if p.ClassID == c.ID && inTerm(p, term) {
					one.children = append(one.children, p.ChildID)
					if !slices.Contains(whole.children, p.ChildID) {
						whole.children = append(whole.children, p.ChildID)
					}
				}
			}
			whole.classes = append(whole.classes, c.ID)
			each = append(each, one)
		}
		if b.ask.Class == "" {
			all = append(all, whole)
		}
		all = append(all, each...)
	}
	return all
}

// inTerm reports whether a place in a class holds on any day of a term.
func inTerm(p postgres.TermPlace, term studio.Term) bool {
	return !p.FromOn.After(term.EndsOn) && (p.UntilOn == nil || !p.UntilOn.Before(term.StartsOn))
}

// lessonsOf are the lessons of a group, class by class.
func (b *termsBook) lessonsOf(g group) []postgres.TermLesson {
	var of []postgres.TermLesson
	for _, class := range g.classes {
		of = append(of, b.lessons[class]...)
	}
	return of
}

// held reports whether a lesson took place by now.
func (b *termsBook) held(l postgres.TermLesson) bool {
	return l.CancelledAt == nil && !l.EndsAt.After(b.now)
}
