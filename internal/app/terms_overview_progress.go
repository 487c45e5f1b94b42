package app

import (
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/studio"
)

// ProgressLine is what the children of a class made secure in a term, by the studio's rule of today. Every mark in force counts, also
// one from another class or from between lessons.
type ProgressLine struct {
	TermClass
	Children int
	Secured  int // rungs that a child made secure for the first time, over all children
	Lower    int // a quarter of the children made at most so many secure
	Median   int
	Upper    int // three quarters
	Most     int
	Turns    int // marks in the lessons of the class
	Came     int // children times the lessons that they came to, so far as was noted
	Secure   int // rungs that a child had ever made secure by the end of the term, or by today
	Recheck  int // of those, due another look then
}

// TurnsEach is how many marks a child got in a lesson that it came to; 0 where nobody noted who came.
func (p ProgressLine) TurnsEach() float64 { return share(p.Turns, p.Came) }

// RecheckShare is the part of what was once secure that was due another look.
func (p ProgressLine) RecheckShare() float64 { return share(p.Recheck, p.Secure) }

func share(part, of int) float64 {
	if of == 0 {
		return 0
	}
	return float64(part) / float64(of)
}

func (b *termsBook) progress() []ProgressLine {
	var lines []ProgressLine
	for _, g := range b.groups {
		line := ProgressLine{TermClass: g.TermClass, Children: len(g.children)}
		var each []int
		for _, child := range g.children {
			secured := 0
			for _, c := range b.courses[child] {
				switch day := b.dayOf(c.Since); {
				case !b.asked(c.RungID) || day.After(g.term.EndsOn):
					continue
				case !day.Before(g.term.StartsOn):
					secured++
				}
				line.Secure++
				line.Recheck += one(c.Due[b.endOf(g.term)])
			}
			each = append(each, secured)
			line.Secured += secured
			line.Most = max(line.Most, secured)
		}
		line.Lower, line.Median, line.Upper = standing.Quartiles(each)
		for _, l := range b.lessonsOf(g) {
			line.Turns += sum(b.turns[l.ID])
			if b.held(l) {
				line.Came += l.Came
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// endOf is the place of the last day of a term, or of today, among the days that were looked at.
func (b *termsBook) endOf(term studio.Term) int {
	return slices.Index(b.days, earlier(term.EndsOn, b.today))
}

// within reports whether a moment is on a day of a term.
func (b *termsBook) within(moment time.Time, term studio.Term) bool {
	day := b.dayOf(moment)
	return !day.Before(term.StartsOn) && !day.After(term.EndsOn)
}

func sum(turns map[string]int) int {
	n := 0
	for _, of := range turns {
		n += of
	}
	return n
}

// AttendanceLine is how often the children of a class came. Expected is children times the lessons held while they were in the class;
// of those somebody noted Noted, and Came came.
type AttendanceLine struct {
	TermClass
	Held, CalledOff, Ahead int // lessons
	Expected, Noted, Came  int
}

// Share is the part of those noted who came.
func (a AttendanceLine) Share() float64 { return share(a.Came, a.Noted) }

func (b *termsBook) attendance() []AttendanceLine {
	var lines []AttendanceLine
	for _, g := range b.groups {
		line := AttendanceLine{TermClass: g.TermClass}
		for _, l := range b.lessonsOf(g) {
			switch {
			case l.CancelledAt != nil:
				line.CalledOff++
			case b.held(l):
				line.Held++
				line.Expected += l.Expected
				line.Noted += l.Noted
				line.Came += l.Came
			default:
				line.Ahead++
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// CoverageLine is how much of a ladder a term met. Taught rungs were in the plan of a lesson that was held, or marked in one; marked
// ones were marked in one; secured ones somebody made secure in the term.
type CoverageLine struct {
	TermClass
	Key, Ladder                    string
	Family                         studio.Family
	Rungs, Taught, Marked, Secured int
}

// rungsOf gathers the rungs that the lessons of a group met, and those that its children made secure in its term.
func (b *termsBook) rungsOf(g group) (taught, marked, secured map[string]bool) {
	taught, marked, secured = map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, l := range b.lessonsOf(g) {
		if !b.held(l) {
			continue
		}
		for rung := range b.turns[l.ID] {
			taught[rung], marked[rung] = true, true
		}
	}
	for _, p := range b.Planned {
		if l := b.lesson[p.LessonID]; b.held(l) && slices.Contains(g.classes, l.ClassID) {
			taught[p.RungKey] = true
		}
	}
	for _, child := range g.children {
		for _, c := range b.courses[child] {
			if b.asked(c.RungID) && b.within(c.Since, g.term) {
				secured[c.RungID] = true
			}
		}
	}
	return taught, marked, secured
}

// coverage counts each ladder in each term, over all classes or the one asked for.
func (b *termsBook) coverage() []CoverageLine {
	var lines []CoverageLine
	for _, g := range b.groups {
		if g.Class != b.ask.Class {
			continue
		}
		taught, marked, secured := b.rungsOf(g)
		for _, ladder := range b.Ladders {
			if b.ask.Family != "" && ladder.Family != b.ask.Family {
				continue
			}
			line := CoverageLine{TermClass: g.TermClass, Key: ladder.Key, Ladder: ladder.Name, Family: ladder.Family, Rungs: len(ladder.Rungs)}
			for _, r := range ladder.Rungs {
				line.Taught += one(taught[r.Key])
				line.Marked += one(marked[r.Key])
				line.Secured += one(secured[r.Key])
			}
			lines = append(lines, line)
		}
	}
	return lines
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// UnusedRung is a rung that nobody was ever marked at and no plan ever had, or that lacks something in the library.
type UnusedRung struct {
	Key, Rung, Ladder          string
	Never                      bool
	NoFigure, NoDrill, NoFault bool
}

func (b *termsBook) unused() []UnusedRung {
	prepared, planned := map[string]bool{}, map[string]bool{}
	for _, d := range b.Drills {
		for _, rung := range d.Prepares {
			prepared[rung] = true
		}
	}
	for _, p := range b.Planned {
		planned[p.RungKey] = true
	}
	var all []UnusedRung
	for _, ladder := range b.Ladders {
		for _, r := range ladder.Rungs {
			u := UnusedRung{Key: r.Key, Rung: r.Name, Ladder: ladder.Name, Never: !b.ever[r.Key] && !planned[r.Key],
				NoFigure: len(r.Figure) == 0, NoDrill: !prepared[r.Key], NoFault: len(r.Faults) == 0}
			if b.asked(r.Key) && (u.Never || u.NoFigure || u.NoDrill || u.NoFault) {
				all = append(all, u)
			}
		}
	}
	return all
}

// childrenNow are the children who are in a class today, of the class asked for or of all.
func (b *termsBook) childrenNow() []uuid.UUID {
	var now []uuid.UUID
	for _, p := range b.Places {
		c := b.class[p.ClassID]
		in := !p.FromOn.After(b.today) && (p.UntilOn == nil || !p.UntilOn.Before(b.today)) && !b.term[c.TermID].EndsOn.Before(b.today)
		if in && (b.ask.Class == "" || c.Name == b.ask.Class) && !slices.Contains(now, p.ChildID) {
			now = append(now, p.ChildID)
		}
	}
	return now
}
