package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// HomeDrill is a drill to do at home, as a parent reads it.
type HomeDrill struct {
	ID        uuid.UUID // of the assignment
	Name      string
	Figure    []string // names of poses
	Steps     []string
	Dose      string
	Counts    studio.Dose // for a timer
	Space     string
	Caution   string
	Safe      string // why it is safe alone; "" for one that is there by exception
	Adult     bool
	Exception *studio.HomeException // that a teacher ticked, nil for a drill that is safe alone
	Why       string
	Until     time.Time
	OnHold    HomeLimit // what a care limit says instead
	TwoSided  bool
	DoneToday bool
	DoneDays  int         // since Monday
	MayNote   []time.Time // days of the last two weeks, before today, for which it is not noted
}

// NextRung is what comes next on a ladder.
type NextRung struct {
	Ladder, Name string
	Look         []string
	Begun        bool
}

// FamilyView is one's own child: drills, practice, messages, ladders, reports and lessons, without anything that staff keep to themselves.
type FamilyView struct {
	ID       uuid.UUID
	Name     string
	Limits   []HomeLimit
	Drills   []HomeDrill
	Practice PracticeLog
	Ladders  []LadderStand
	Next     []NextRung
	Lessons  []LessonLine  // to come, called-off ones too
	Days     []CalendarDay // showcases and days without lessons
	Messages []postgres.GotMessage
	Fresh    int // messages that the actor has not opened
	Released []studio.ReleasedReport
	Reports  []SorenessLine
	Today    time.Time
	Language string // the tag of the studio's own words
}

// FamilyChildOf shows one of the actor's own children.
func (a *App) FamilyChildOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (FamilyView, error) {
	var view FamilyView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeHome, Target{Child: child}); err != nil {
			return err
		}
		page, err := t.FamilyPage(ctx, child, t.Today.AddDate(0, 0, -7*practiceWeeks))
		if err != nil {
			return err
		}
		view, err = familyView(words.Of(ctx), page, t)
		return err
	})
	return view, err
}

func familyView(b *words.Book, page postgres.FamilyPage, t *postgres.Tx) (FamilyView, error) {
	library, err := laddersOf(page.Library, t)
	if err != nil {
		return FamilyView{}, err
	}
	limits := holding(page.Limits, t.Today)[page.Pupil.ID]
	view := FamilyView{ID: page.Pupil.ID, Name: page.Pupil.GivenName, Limits: homeLimitsOf(b, limits), Today: t.Today, Language: t.Settings.Language,
		Drills:   homeDrills(b, library, page, limits, t.Today),
		Practice: practiceLog(page.Practice, page.PracticeDays, library, t.Today), Days: familyDays(b, page.Terms, page.Holidays, t.Today),
		Messages: page.Messages, Fresh: fresh(page.Messages), Released: page.Reports, Reports: linesOf(page.Soreness)}
	for _, l := range page.Lessons {
		start := inZone(l.StartsAt, l.TimeZone)
		if end := start.Add(time.Duration(l.Minutes) * time.Minute); end.After(t.Now) {
			view.Lessons = append(view.Lessons, LessonLine{ID: l.ID, Class: l.Class, StartsAt: start, EndsAt: end, Cancelled: l.CancelledAt != nil})
		}
	}
	if !t.Scope.Reads(view.ID) {
		view.Released = nil
	}
	return view, view.addLadders(b, library, page.Marks, t)
}

// addLadders takes the ladders that were begun, with their states in plain words instead of the staff's reasons.
func (v *FamilyView) addLadders(b *words.Book, library *ladders, marks []postgres.SeenMark, t *postgres.Tx) error {
	boards, err := library.boardsOf([]uuid.UUID{v.ID}, marks, t)
	if err != nil {
		return err
	}
	for _, l := range library.stands(boards[v.ID]) {
		if !l.Begun() {
			continue
		}
		for i := range l.Rungs {
			l.Rungs[i].Reason, l.Rungs[i].Numbers = "", ""
			if s, _ := boards[v.ID].On(l.Rungs[i].Key); l.Rungs[i].Evidence != "" {
				l.Rungs[i].Evidence = tallyIn(b, s.Sides)
			}
		}
		v.Ladders = append(v.Ladders, l)
		if next := l.Next(); next != nil {
			v.Next = append(v.Next, NextRung{Ladder: l.Name, Name: next.Name, Look: library.rungs[next.Key].Look, Begun: next.Evidence != ""})
		}
	}
	return nil
}

// homeDrills are the drills at home today; one that a care limit forbids is on hold.
func homeDrills(b *words.Book, library *ladders, page postgres.FamilyPage, limits []studio.CareLimit, today time.Time) []HomeDrill {
	done := map[uuid.UUID][]time.Time{}
	for _, p := range page.Practice {
		done[p.AssignmentID] = append(done[p.AssignmentID], p.DoneOn)
	}
	var drills []HomeDrill
	for _, g := range page.Given {
		if !outOn(g, today) {
			continue
		}
		d := library.drills[g.DrillKey]
		drill := HomeDrill{ID: g.ID, Name: d.Name, Figure: d.Figure, Steps: d.Steps, Dose: DoseIn(b, g.Dose, d.TwoSided, library.settings.HomeDays), Counts: g.Dose,
			Space: d.Space, Caution: d.Caution, Safe: d.Home.Reason, Adult: d.Home.Adult, Why: g.Why, Until: g.UntilOn, TwoSided: d.TwoSided}
		if l := holdOn(d, limits, today); l != nil {
			drill.OnHold = homeLimit(b, *l)
		}
		if g.Exception != nil && !d.Home.Safe {
			drill.Safe, drill.Adult, drill.Exception = "", true, g.Exception
		}
		drill.addDone(g, done[g.ID], today)
		drills = append(drills, drill)
	}
	return drills
}

func (d *HomeDrill) addDone(g studio.HomeAssignment, done []time.Time, today time.Time) {
	has := func(day time.Time) bool { return slices.ContainsFunc(done, day.Equal) }
	d.DoneToday = has(today)
	for day := mondayOf(today); !day.After(today); day = day.AddDate(0, 0, 1) {
		if has(day) {
			d.DoneDays++
		}
	}
	for back := 1; back <= practiceWithin; back++ {
		if day := today.AddDate(0, 0, -back); outOn(g, day) && !has(day) {
			d.MayNote = append(d.MayNote, day)
		}
	}
}
