package lesson

import (
	"context"
	"testing"
)

// What a group is worth at a station by class of crew must be what the pricing of single cells gives, and never less: the
// bound stands on it.
func TestWorthByClassOfCrewIsThatOfTheCell(t *testing.T) {
	for seed := range uint64(3) {
		for variety := 1; variety <= 3; variety++ {
			in := evening(seed, 7, 2, 2)
			in.MaxActivities = variety
			s := newSolver(context.Background(), newProblem(in))
			cols, ok := newColumns(s)
			if !ok {
				t.Fatal("no columns")
			}
			for i, set := range cols.sets {
				for st, d := range cols.stands {
					best := int64(-1)
					for k, class := range d.classes {
						worth := int64(cols.row(i)[d.offset+k])
						best = max(best, worth)
						for _, crew := range class.crews {
							if v := s.prices.cell(set, 0, st, crew); v.ok && v.worth > worth {
								t.Fatalf("seed %d: set %b at %d with %b is worth %d, its class %d", seed, set, st, crew, v.worth, worth)
							}
						}
					}
					if most := s.crew.most(set, 0, st); most != best {
						t.Fatalf("seed %d: set %b at %d is worth %d, by class %d", seed, set, st, most, best)
					}
				}
			}
		}
	}
}

// Two activities are priced by counting, more by keeping what nothing beats: both must come to the same.
func TestTwoWaysToPriceACellAgree(t *testing.T) {
	for seed := range uint64(4) {
		s := newSolver(context.Background(), newProblem(evening(seed, 7, 2, 2)))
		cols, _ := newColumns(s)
		for _, set := range cols.sets {
			for st, d := range cols.stands {
				var options [][]option
				for _, i := range members(set) {
					options = append(options, s.p.options[i][st])
				}
				for _, m := range d.mixes {
					for places := 1; places <= len(options); places++ {
						slow, quick := s.prices.roundsWorth(options, m.acts, places), int64(-1)
						if s.prices.duo.read(s.p, options, m.acts) {
							quick, _, _ = s.prices.duo.best(s.p.seconds, places)
						}
						if quick != slow {
							t.Fatalf("seed %d: set %b at %d, %v on %d places: %d by counting, %d by keeping", seed, set, st, m.acts, places, quick, slow)
						}
					}
				}
			}
		}
	}
}
