package app

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/pacing"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

func day(text string) time.Time {
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return d
}

// aTerm is ten Wednesdays from 7 January 2026, a Wednesday by the civil calendar, with a holiday in the fourth week, a cancelled lesson
// in the sixth and a showcase on the Saturday of the ninth.
func aTerm() postgres.TermPage {
	show := day("2026-03-07")
	cancelled := day("2026-02-11").Add(12 * time.Hour)
	page := postgres.TermPage{Term: studio.Term{StartsOn: day("2026-01-05"), EndsOn: day("2026-03-15"), ShowcaseOn: &show},
		Holidays: []studio.Holiday{{Name: "Harbour week", StartsOn: day("2026-01-26"), EndsOn: day("2026-01-30")}},
		Lessons: []studio.Lesson{{StartsAt: day("2026-01-07").Add(16 * time.Hour), Minutes: 60}, {StartsAt: day("2026-02-11").Add(16 * time.Hour), Minutes: 60, CancelledAt: &cancelled},
			{StartsAt: day("2026-02-05").Add(16 * time.Hour), Minutes: 60}}} // moved from Wednesday to Thursday
	page.Card.Weekday, page.Card.TimeZone = time.Wednesday, "UTC"
	return page
}

func TestWeeksOfATerm(t *testing.T) {
	now := day("2026-01-21").Add(10 * time.Hour) // the morning of the third lesson
	c := newTermCalendar(aTerm(), now, day("2026-01-21"))
	if len(c.weeks) != 10 || c.done != 2 || c.show != 9 {
		t.Fatalf("%d weeks, %d over, the showcase after week %d; want 10, 2 and 9", len(c.weeks), c.done, c.show)
	}
	for _, want := range []struct {
		week   int
		day    string
		lesson bool
		why    string
	}{{1, "2026-01-07", true, ""}, {4, "2026-01-28", false, "Harbour week"}, {5, "2026-02-05", true, ""}, {6, "2026-02-11", false, "cancelled"}, {10, "2026-03-11", true, ""}} {
		w := c.weeks[want.week-1]
		if !w.Day.Equal(day(want.day)) || w.Lesson != want.lesson || w.Why != want.why {
			t.Errorf("week %d is %s, lesson %v, %q; want %s, %v, %q", want.week, w.Day.Format(time.DateOnly), w.Lesson, w.Why, want.day, want.lesson, want.why)
		}
	}
	for monday, want := range map[string]int{"2025-12-29": 0, "2026-01-05": 1, "2026-03-09": 10, "2026-03-16": 11} {
		if got := c.number(day(monday)); got != want {
			t.Errorf("the week of %s is number %d, want %d", monday, got, want)
		}
	}
	if got := c.ahead(9); !slices.Equal(got, []int{3, 5, 7, 8, 9}) {
		t.Errorf("lessons ahead are in weeks %v", got)
	}
	if late := newTermCalendar(aTerm(), day("2026-03-08"), day("2026-03-08")); late.show != 0 || late.done != 9 {
		t.Errorf("the day after the showcase: showcase %d, %d weeks over; want 0 and 9", late.show, late.done)
	}
}

// aPacer is a class of four on one ladder of six rungs, each needing the one before, on the first day of the term; child i has the
// first have[i] rungs secure.
func aPacer(t *testing.T, have ...int) *pacer {
	t.Helper()
	var rungs []studio.Rung
	for i := range 6 {
		r := studio.Rung{Key: fmt.Sprintf("r%d", i+1), Name: fmt.Sprintf("Rung %d", i+1), Load: studio.Load{Back: i % 3, Wrists: 1}}
		if i > 0 {
			r.Needs = []string{fmt.Sprintf("r%d", i)}
		}
		rungs = append(rungs, r)
	}
	l, err := newLadders(studio.Library{Ladders: []studio.Ladder{{Key: "only", Name: "Only", Rungs: rungs}}})
	if err != nil {
		t.Fatal(err)
	}
	page := aTerm()
	page.Card.Focus = []string{"only"}
	w := &pacer{TermPage: page, ladders: l, boards: map[uuid.UUID]standing.Board{}, termCalendar: newTermCalendar(page, day("2026-01-05"), day("2026-01-05"))}
	w.Pacing, w.rule = studio.NewPacing(uuid.Nil), studio.DefaultPacing()
	for i, n := range have {
		id := numbered(i)
		var marks []standing.Mark
		for r := range n {
			for k := range 5 {
				marks = append(marks, standing.Mark{RungID: fmt.Sprintf("r%d", r+1), At: day("2025-12-01").AddDate(0, 0, 3*k), Lesson: fmt.Sprint(k), Outcome: standing.Clean})
			}
		}
		if w.boards[id], err = l.graph.Board(marks, standing.Defaults(), day("2026-01-05")); err != nil {
			t.Fatal(err)
		}
		w.pupils = append(w.pupils, postgres.Pupil{ChildDetail: studio.ChildDetail{Child: studio.Child{ID: id}}})
	}
	return w
}

// By hand: children with 0, 1, 1 and 3 rungs have among their next three: 1-3, 2-4, 2-4, 4-6. So rungs 2, 3 and 4 are near for two or
// three of four; rung 1 for one alone. Rung 1 is needed by rung 2, and three of four have it.
func TestChoiceFollowsTheRule(t *testing.T) {
	w := aPacer(t, 0, 1, 1, 3)
	var keys, focus []string
	for _, r := range w.choose() {
		keys = append(keys, r.RungKey)
		if r.Focus {
			focus = append(focus, r.RungKey)
		}
	}
	if !slices.Equal(keys, []string{"r2", "r3", "r4"}) || !slices.Equal(focus, []string{"r2"}) {
		t.Errorf("chosen are %v, in focus %v; want r2 r3 r4 and r2", keys, focus)
	}
	if got := aPacer(t).choose(); len(got) != 0 {
		t.Errorf("a class of nobody gets %v", got)
	}
}

func TestWhatWasMarkedByHalfTheClassCountsAsTaught(t *testing.T) {
	w := aPacer(t, 0, 0, 0, 0)
	w.termCalendar = newTermCalendar(w.TermPage, day("2026-02-20"), day("2026-02-20"))
	for i, when := range []string{"2026-01-07", "2026-01-21", "2026-02-18"} { // weeks 1, 3 and 7; the second of four decides
		w.marks = append(w.marks, postgres.SeenMark{Mark: studio.Mark{ChildID: numbered(i), RungKey: "r1", MarkedAt: day(when).Add(16 * time.Hour)}})
	}
	w.marks = append(w.marks, postgres.SeenMark{Mark: studio.Mark{ChildID: numbered(0), RungKey: "r2", MarkedAt: day("2026-01-07")}})
	if got := w.taught(); len(got) != 1 || got["r1"] != 3 {
		t.Errorf("taught is %v, want r1 in week 3", got)
	}
}

func TestNeedsReachThroughRungsThatAreNotOfTheTerm(t *testing.T) {
	w := aPacer(t, 0)
	p := studio.Pacing{Rungs: []studio.PacedRung{{RungKey: "r2"}, {RungKey: "r5"}}}
	if got := w.needsIn("r5", p); !slices.Equal(got, []string{"r2"}) {
		t.Errorf("r5 comes after %v, want r2", got)
	}
}

// What is over stays, whatever is asked of the rest; and the plan keeps every rule by the engine's own check.
func TestPlanningAgainKeepsWhatWasTaught(t *testing.T) {
	w := aPacer(t, 1, 1, 1, 1)
	w.termCalendar = newTermCalendar(w.TermPage, day("2026-01-22"), day("2026-01-22"))
	p := studio.NewPacing(uuid.Nil)
	for i, key := range []string{"r2", "r3", "r4", "r5"} {
		p.Rungs = append(p.Rungs, studio.PacedRung{RungKey: key, WeekOf: w.monday(i + 2), Focus: key == "r5"})
	}
	plan, err := w.solve(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	w.settle(&p, plan)
	at := w.places(p)
	if at["r2"] != 2 || at["r3"] != 3 || at["r4"] < 5 || at["r5"] <= at["r4"] || at["r5"] >= 9 {
		t.Errorf("weeks are %v: taught are r2 in 2 and r3 in 3; week 4 has no lesson, week 9 nothing new", at)
	}
	if breaches, err := pacing.Check(w.problem(p), plan); err != nil || len(breaches) > 0 {
		t.Errorf("the plan breaks %v, %v", breaches, err)
	}
}

// A lost week moves what was in it and nothing that can stay.
func TestLosingAWeekMovesLittle(t *testing.T) {
	w := aPacer(t, 1, 1, 1, 1)
	for i, key := range []string{"r2", "r3", "r4"} {
		w.Pacing.Rungs = append(w.Pacing.Rungs, studio.PacedRung{RungKey: key, WeekOf: w.monday([]int{1, 3, 7}[i])})
	}
	got, err := w.whatIf(context.Background(), nil, PacingAsk{Lose: 3})
	if err != nil {
		t.Fatal(err)
	}
	var changed []int
	for _, week := range got.Weeks {
		if week.Changed {
			changed = append(changed, week.No)
		}
	}
	if len(changed) != 2 || !slices.Contains(changed, 3) || len(got.Words) != 2 {
		t.Errorf("weeks %v change: %q", changed, got.Words)
	}
	for _, nothing := range []PacingAsk{{Lose: 4}, {Lose: 99}, {Showcase: -1}} {
		if got, err := w.whatIf(context.Background(), nil, nothing); err != nil || got != nil {
			t.Errorf("%+v answers %v, %v", nothing, got, err)
		}
	}
}

// A showcase one week later takes its quiet lessons with it: as many as the studio sets, over a week without a lesson.
func TestQuietLessonsMoveWithTheShowcase(t *testing.T) {
	w := aPacer(t, 1, 1, 1, 1)
	w.rule.Quiet = 2
	w.Pacing.Rungs = []studio.PacedRung{{RungKey: "r2", WeekOf: w.monday(1), Focus: true}, {RungKey: "r3", WeekOf: w.monday(10)}}
	p := w.problem(w.Pacing)
	if !slices.Equal(p.Quiet, []int{9, 8}) || !slices.Equal(pacing.MoveShowcase(p, 7).Quiet, []int{7, 5}) {
		t.Errorf("quiet are %v, and %v with the showcase after week 7; want 9 8 and 7 5, since week 6 has no lesson", p.Quiet, pacing.MoveShowcase(p, 7).Quiet)
	}
	got, err := w.whatIf(context.Background(), nil, PacingAsk{Showcase: 10})
	if err != nil {
		t.Fatal(err)
	}
	if !got.Weeks[9].Changed || len(got.Weeks[8].Then)+len(got.Weeks[9].Then) > 0 {
		t.Errorf("with the showcase after week 10 weeks 9 and 10 have %v and %v that is new", got.Weeks[8].Then, got.Weeks[9].Then)
	}
}

// The rule of the studio is what a rung counts.
func TestARungCountsWhatTheStudioSets(t *testing.T) {
	w := aPacer(t, 1)
	w.rule = studio.PacingRule{New: 5, Again: 3, After: []int{2, 4, 8}}
	got := w.engineRung(studio.PacedRung{RungKey: "r3"}, studio.Pacing{})
	if got.Load != (pacing.Load{New: 5, Back: 4, Wrists: 2}) || got.AgainLoad != (pacing.Load{New: 3, Back: 2, Wrists: 1}) || !slices.Equal(got.Again, []int{2, 4, 8}) {
		t.Errorf("%+v", got)
	}
}

// Planned again with nothing changed, nothing moves.
func TestPlanningAgainMovesNothingWithoutNeed(t *testing.T) {
	w := aPacer(t, 1, 1, 1, 1)
	p := studio.NewPacing(uuid.Nil)
	for _, key := range []string{"r2", "r3", "r4", "r5"} {
		p.Rungs = append(p.Rungs, studio.PacedRung{RungKey: key})
	}
	for range 2 {
		plan, err := w.solve(context.Background(), p)
		if err != nil || plan.Moved > 0 {
			t.Errorf("%d moved, %v", plan.Moved, err)
		}
		w.settle(&p, plan)
	}
}

// No rung is likelier than one that it needs, a rung without lessons is as unlikely as can be, and fewer turns never help.
func TestChancesOfAClass(t *testing.T) {
	w := aPacer(t, 1, 2)
	for i, key := range []string{"r2", "r3", "r4"} {
		w.Pacing.Rungs = append(w.Pacing.Rungs, studio.PacedRung{RungKey: key, WeekOf: w.monday([]int{1, 2, 3}[i])})
	}
	f := &foreseer{pacer: w, pace: postgres.Pace{Turns: 4}, last: 9, plan: map[string]pacing.Placed{}}
	for _, r := range pacing.Evaluate(w.problem(w.Pacing), w.places(w.Pacing)).Rungs {
		f.plan[r.RungID] = r
	}
	full, err := f.chances(1)
	if err != nil {
		t.Fatal(err)
	}
	less, err := f.chances(0.5)
	if err != nil {
		t.Fatal(err)
	}
	for child := range 2 {
		for i, key := range []string{"r2", "r3", "r4"} {
			if i > 0 && full[key][child] > full[fmt.Sprintf("r%d", i+1)][child] {
				t.Errorf("child %d: %s is likelier than what it needs: %v", child, key, full)
			}
			if less[key][child] > full[key][child]+1e-9 {
				t.Errorf("child %d: %s is likelier with fewer turns", child, key)
			}
		}
	}
	if full["r2"][1] != 1 {
		t.Errorf("a rung that is secure has the chance %g", full["r2"][1])
	}
	counts, err := pacing.Ready(context.Background(), w.crowd(full))
	if err != nil || math.Abs(counts.Rungs[1].Mean-sumOf(full["r3"])) > 1e-12 {
		t.Errorf("the mean is %v, want the sum of the chances %g: %v", counts.Rungs, sumOf(full["r3"]), err)
	}
}

func TestEvenness(t *testing.T) {
	for _, c := range []struct {
		peak, bound int
		broken      bool
		want        string
	}{
		{9, 9, false, "The heaviest week to come carries 9 points of one kind. No plan of these rungs has a lighter one: that is proven."},
		{11, 10, false, "The heaviest week to come carries 11 points of one kind; no plan can have less than 10, so this one is within 10% of the best possible."},
		{8, 9, true, "The heaviest week to come carries 8 points of one kind, but a rule is broken; a plan that keeps every rule has at least 9."},
	} {
		if got := evenness(c.peak, c.bound, c.broken); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A rung that the term has in the week of the lesson matters more, and most when it is new.
func TestTheTermsWeekWeighsInALesson(t *testing.T) {
	e := &evening{Evening: postgres.Evening{WeekRungs: []studio.WeekRung{{RungKey: "fresh", New: true}, {RungKey: "again"}}}}
	if fresh, again, other := e.inTerm("fresh"), e.inTerm("again"), e.inTerm("other"); !(fresh > again && again > other && other == 1) {
		t.Errorf("new %g, again %g, other %g", fresh, again, other)
	}
}
