package pacing

import (
	"math"
	"math/rand/v2"
)

// board is a plan that is being changed step by step. Needs and domains always hold; limits may be overstepped, at a cost.
type board struct {
	m        *model
	n        *narrower // for its limits
	domain   []uint64
	at       []int            // slot of a rung
	weighs   [resources][]int // by slot
	factor   [resources]int   // what one too many or too few costs
	cost     int              // 0: every limit holds
	balanced []int            // loads that count in the spread
	rng      *rand.Rand
}

// newBoard gives every rung, in order, the slot of its domain that costs least. The domains must be narrowed.
func newBoard(n *narrower, domain []uint64, rng *rand.Rand) *board {
	b := &board{m: n.m, n: n, domain: domain, at: make([]int, len(domain)), rng: rng}
	heft := 0
	for i := range domain {
		heft += n.m.heft(i)
	}
	b.factor[count] = 1 + heft/max(1, len(domain))
	for r := 1; r < resources; r++ {
		b.factor[r] = max(1, n.m.weight[r])
	}
	for _, r := range n.active {
		if n.m.weight[r] > 0 {
			b.balanced = append(b.balanced, r)
		}
	}
	for r := range resources {
		b.weighs[r] = make([]int, len(n.m.weeks))
		for s := range b.weighs[r] {
			b.cost += b.fault(r, s)
		}
	}
	for _, i := range n.m.order {
		b.place(i)
	}
	return b
}

func (b *board) place(i int) {
	from := 0
	for _, t := range b.m.needs[i] {
		from = max(from, b.n.next[t.lag][b.at[t.rung]])
	}
	best, least := last(b.domain[i]), math.MaxInt
	for set := b.domain[i] &^ (1<<from - 1); set != 0; set &= set - 1 {
		s := first(set)
		b.put(i, s, 1)
		if full := b.cost*64 + b.weighs[count][s]; full < least {
			best, least = s, full
		}
		b.put(i, s, -1)
	}
	b.at[i] = best
	b.put(i, best, 1)
}

// fault is what a slot costs for a resource.
func (b *board) fault(r, s int) int {
	w := b.weighs[r][s]
	return b.factor[r] * (max(0, w-b.n.most[r][s]) + max(0, b.n.least[r][s]-w))
}

// put adds a rung that is new in a slot to what the slots weigh, or with sign -1 takes it out.
func (b *board) put(i, s, sign int) {
	for _, r := range b.n.active {
		b.change(r, s, sign*b.m.load[r][i])
		if b.m.seen[i] == nil {
			continue
		}
		for _, t := range b.m.seen[i][s] {
			b.change(r, t, sign*b.m.again[r][i])
		}
	}
}

func (b *board) change(r, s, by int) {
	if by == 0 {
		return
	}
	b.cost -= b.fault(r, s)
	b.weighs[r][s] += by
	b.cost += b.fault(r, s)
}

// legal reports whether a rung is in its domain and far enough from what it needs and what needs it.
func (b *board) legal(i int) bool {
	s := b.at[i]
	if b.domain[i]>>s&1 == 0 {
		return false
	}
	for _, t := range b.m.needs[i] {
		if b.n.next[t.lag][b.at[t.rung]] > s {
			return false
		}
	}
	for _, t := range b.m.after[i] {
		if b.n.next[t.lag][s] > b.at[t.rung] {
			return false
		}
	}
	return true
}

// step is a rung that moves and, unless it is the same, another that moves the other way.
type step struct{ i, j, from, to int }

// try draws a step and takes it when it is legal; most are swaps once the weeks are full.
func (b *board) try() (step, bool) {
	dice := b.rng.Uint64()
	i := part(dice, 1, len(b.at))
	st := step{i: i, j: i, from: b.at[i]}
	if dice&1 == 0 {
		st.j = part(dice, 22, len(b.at))
		st.to = b.at[st.j]
	} else {
		st.to = part(dice, 43, len(b.m.weeks))
	}
	if st.to == st.from || b.domain[i]>>st.to&1 == 0 {
		return st, false
	}
	return st, b.take(st)
}

// part makes a number below n, at most a few hundred, of 21 bits of a throw.
func part(dice uint64, from, n int) int { return int(dice >> from & (1<<21 - 1) * uint64(n) >> 21) }

func (st step) back() step { return step{st.i, st.j, st.to, st.from} }

func (b *board) shift(st step) {
	b.at[st.j] = st.from
	b.at[st.i] = st.to
}

func (b *board) weigh(st step) {
	b.put(st.i, st.from, -1)
	if st.j != st.i {
		b.put(st.j, st.to, -1)
		b.put(st.j, st.from, 1)
	}
	b.put(st.i, st.to, 1)
}

// undo takes a step back.
func (b *board) undo(st step) {
	b.shift(st.back())
	b.weigh(st.back())
}

// settle cools the board down until every limit holds or the steps are used up (simulated annealing), and reports whether
// all hold.
func (b *board) settle(steps int) bool {
	hot := 0.3 * float64(b.factor[count])
	cooling := math.Pow(0.05, 1/float64(max(1, steps)))
	for range steps {
		if b.cost == 0 {
			return true
		}
		before := b.cost
		st, ok := b.try()
		if ok && b.cost > before && b.rng.Float64() >= math.Exp(float64(before-b.cost)/hot) {
			b.undo(st)
		}
		hot *= cooling
	}
	return b.cost == 0
}
