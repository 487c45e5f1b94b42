package pacing

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// term invents a term with every extra. Sizes are drawn up to those given; about one in three has no plan.
func term(seed uint64, weeks, rungs int) Problem {
	rng := rand.New(rand.NewPCG(seed, 30))
	p := Problem{Weeks: weeks}
	if rng.IntN(3) == 0 {
		p.Done = 1 + rng.IntN(max(1, weeks/3))
	}
	for w := 1; w <= weeks; w++ {
		switch rng.IntN(12) {
		case 0:
			p.Holidays = append(p.Holidays, w)
		case 1:
			p.Quiet = append(p.Quiet, w)
		}
	}
	for i := range rungs {
		p.Rungs = append(p.Rungs, drawRung(rng, p, i, rungs))
	}
	open := max(1, weeks-p.Done-len(p.Holidays)-len(p.Quiet))
	p.Limits.MaxNew = rungs/open + 1 + rng.IntN(2)
	if rng.IntN(4) == 0 {
		p.Limits.MinNew = rng.IntN(1 + rungs/weeks)
	}
	if rng.IntN(3) == 0 {
		p.Limits.MaxLoad = Load{New: 5 + 4*rungs/open, Back: 4 + 3*rungs/open}
	}
	if rng.IntN(4) == 0 {
		p.Limits.MinLoad.New = 1
	}
	p.Limits.Revisits = rng.IntN(4) / 3
	if rng.IntN(2) == 0 {
		p.Showcase = Showcase{Week: max(1, weeks-rng.IntN(3)), Revisits: rng.IntN(3)}
		for _, r := range p.Rungs {
			if rng.IntN(3) == 0 {
				p.Showcase.Rungs = append(p.Showcase.Rungs, r.ID)
			}
		}
	}
	if rng.IntN(3) == 0 {
		p.Weights = Load{1 + rng.IntN(3), 1 + rng.IntN(3), rng.IntN(3)}
	}
	return p
}

func drawRung(rng *rand.Rand, p Problem, i, rungs int) Rung {
	r := Rung{ID: fmt.Sprintf("r%02d", i), Name: fmt.Sprintf("Rung %d", i), Focus: rng.IntN(3) == 0,
		Load: Load{1 + rng.IntN(5), rng.IntN(4), rng.IntN(4)}}
	for j := range i {
		if rng.IntN(3+i) == 0 {
			r.Needs = append(r.Needs, Need{p.Rungs[j].ID, rng.IntN(3)})
		}
	}
	if len(r.Needs) > 3 {
		r.Needs = r.Needs[:3]
	}
	for range rng.IntN(3) {
		r.Again = append(r.Again, 1+rng.IntN(4))
	}
	r.AgainLoad = Load{rng.IntN(2), rng.IntN(2), rng.IntN(3)}
	switch rng.IntN(max(16, 2*rungs)) {
	case 0:
		r.Earliest = 1 + rng.IntN(p.Weeks)
	case 1:
		r.Latest = 1 + rng.IntN(p.Weeks)
	case 2:
		r.Pin = 1 + rng.IntN(p.Weeks)
	case 3, 4:
		if p.Done > 0 {
			r.Taught = 1 + rng.IntN(p.Done)
		}
	}
	return r
}

// courses invents a balanced curriculum without extras, like those of the published set: layers of courses, each needing
// a few of the layer before.
func courses(seed uint64, periods, number int) Problem {
	rng := rand.New(rand.NewPCG(seed, 31))
	p := Problem{Weeks: periods, Limits: Limits{MinNew: 2, MaxNew: max(10, number/periods+2), MinLoad: Load{New: 2}, MaxLoad: Load{New: 100}}}
	layer := 7 + rng.IntN(3)
	for i := range number {
		r := Rung{ID: fmt.Sprintf("c%02d", i), Load: Load{New: 1 + rng.IntN(10)}}
		for j := max(0, (i/layer-1)*layer); j < i/layer*layer; j++ {
			if rng.IntN(4) == 0 {
				r.Needs = append(r.Needs, Need{ID: p.Rungs[j].ID})
			}
		}
		p.Rungs = append(p.Rungs, r)
	}
	return p
}

func shuffled[T any](rng *rand.Rand, list []T) []T {
	out := slices.Clone(list)
	rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// ladderTerm invents a term as a studio has one: rungs in ladders of up to twelve, each needing the one below and now and then one
// of another ladder, loads of 0 to 3 a turn twice in the week in which a rung is new, each seen again one and three weeks later, a
// holiday, a showcase with a quiet week before it, and room for little more than there is to meet.
func ladderTerm(seed uint64, weeks, rungs int) Problem {
	rng := rand.New(rand.NewPCG(seed, 32))
	p := Problem{Weeks: weeks, Holidays: []int{weeks/2 + rng.IntN(3)}, Quiet: []int{weeks - 1}}
	p.Showcase = Showcase{Week: weeks - 1, Revisits: 1}
	if rng.IntN(3) == 0 {
		p.Done = 1 + rng.IntN(weeks/4)
	}
	below, height := -1, 0
	for i := range rungs {
		back, wrists := rng.IntN(4), rng.IntN(4)
		r := Rung{ID: fmt.Sprintf("r%03d", i), Load: Load{2 + rng.IntN(2), 2 * back, 2 * wrists}, Again: []int{1, 3}, AgainLoad: Load{1, back, wrists}}
		if height == 0 {
			below, height, r.Focus = -1, 2+rng.IntN(5), true
		}
		if below >= 0 {
			r.Needs = append(r.Needs, Need{ID: p.Rungs[below].ID, Lag: 1})
		}
		if i > 0 && rng.IntN(5) == 0 {
			if j := rng.IntN(i); j != below {
				r.Needs = append(r.Needs, Need{ID: p.Rungs[j].ID, Lag: 1})
			}
		}
		if r.Focus {
			p.Showcase.Rungs = append(p.Showcase.Rungs, r.ID)
		}
		if p.Done > 0 && below < 0 && rng.IntN(3) == 0 {
			r.Taught, r.Needs = 1+rng.IntN(p.Done), nil
		}
		p.Rungs = append(p.Rungs, r)
		below, height = i, height-1
	}
	p.Limits.MaxNew = rungs/(weeks-p.Done-2) + 2
	return p
}
