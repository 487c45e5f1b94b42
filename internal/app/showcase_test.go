package app

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// aStage is the class of aPacer with a piece of the fourth rung for everybody, on the day of the showcase; rung i loads the wrists 1.
func aStage(t *testing.T, have ...int) *stage {
	t.Helper()
	w := aPacer(t, have...)
	f := &foreseer{pacer: w, pace: postgres.Pace{Present: map[uuid.UUID]int{}, Noted: map[uuid.UUID]int{}}, own: map[string]standing.Learning{}, last: len(w.weeks)}
	p := studio.Piece{ID: numbered(100), Name: "Tide", Parts: []studio.PiecePart{{Name: "Everybody", Everybody: true, Rungs: []string{"r4"}}}}
	return &stage{foreseer: f, show: postgres.Showcase{Pieces: []studio.Piece{p}}, today: day("2026-01-05")}
}

func (s *stage) placed1(t *testing.T, child int) ChildRung {
	t.Helper()
	v, err := s.view(s.show.Pieces[0])
	if err != nil {
		t.Fatal(err)
	}
	return v.Children[child].Rungs[0]
}

// By hand: a child with four rungs has the fourth secure; one with three is offered the third; one with none stands in the picture. No
// week of the term has the fourth, so whoever has not begun it cannot have it by then.
func TestPlacesInAPiece(t *testing.T) {
	s := aStage(t, 4, 3, 0)
	s.rungs["r4"] = heavy(s.rungs["r4"]) // so that none below it loads the back more
	v, err := s.view(s.show.Pieces[0])
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		fit    Fit
		chance float64
		offer  string
	}{{ReadyFit, 1, "-"}, {NotYetFit, 0, "r3"}, {NotYetFit, 0, ""}} {
		r := v.Children[i].Rungs[0]
		offer := "-"
		if r.Offer != nil {
			offer = r.Offer.Key
		}
		if r.Fit != want.fit || math.Abs(r.Chance-want.chance) > 1e-12 || offer != want.offer {
			t.Errorf("child %d: %s, %v, offered %q; want %+v", i, r.Fit, r.Chance, offer, want)
		}
	}
	if !slices.Equal(v.Loose, []string{"Rung 4"}) || v.Rungs[0].Words != "1 of 3 ready and 2 not yet." || v.Lessons != 7 {
		t.Errorf("loose %v, %q, %d lessons", v.Loose, v.Rungs[0].Words, v.Lessons)
	}
}

func heavy(r studio.Rung) studio.Rung {
	r.Load.Back = 3
	return r
}

// A care limit that holds on the day, or today, forbids the rung and every other that it forbids: nothing of the kind is offered, and what
// was accepted before is broken by it.
func TestCareLimitsOnStage(t *testing.T) {
	until := day("2026-01-20")
	for name, limit := range map[string]studio.CareLimit{
		"holds on the day":           {AvoidWrists: true, Action: "no weight on the hands", FromOn: day("2026-03-01")},
		"holds today, ends before":   {AvoidWrists: true, Action: "no weight on the hands", FromOn: day("2026-01-01"), UntilOn: &until},
		"until it is cleared, hands": {AvoidWrists: true, Action: "no weight on the hands", FromOn: day("2026-01-01")},
	} {
		s := aStage(t, 4)
		limit.ChildID = s.pupils[0].ID
		s.show.Limits = []postgres.KeptLimit{{CareLimit: limit}}
		r := s.placed1(t, 0)
		if r.Fit != LimitedFit || r.Chance != 0 || r.Offer == nil || r.Offer.Key != "" {
			t.Errorf("%s: %s, chance %v, offer %+v", name, r.Fit, r.Chance, r.Offer)
		}
		instead := "r3"
		s.show.Pieces[0].Swaps = []studio.PieceSwap{{ChildID: limit.ChildID, RungKey: "r4", InsteadKey: &instead}}
		if r = s.placed1(t, 0); r.Fit != LimitedFit || r.Swap == nil || r.Swap.Broken == "" {
			t.Errorf("%s: accepted before: %s, %+v", name, r.Fit, r.Swap)
		}
	}
	s := aStage(t, 4)
	cleared := time.Now()
	s.show.Limits = []postgres.KeptLimit{{CareLimit: studio.CareLimit{ChildID: s.pupils[0].ID, AvoidWrists: true, FromOn: day("2026-01-01"), ClearedAt: &cleared}}}
	if r := s.placed1(t, 0); r.Fit != ReadyFit {
		t.Errorf("a limit that was cleared: %s", r.Fit)
	}
}

// What was accepted counts while it is secure; standing in the picture always does.
func TestAcceptedSwaps(t *testing.T) {
	s := aStage(t, 3)
	s.rungs["r4"] = heavy(s.rungs["r4"])
	child := s.pupils[0].ID
	for instead, want := range map[string]Fit{"r3": SwappedFit, "": SwappedFit, "r5": NotYetFit} {
		swap := studio.PieceSwap{ChildID: child, RungKey: "r4"}
		if instead != "" {
			swap.InsteadKey = &instead
		}
		s.show.Pieces[0].Swaps = []studio.PieceSwap{swap}
		if r := s.placed1(t, 0); r.Fit != want || (r.Swap.Broken == "") != (want == SwappedFit) {
			t.Errorf("%q: %s, %+v", instead, r.Fit, r.Swap)
		}
	}
}

// Whom a piece needs: by hand, two are signed off on the day and one's ends before; a rung takes two, so one child at a time.
func TestAdultsOnStage(t *testing.T) {
	s := aStage(t, 4, 4)
	r := s.rungs["r4"]
	r.Spotting.People = 2
	s.rungs["r4"] = r
	for i := range s.Ladders[0].Rungs {
		s.Ladders[0].Rungs[i] = s.rungs[s.Ladders[0].Rungs[i].Key]
	}
	for i, until := range []string{"2026-12-31", "2026-03-07", "2026-03-06"} { // the showcase is on 7 March
		p := postgres.StagePerson{StaffID: numbered(200 + i), Name: string(rune('A' + i)), BirthDate: day("1990-01-01"), Here: true}
		s.show.People = append(s.show.People, p)
		s.show.SignOffs = append(s.show.SignOffs, studio.SignOff{StaffID: p.StaffID, RungKey: "r4", GrantedOn: day("2025-01-01"), ExpiresOn: day(until)})
	}
	v, err := s.view(s.show.Pieces[0])
	if err != nil {
		t.Fatal(err)
	}
	got := v.Spotting.Rungs[0]
	if got.AtOnce != 1 || got.Short || !slices.Equal(got.Own, []string{"A", "B"}) || !slices.Equal(got.Expires, []string{"C"}) || !slices.Equal(v.Spotting.Fewest, []string{"A", "B"}) {
		t.Errorf("%+v, fewest %v", got, v.Spotting.Fewest)
	}
	s.show.SignOffs = s.show.SignOffs[:1]
	if v, _ = s.view(s.show.Pieces[0]); !v.Spotting.Rungs[0].Short {
		t.Error("one of two who are needed is enough")
	}
}

// Odds by hand: three children with chances 1, 0.5 and 0 give one or two, half each; and a rung that a less likely one needs is not
// counted twice.
func TestOddsByHand(t *testing.T) {
	alone, together, err := counts(t.Context(), []float64{1, 0.5, 0}, 0.3)
	if err != nil || math.Abs(alone.Mean-1.5) > 1e-12 || math.Abs(alone.Chances[1]-0.5) > 1e-12 || math.Abs(together.Chances[1]-0.5) > 0.02 {
		t.Errorf("%+v, %+v, %v", alone, together, err)
	}
	s := aStage(t, 0)
	rungs := []ChildRung{{Key: "r4", Fit: LikelyFit, Chance: 0.6}, {Key: "r3", Fit: LikelyFit, Chance: 0.8}, {Key: "r1", Fit: SwappedFit}}
	if got := s.readyFor(PieceChild{Rungs: rungs}); math.Abs(got-0.6) > 1e-12 {
		t.Errorf("ready with %v, want 0.6: the fourth needs the third", got)
	}
}

// The range holds the chance.
func TestRangeHoldsTheChance(t *testing.T) {
	s := aStage(t, 3)
	child := s.pupils[0].ID
	s.pace.Present[child], s.pace.Noted[child] = 6, 8
	marks := []standing.Mark{{RungID: "r4", At: day("2026-01-02"), Lesson: "x", Outcome: standing.Clean}}
	for r := range 3 {
		for k := range 5 {
			marks = append(marks, standing.Mark{RungID: "r" + string(rune('1'+r)), At: day("2025-12-01").AddDate(0, 0, 3*k), Lesson: string(rune('a' + k)), Outcome: standing.Clean})
		}
	}
	var err error
	if s.boards[child], err = s.graph.Board(marks, standing.Defaults(), s.today); err != nil {
		t.Fatal(err)
	}
	r := s.placed1(t, 0)
	if !(r.Low < r.Chance && r.Chance < r.High) {
		t.Errorf("%v is not within %v to %v", r.Chance, r.Low, r.High)
	}
}
