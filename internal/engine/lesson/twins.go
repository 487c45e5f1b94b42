package lesson

import (
	"runtime"
	"sync"
)

// twin is a solver of the same problem, for another goroutine, that has found what s has.
func (s *solver) twin() *solver {
	t := *s
	t.prices = newPricer(s.p)
	t.crew = &staffer{p: s.p, prices: t.prices, sets: s.crew.sets, known: map[cellKey][]crew{}}
	t.ways, t.best = map[cellKey][]way{}, newLayout(s.p)
	return &t
}

// again makes a twin start where s is now.
func (s *solver) again(t *solver) {
	t.best.copyFrom(s.best)
	t.bestScore, t.found = s.bestScore, s.found
}

// apart does so many runs on all processors, each from where s is now, and keeps the best that any has found. The outcome
// does not depend on how many processors there are.
func (s *solver) apart(runs int, do func(t *solver, run int)) {
	ends := make([]*layout, runs)
	late := make([]bool, runs)
	workers := min(runs, runtime.GOMAXPROCS(0))
	var all sync.WaitGroup
	for w := range workers {
		all.Go(func() {
			t := s.twin()
			for run := w; run < runs && !t.late; run += workers {
				s.again(t)
				do(t, run)
				late[run] = t.late
				if t.found {
					ends[run] = newLayout(s.p)
					ends[run].copyFrom(t.best)
				}
			}
		})
	}
	all.Wait()
	for run, end := range ends {
		s.late = s.late || late[run]
		if end != nil {
			s.offer(end, s.p.score(end))
		}
	}
}
