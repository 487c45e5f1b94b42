package demo

import (
	"reflect"
	"slices"
	"strconv"
	"testing"
	"time"

	"rungbook/internal/engine/standing"
	"rungbook/internal/studio"
)

// someHistory makes the history up as a load would, without a database.
func someHistory(t *testing.T, now time.Time) (skills, history) {
	t.Helper()
	lib, err := library()
	if err != nil {
		t.Fatal(err)
	}
	today := dayOf(now)
	term, holiday := theTerm(today)
	before, off := earlierTerm(term.StartsOn)
	s := newSkills(lib)
	return s, makeHistory(s, someMeetings(before.StartsOn, before.EndsOn.AddDate(0, 0, 1), off, today), someMeetings(term.StartsOn, today, holiday, today), term.StartsOn, limits(today))
}

// someMeetings are those of every class from a day to before another.
func someMeetings(from, until time.Time, holiday studio.Holiday, today time.Time) []meeting {
	var meetings []meeting
	for day := from; day.Before(until); day = day.AddDate(0, 0, 1) {
		for _, c := range courses() {
			if day.Weekday() == c.weekday(today) && !holiday.Covers(day) {
				meetings = append(meetings, meeting{course: c, lesson: studio.Lesson{StartsAt: day.Add(17 * time.Hour), Minutes: c.minutes},
					round: len(meetings) / len(courses()), markers: []string{"a", "b"}})
			}
		}
	}
	return meetings
}

// all is every mark, also of the earlier term, in order of time.
func (h history) all() []seenTurn {
	turns := slices.Clone(h.turns)
	for _, t := range h.earlier.turns {
		if t.meeting >= 0 {
			t.meeting = -2 - t.meeting // no lesson of this term
		}
		turns = append(turns, t)
	}
	slices.SortStableFunc(turns, func(a, b seenTurn) int { return a.at.Compare(b.at) })
	return turns
}

func (s skills) graph(t *testing.T) *standing.Graph {
	t.Helper()
	var rungs []standing.Rung
	for _, key := range s.order {
		rungs = append(rungs, standing.Rung{ID: key, Needs: s.rungs[key].Needs, TwoSided: s.rungs[key].TwoSided})
	}
	g, err := standing.New(rungs)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func (s skills) standingMark(x seenTurn) standing.Mark {
	m := standing.Mark{RungID: x.rung, At: x.at, Outcome: standing.Outcome(x.outcome), By: x.by}
	if x.meeting != -1 {
		m.Lesson = strconv.Itoa(x.meeting)
	}
	if x.side != studio.NoSide {
		m.Side = standing.Side(x.side)
	}
	for _, f := range s.rungs[x.rung].Faults {
		for _, key := range x.faults {
			m.SafetyFault = m.SafetyFault || f.Safety && f.Key == key
		}
	}
	return m
}

func TestSameDaySameStory(t *testing.T) {
	_, a := someHistory(t, noon)
	_, b := someHistory(t, noon)
	if !reflect.DeepEqual(a, b) {
		t.Error("two loads of one day tell different stories")
	}
	ids := map[[16]byte]bool{}
	all := a.all()
	for _, x := range all {
		ids[x.id] = true
	}
	if len(ids) != len(all) {
		t.Errorf("%d ids for %d marks", len(ids), len(all))
	}
}

// The engine that judges real marks judges these: nobody is clean on a rung before all it needs was once secure.
func TestPrerequisitesComeFirst(t *testing.T) {
	s, h := someHistory(t, noon)
	g := s.graph(t)
	byChild, met := map[string][]standing.Mark{}, map[string]bool{} // what was secure once counts as met from then on
	for _, x := range h.all() {
		if x.outcome == studio.Clean {
			for _, need := range s.rungs[x.rung].Needs {
				if met[x.child+need] = met[x.child+need] || metOn(t, g, byChild[x.child], need, x.at); !met[x.child+need] {
					t.Fatalf("%s is clean on %s on %v before %s was secure", x.child, x.rung, x.at, need)
				}
			}
		}
		byChild[x.child] = append(byChild[x.child], s.standingMark(x))
	}
}

func metOn(t *testing.T, g *standing.Graph, marks []standing.Mark, rung string, at time.Time) bool {
	board, err := g.Board(marks, standing.Defaults(), at)
	if err != nil {
		t.Fatal(err)
	}
	st, ok := board.On(rung)
	return ok && st.Met()
}

// Whatever the day of the week on which the demonstration is loaded.
func TestEveryStateOccursInEveryClass(t *testing.T) {
	for day := range 7 {
		now := noon.AddDate(0, 0, day)
		s, h := someHistory(t, now)
		for _, c := range courses() {
			seen := states(t, s, h.all(), c, now)
			for _, state := range []standing.State{standing.Waiting, standing.Open, standing.Working, standing.Secure, standing.Recheck} {
				if seen[state] < 2 {
					t.Errorf("on %s %s has %d rungs %s, want at least 2", now.Weekday(), c.name, seen[state], state)
				}
			}
		}
	}
}

// The lessons of the earlier term change nothing of where anybody stands now, nor of how soon it is due another look.
func TestEarlierTermLeavesStandingsAlone(t *testing.T) {
	s, h := someHistory(t, noon)
	g := s.graph(t)
	if n := len(h.earlier.turns); n < 2000 {
		t.Errorf("%d marks of the earlier term, want 2,000 or more", n)
	}
	marks := func(turns []seenTurn) map[string][]standing.Mark {
		by := map[string][]standing.Mark{}
		for _, x := range turns {
			by[x.child] = append(by[x.child], s.standingMark(x))
		}
		return by
	}
	with, without := marks(h.all()), marks(h.turns)
	for _, p := range pupils() {
		a, err := g.Board(with[p.fullName()], standing.Defaults(), dayOf(noon))
		if err != nil {
			t.Fatal(err)
		}
		b, err := g.Board(without[p.fullName()], standing.Defaults(), dayOf(noon))
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range a.Rungs {
			if y := b.Rungs[i]; x.State != y.State || x.Recall != y.Recall || x.HalfLife != y.HalfLife || x.DaysUnseen != y.DaysUnseen {
				t.Errorf("%s on %s: %s, recall %.3f, with the earlier term; %s, %.3f, without", p.fullName(), x.RungID, x.State, x.Recall, y.State, y.Recall)
			}
		}
	}
}

// states counts the rungs of the children of a class by their state.
func states(t *testing.T, s skills, turns []seenTurn, c course, now time.Time) map[standing.State]int {
	t.Helper()
	g, seen := s.graph(t), map[standing.State]int{}
	for _, p := range pupils() {
		if p.class != c.name {
			continue
		}
		var marks []standing.Mark
		for _, x := range turns {
			if x.child == p.fullName() {
				marks = append(marks, s.standingMark(x))
			}
		}
		board, err := g.Board(marks, standing.Defaults(), dayOf(now))
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range board.Rungs {
			seen[st.State]++
		}
	}
	return seen
}

// What is seen gets better, and a child under a care limit is spared.
func TestHistoryIsPlausible(t *testing.T) {
	s, h := someHistory(t, noon)
	clean, all := map[bool]float64{}, map[bool]float64{}
	first := map[string]map[string]time.Time{}
	for _, x := range h.turns {
		if x.meeting < 0 {
			continue
		}
		if first[x.child] == nil {
			first[x.child] = map[string]time.Time{}
		}
		if first[x.child][x.rung].IsZero() {
			first[x.child][x.rung] = x.at
		}
		late := x.at.Sub(first[x.child][x.rung]) > 10*24*time.Hour
		all[late]++
		if x.outcome == studio.Clean {
			clean[late]++
		}
		for _, l := range limits(dayOf(noon)) {
			if l.child == x.child && !x.at.Before(l.from) && l.forbids(s.rungs[x.rung]) {
				t.Errorf("%s worked at %s on %v under a care limit", x.child, x.rung, x.at)
			}
		}
	}
	if clean[true]/all[true] <= clean[false]/all[false]+0.03 {
		t.Errorf("clean at first %.2f, later %.2f: nobody learns", clean[false]/all[false], clean[true]/all[true])
	}
	if n := all[true] + all[false]; n < 3000 || n > 6000 {
		t.Errorf("%.0f marks this term, want 3,000 to 6,000", n)
	}
}
