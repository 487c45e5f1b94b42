package lesson

import (
	"fmt"
	"math/rand/v2"

	"rungbook/internal/engine/load"
)

// evening makes an invented lesson: ladders of five rungs, children at different places on each, helpers with sign-offs.
// The higher rungs need a spotter. Every child has two rungs and a drill open on each ladder.
func evening(seed uint64, children, stations, rotations int) Input {
	rng := rand.New(rand.NewPCG(seed, 7))
	in := Input{Seed: int64(seed), Rotations: rotations, WorkSeconds: 480, Groups: stations, TurnFloor: 6, AdultsFreeNeeded: 2,
		Stock: []Stock{{Key: "mat", Name: "mats", Count: 2*stations + 2}, {Key: "wedge", Name: "wedges", Count: 2}}}
	var all []string
	for s := range stations {
		st := fmt.Sprintf("ladder-%d", s)
		in.Stations = append(in.Stations, Station{ID: st})
		for rung := range 5 {
			a := Activity{ID: fmt.Sprintf("%s-rung-%d", st, rung), TurnSeconds: 15 + 5*rng.IntN(5), SpottersNeeded: rung / 3,
				Load: load.Load{Back: rng.IntN(2) * rng.IntN(3), Wrists: rng.IntN(3) * rng.IntN(2)}, TwoSided: rng.IntN(2) == 0,
				Equipment: []Need{{Key: "mat", Count: 2, Places: 3}}}
			if rung == 1 {
				a.Equipment = append(a.Equipment, Need{Key: "wedge", Count: 1, Places: 2})
			}
			in.Activities, all = append(in.Activities, a), append(all, a.ID)
		}
		in.Activities = append(in.Activities, Activity{ID: st + "-drill", TurnSeconds: 20, Equipment: []Need{{Key: "mat", Count: 2, Places: 4}}})
	}
	for c := range children {
		child := Child{ID: fmt.Sprintf("child-%02d", c), Caps: load.Load{Back: 40, Wrists: 60, Landing: 60}}
		for s := range stations {
			st, at := fmt.Sprintf("ladder-%d", s), rng.IntN(5)
			prio := 1 + 4*rng.Float64()
			child.Options = append(child.Options, Option{fmt.Sprintf("%s-rung-%d", st, at), st, prio}, Option{st + "-drill", st, 0.5})
			if at > 0 {
				child.Options = append(child.Options, Option{fmt.Sprintf("%s-rung-%d", st, at-1), st, prio * 0.6})
			}
		}
		in.Children = append(in.Children, child)
	}
	for w := range stations + 1 {
		s := Staff{ID: fmt.Sprintf("staff-%d", w), Adult: w%3 != 2, MaySpot: w%3 != 2, CanLead: true}
		for _, id := range all {
			if rng.IntN(3) > 0 {
				s.SignedOff = append(s.SignedOff, id)
			}
		}
		in.Staff = append(in.Staff, s)
	}
	return in
}
