package lesson

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"rungbook/internal/engine/load"
)

// hall is a small lesson that can be worked out by hand: four children in two groups, two stations, two rotations of
// 120 seconds, two adults who may both spot and lead, one of whom must be free.
func hall() Input {
	in := Input{Rotations: 2, WorkSeconds: 120, Groups: 2, TurnFloor: 2, AdultsFreeNeeded: 1, Learn: 0.5, Budget: time.Minute,
		Stations: []Station{{"roll", "Rolls"}, {"arch", "Arches"}},
		Activities: []Activity{
			{ID: "roll-1", Name: "Rocking", TurnSeconds: 10, Equipment: []Need{{"mat", 1, 1}}},
			{ID: "arch-1", Name: "Bridge", TurnSeconds: 20, Load: load.Load{Back: 2}, SpottersNeeded: 1},
			{ID: "arch-2", Name: "Shoulder push", TurnSeconds: 20, Load: load.Load{Back: 1}},
		},
		Staff: []Staff{{ID: "Ida", Adult: true, MaySpot: true, CanLead: true, SignedOff: []string{"arch-1"}}, {ID: "Joe", Adult: true, MaySpot: true, CanLead: true}},
		Stock: []Stock{{"mat", "mats", 1}},
	}
	for _, id := range []string{"a", "b", "c", "d"} {
		in.Children = append(in.Children, Child{ID: id, Caps: load.Load{Back: 20, Wrists: 20, Landing: 20},
			Options: []Option{{"roll-1", "roll", 1}, {"arch-1", "arch", 3}, {"arch-2", "arch", 1}}})
	}
	return in
}

// By hand: at the rolls one place, two children of 10 s, 120*1/20 = 6 turns each; at the arches one spotter, two children
// of 20 s, 120*1/40 = 3 turns each. Worth of a child: 1*(1-0.5^6) + 3*(1-0.5^3) = 0.984375 + 2.625. Waiting: half of the
// time at both. Formula of the project (no published source).
func TestHandWorkedLesson(t *testing.T) {
	res, err := Propose(context.Background(), hall())
	if err != nil {
		t.Fatal(err)
	}
	if want := 4 * (0.984375 + 2.625); res.Plan.Worth != want || res.Bound != want || !res.Optimal || res.Words != "No better plan exists." {
		t.Errorf("worth %v bound %v optimal %v (%s), want %v proven", res.Plan.Worth, res.Bound, res.Optimal, res.Words, want)
	}
	if res.Plan.Wait != 0.5 || res.Plan.Short != 0 {
		t.Errorf("wait %v short %d, want 0.5 and 0", res.Plan.Wait, res.Plan.Short)
	}
	for _, cell := range res.Plan.Cells {
		if want := map[string]int{"roll": 6, "arch": 3}[cell.StationID]; cell.Turns != want || cell.Places != 1 {
			t.Errorf("%s: %d turns on %d places, want %d on 1", cell.StationID, cell.Turns, cell.Places, want)
		}
	}
}

func TestCheckNamesTheRuleThatIsBroken(t *testing.T) {
	cell := func(p *Plan, rotation int, station string) *Cell {
		i := slices.IndexFunc(p.Cells, func(c Cell) bool { return c.Rotation == rotation && c.StationID == station })
		return &p.Cells[i]
	}
	for _, c := range []struct {
		rule  Rule
		spoil func(*Input, *Plan)
	}{
		{RuleShape, func(_ *Input, p *Plan) { p.Cells = p.Cells[1:] }},
		{RuleShape, func(_ *Input, p *Plan) { p.Groups[0] = append(p.Groups[0], p.Groups[1][0]) }},
		{RuleShape, func(_ *Input, p *Plan) { p.Cells[0].Entries[0].ActivityID = "nothing" }},
		{RuleGroupSize, func(in *Input, _ *Plan) { in.GroupMin, in.GroupMax = 3, 4 }},
		{RuleTogether, func(in *Input, p *Plan) { in.KeepTogether = []Pair{{p.Groups[0][0], p.Groups[1][0]}} }},
		{RuleApart, func(in *Input, p *Plan) { in.KeepApart = []Pair{{p.Groups[0][0], p.Groups[0][1]}} }},
		{RuleStation, func(_ *Input, p *Plan) { p.Cells[1].StationID = p.Cells[0].StationID }},
		{RuleStation, func(in *Input, _ *Plan) { in.MaxStations = 1 }},
		{RuleEligible, func(in *Input, _ *Plan) { in.Children[0].Options = in.Children[0].Options[1:] }},
		{RuleCare, func(in *Input, _ *Plan) { in.Children[0].AvoidBack = true }},
		{RuleLoad, func(in *Input, _ *Plan) { in.Children[0].Caps.Back = 5 }},
		{RuleHardInRow, func(in *Input, _ *Plan) { in.HardFrom = 1; in.Activities[0].Load.Back = 1 }},
		{RuleTurn, func(_ *Input, p *Plan) { cell(p, 1, "roll").Entries[0].Turns = 7 }},
		{RuleTurn, func(_ *Input, p *Plan) { cell(p, 1, "roll").Entries[0].Turns = 0 }},
		{RuleTurn, func(in *Input, _ *Plan) { in.WorkSeconds = 119 }},
		{RuleActivities, func(in *Input, p *Plan) { in.MaxActivities = 1; cell(p, 1, "arch").Entries[0].ActivityID = "arch-2" }},
		{RuleEquipment, func(in *Input, _ *Plan) { in.Stock[0].Count = 0 }},
		{RuleSpotting, func(_ *Input, p *Plan) { cell(p, 1, "arch").Spotters = []string{"Joe"} }},
		{RuleSpotting, func(_ *Input, p *Plan) { cell(p, 1, "arch").Spotters = nil }},
		{RuleSpotting, func(in *Input, _ *Plan) { in.Staff[0].MaySpot = false }},
		{RuleLead, func(_ *Input, p *Plan) { cell(p, 2, "roll").Lead = "" }},
		{RuleLead, func(in *Input, _ *Plan) { in.Staff[1].CanLead = false }},
		{RuleTwoPlaces, func(_ *Input, p *Plan) { cell(p, 1, "roll").Lead = "Ida" }},
		{RuleSupervision, func(in *Input, _ *Plan) { in.AdultsFreeNeeded = 2 }},
		{RuleSupervision, func(in *Input, _ *Plan) { in.AdultsFreeNeeded = 0; in.Staff[1].Adult = false }},
		{RulePin, func(in *Input, p *Plan) { in.Pins.Groups = []GroupPin{{p.Groups[0][0], 2}} }},
		{RulePin, func(in *Input, p *Plan) {
			in.Pins.Activities = []ActivityPin{{cell(p, 1, "arch").Rotation, cell(p, 1, "arch").Entries[0].ChildID, "arch-2"}}
		}},
		{RulePin, func(in *Input, _ *Plan) { in.Pins.Duties = []DutyPin{{1, "Joe", "arch", LeadDuty}} }},
	} {
		in := hall()
		res, err := Propose(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		if found := Check(in, res.Plan); len(found) > 0 {
			t.Fatalf("before anything is spoilt: %+v", found)
		}
		c.spoil(&in, &res.Plan)
		found := Check(in, res.Plan)
		if !slices.ContainsFunc(found, func(b Breach) bool { return b.Rule == c.rule && b.Sentence != "" }) {
			t.Errorf("%s is not named: %+v", c.rule, found)
		}
	}
}

func TestProposeRefusesNonsense(t *testing.T) {
	for field, spoil := range map[string]func(*Input){
		"Rotations": func(in *Input) { in.Rotations = 0 }, "WorkSeconds": func(in *Input) { in.WorkSeconds = 5 },
		"Learn": func(in *Input) { in.Learn = 1 }, "GroupMin": func(in *Input) { in.GroupMin, in.GroupMax = 3, 2 },
		"Children": func(in *Input) { in.Children[1].ID = "a" }, "Children[a].Options": func(in *Input) { in.Children[0].Options[0].Priority = -1 },
		"Activities[arch-1].Load": func(in *Input) { in.Activities[1].Load.Back = 4 }, "KeepApart": func(in *Input) { in.KeepApart = []Pair{{"a", "z"}} },
		"Pins.Duties": func(in *Input) { in.Pins.Duties = []DutyPin{{1, "Ida", "arch", "watch"}} },
	} {
		in := hall()
		spoil(&in)
		_, err := Propose(context.Background(), in)
		var bad *InputError
		if !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("%s: got %v", field, err)
		}
	}
}

func TestInfeasibleNamesWhatIsInTheWay(t *testing.T) {
	for _, c := range []struct {
		rules []Rule
		spoil func(*Input)
	}{
		{[]Rule{RuleSupervision}, func(in *Input) { in.AdultsFreeNeeded = 3 }},
		{[]Rule{RuleLead}, func(in *Input) { in.Staff[0].CanLead = false }},
		{[]Rule{RuleStation}, func(in *Input) { in.Rotations = 3 }},
		{[]Rule{RuleGroupSize}, func(in *Input) { in.GroupMin, in.GroupMax = 3, 3 }},
		{[]Rule{RuleEligible}, func(in *Input) { in.Children[2].Options = in.Children[2].Options[:1] }},
		{[]Rule{RuleTogether, RuleApart}, func(in *Input) {
			in.KeepTogether = []Pair{{"a", "b"}, {"b", "c"}}
			in.KeepApart = []Pair{{"a", "c"}}
			in.GroupMin, in.GroupMax = 1, 3
		}},
		{[]Rule{RuleHardInRow}, func(in *Input) { in.HardFrom = 1; in.Activities[0].Load.Back = 1 }},
		{[]Rule{RuleEquipment}, func(in *Input) {
			in.Activities[1].Equipment = in.Activities[0].Equipment
			in.Activities[2].Equipment = in.Activities[0].Equipment
		}},
		{[]Rule{RuleGroupSize, RuleApart}, func(in *Input) { in.KeepApart = []Pair{{"a", "b"}, {"a", "c"}, {"a", "d"}} }},
	} {
		in := hall()
		c.spoil(&in)
		_, err := Propose(context.Background(), in)
		var none *Infeasible
		if !errors.As(err, &none) || !none.Proven {
			t.Errorf("%v: got %v", c.rules, err)
			continue
		}
		var named []Rule
		for _, conflict := range none.Conflicts {
			named = append(named, conflict.Rule)
			if conflict.Words == "" || len(conflict.WaysOut) == 0 {
				t.Errorf("%v: a conflict without words or a way out: %+v", c.rules, conflict)
			}
		}
		if !slices.Equal(named, c.rules) {
			t.Errorf("named %v, want %v", named, c.rules)
		}
	}
}

func TestWhyNotNamesTheRuleOrTheCost(t *testing.T) {
	in := hall()
	in.Children[0].AvoidBack = true
	in.Children[0].Options = append(in.Children[0].Options, Option{"arch-0", "arch", 1})
	in.Activities = append(in.Activities, Activity{ID: "arch-0", Name: "Cat", TurnSeconds: 20})
	res, err := Propose(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][3]string{
		{"a", "arch-1", "A care limit of a rules out Bridge."},
		{"b", "arch-0", "Cat is not open for b yet."},
		{"b", "roll-1", "b does work at Rocking in this plan."},
	} {
		if got, err := WhyNot(in, res.Plan, c[0], c[1]); err != nil || got != c[2] {
			t.Errorf("WhyNot(%s, %s) = %q, %v; want %q", c[0], c[1], got, err, c[2])
		}
	}
	loss, err := WithoutHelper(context.Background(), hall(), "Joe")
	if err != nil || loss.Possible {
		t.Errorf("without Joe nobody is left to watch while Ida spots and one station has no lead: %+v, %v", loss, err)
	}
	in = hall()
	in.StationsPerLead = 2
	loss, err = WithoutHelper(context.Background(), in, "Ida")
	// Without Ida nobody spots the bridge: every child does the shoulder push, two at once, 120*2/40 = 6 turns of priority 1.
	if want := 4 * (2.625 - 0.984375); err != nil || !loss.Possible || loss.Worth < want-1e-6 || loss.Worth > want+1e-6 {
		t.Errorf("without Ida: %+v, %v; want a loss of %g", loss, err, want)
	}
}
