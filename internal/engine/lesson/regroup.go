package lesson

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// Effort of regrouping.
const (
	regroupRuns  = 24
	regroupSteps = 40_000
	stillSteps   = 3000
	polishRuns   = 4
	polishSteps  = 4000
)

// regroup looks for partitions with little slack, by annealing, and for good layouts of each. A partition with little
// slack need not have a good layout, but one with much cannot.
type regroup struct {
	*solver
	rng   *rand.Rand
	slack map[uint64]int64
	sets  []uint64
	sum   int64
}

// regroups starts from the best layout so far, many times.
func (s *solver) regroups(cols *columns) {
	slack := cols.slacks()
	s.apart(regroupRuns, func(t *solver, run int) {
		r := &regroup{solver: t, rng: t.dice(1000 + run), slack: slack, sets: slices.Clone(t.best.sets)}
		if r.begin() {
			r.anneal(regroupSteps)
			r.layOut()
		}
	})
	s.apart(polishRuns, func(t *solver, run int) { t.polish(t.dice(2000 + run)) })
}

// slacks is the slack of every column that a better plan could have.
func (c *columns) slacks() map[uint64]int64 {
	out := make(map[uint64]int64, len(c.sets))
	for _, list := range c.first {
		for _, col := range list {
			out[col.set] = col.slack
		}
	}
	return out
}

// begin adds up the slack of the groups. It reports false when a group is none that a better plan could have.
func (r *regroup) begin() bool {
	for _, set := range r.sets {
		slack, known := r.slack[set]
		if !known {
			return false
		}
		r.sum += slack
	}
	return r.p.groups > 1
}

// anneal exchanges children between groups and keeps the partition with the least slack that it meets.
func (r *regroup) anneal(steps int) {
	best, least := slices.Clone(r.sets), r.sum
	start := 2 * float64(r.bestScore.worth) / 100 / float64(r.p.groups)
	for step := range steps {
		if r.stopped() {
			return
		}
		heat := start * math.Pow(0.01, float64(step)/float64(steps))
		if r.exchange(heat) && r.sum < least {
			copy(best, r.sets)
			least = r.sum
		}
	}
	r.sets, r.sum = best, least
}

// exchange moves a child, with those who stay together, to another group, mostly against another.
func (r *regroup) exchange(heat float64) bool {
	i := r.rng.IntN(r.p.n)
	j := r.rng.IntN(r.p.n)
	from, to := r.groupOf(i), r.groupOf(j)
	if from == to {
		return false
	}
	out, back := r.p.together[i], r.p.together[j]
	if r.rng.IntN(6) == 0 {
		back = 0
	}
	a, b := r.sets[from]&^out|back, r.sets[to]&^back|out
	slackA, okA := r.slack[a]
	slackB, okB := r.slack[b]
	if !okA || !okB || r.p.labelled && !(r.p.mayBe(a, from) && r.p.mayBe(b, to)) {
		return false
	}
	more := slackA + slackB - r.slack[r.sets[from]] - r.slack[r.sets[to]]
	if more > 0 && r.rng.Float64() >= math.Exp(-float64(more)/heat) {
		return false
	}
	r.sets[from], r.sets[to] = a, b
	r.sum += more
	return true
}

func (r *regroup) groupOf(child int) int {
	for g, set := range r.sets {
		if set>>child&1 == 1 {
			return g
		}
	}
	return none
}

// layOut looks for a good layout of the partition.
func (r *regroup) layOut() {
	c := &climb{solver: r.solver, rng: r.rng, l: newLayout(r.p), next: newLayout(r.p), warmth: 1, still: true}
	for g, set := range r.sets {
		for m := set; m != 0; m &= m - 1 {
			c.l.put(bits.TrailingZeros64(m), g)
		}
	}
	if !r.route(c.l, r.rng) {
		return
	}
	c.score = r.p.score(c.l)
	c.offer(c.l, c.score)
	c.run(stillSteps)
}

// polish climbs from the best layout once more, without forgetting it.
func (s *solver) polish(rng *rand.Rand) {
	c := &climb{solver: s, rng: rng, l: newLayout(s.p), next: newLayout(s.p), warmth: 0.2}
	c.l.copyFrom(s.best)
	c.score = s.bestScore
	c.run(polishSteps)
}
