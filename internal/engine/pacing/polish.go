package pacing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// polish looks among the plans of the same peak for a smaller spread, among those for focus rungs that come sooner, and among
// those for fewer rungs moved.
func (s *solver) polish() {
	n := newNarrower(s.m, s.m.under(s.peak))
	if len(s.at) < 1 || len(s.m.weeks) < 2 {
		return
	}
	domain := slices.Clone(s.m.domain)
	if !n.narrow(domain) {
		return
	}
	b := newBoard(n, domain, rand.New(rand.NewPCG(s.seed, 1)))
	b.jump(s.at)
	steps := max(leastPolish, polishSteps*len(b.at))
	s.at = b.smooth(steps)
	if b.keeps() {
		s.at = b.stay(s.at, steps)
	}
}

// jump puts every rung into the given slot.
func (b *board) jump(at []int) {
	for i, s := range at {
		b.put(i, b.at[i], -1)
		b.at[i] = s
		b.put(i, s, 1)
	}
}

// smooth lowers spread, and lateness among equals, by annealing in a few rounds that each begin with the best so far, and
// returns the best slots it saw. While it is hot it may overstep limits; the best never does.
func (b *board) smooth(steps int) []int {
	best, least := b.rate(), b.leastRating()
	slots := slices.Clone(b.at)
	for range rounds {
		b.jump(slots)
		now, hot := best, 1+best.spread/8
		fine := hot / float64(b.factor[count]) // what an overstepped limit costs, in spread
		cooling := math.Pow(0.001, float64(rounds)/float64(steps))
		for range steps / rounds {
			if best == least {
				return slots
			}
			hot *= cooling
			st, ok := b.try()
			if !ok {
				continue
			}
			next := b.rate()
			if worse := next.over(now, fine); worse > 0 && b.rng.Float64() >= math.Exp(-worse/hot) {
				b.undo(st)
				continue
			}
			if now = next; now.better(best) {
				best, slots = now, slices.Clone(b.at)
			}
		}
	}
	return slots
}

// rating is what plans of one peak are compared by.
type rating struct {
	cost   int // what is overstepped
	spread float64
	late   int
	moved  int
}

// leastRating is a rating that none can be better than: loads as even as whole numbers can be.
func (b *board) leastRating() rating {
	out := rating{}
	for i := range b.at {
		if b.m.seen[i] != nil {
			return out
		}
		if b.m.rungs[i].Focus {
			out.late += b.m.weeks[first(b.domain[i])]
		}
	}
	for _, r := range b.balanced {
		slots := len(b.weighs[r])
		rest := 0
		for s, w := range b.weighs[r] {
			rest += w + b.m.base[r][s]
		}
		rest %= slots
		out.spread += float64(b.m.weight[r] * b.m.weight[r] * rest * (slots - rest))
	}
	return out
}

func (b *board) rate() rating { return rating{b.cost, b.spread(), b.late(), b.moved()} }

func (r rating) better(than rating) bool {
	return r.cost == 0 && cmp.Or(cmp.Compare(r.spread, than.spread), r.late-than.late, r.moved-than.moved) < 0
}

// over is how much worse a rating is than another, in spread. A week later counts little, and a rung moved less.
func (r rating) over(than rating, fine float64) float64 {
	return r.spread - than.spread + fine*float64(r.cost-than.cost) + float64(r.late-than.late)/lateShare + float64(r.moved-than.moved)/movedShare
}

// rounds is how often smooth heats up; a focus rung one week later costs one part in lateShare of the least spread, a rung moved one
// in movedShare.
const (
	rounds     = 4
	lateShare  = 8
	movedShare = 64
)

// spread is the number of slots times the sum of the squared weighted loads, less the square of their sum: the square of
// Plan.Spread times the square of the number of slots.
func (b *board) spread() float64 {
	total := 0.0
	for _, r := range b.balanced {
		sum, squares := 0, 0
		for s, w := range b.weighs[r] {
			w = b.m.weight[r] * (w + b.m.base[r][s])
			sum += w
			squares += w * w
		}
		total += float64(len(b.weighs[r]))*float64(squares) - float64(sum)*float64(sum)
	}
	return total
}

// late is the sum of the weeks of the focus rungs.
func (b *board) late() int {
	sum := 0
	for i, s := range b.at {
		if b.m.rungs[i].Focus {
			sum += b.m.weeks[s]
		}
	}
	return sum
}
