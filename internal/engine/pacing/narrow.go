package pacing

import (
	"math/bits"
	"slices"
)

// narrower shrinks the slots that rungs may have to those that the rules leave, under one set of limits.
//
// For every run of slots it adds up what must fall inside (the energy of the run) and holds it against what the run can
// take; a rung that would not fit any more is kept out, and one without which a slot gets too little is put in.
type narrower struct {
	m           *model
	after       [][]tie // also ties that only break symmetry
	needs       [][]tie
	next, prev  [][]int          // by lag and slot: see model.from and model.upTo
	most        [resources][]int // by slot
	least       [resources][]int // by slot
	room        [resources][]int // most, summed up to a slot
	floor       [resources][]int // least, summed up to a slot
	active      []int            // resources that can bind
	plain       [resources][]int // rungs without load of their own later, greatest load first
	heavy       []int            // the others
	first, last []int            // by rung, when narrow last looked
	energy      []int            // scratch: by first slot and last slot
	weighs      [resources]int   // load of all plain rungs
	prices      *prices          // nil until findPrices was asked
	brief       bool             // rungs with load of their own later count in single slots only: prices do the rest
}

func newNarrower(m *model, most [resources][]int) *narrower {
	n := &narrower{m: m, after: slices.Clone(m.after), needs: slices.Clone(m.needs), most: most, least: m.least,
		first: make([]int, len(m.rungs)), last: make([]int, len(m.rungs)),
		energy: make([]int, (len(m.weeks)+1)*(len(m.weeks)+1))}
	n.addLags()
	for i := range m.rungs {
		if m.seen[i] != nil {
			n.heavy = append(n.heavy, i)
		}
	}
	for r := range resources {
		n.room[r], n.floor[r] = sums(most[r]), sums(n.least[r])
		if n.binds(r) {
			n.active = append(n.active, r)
		}
		for i := range m.rungs {
			if m.seen[i] == nil && m.load[r][i] > 0 {
				n.plain[r] = append(n.plain[r], i)
				n.weighs[r] += m.load[r][i]
			}
		}
		slices.SortStableFunc(n.plain[r], func(i, j int) int { return m.load[r][j] - m.load[r][i] })
	}
	return n
}

// binds reports whether a resource has a limit that could be overstepped.
func (n *narrower) binds(r int) bool {
	least, most, loads := slices.Max(append([]int{0}, n.least[r]...)), slices.Min(append([]int{endless}, n.most[r]...)), 0
	for i := range n.m.rungs {
		loads += n.m.load[r][i] + n.m.again[r][i]
	}
	return least > 0 || most < 0 || most < endless && loads > 0
}

func sums(list []int) []int {
	out := make([]int, len(list)+1)
	for i, v := range list {
		out[i+1] = out[i] + v
	}
	return out
}

func (n *narrower) addLags() {
	longest := 0
	for _, ties := range n.needs {
		for _, t := range ties {
			longest = max(longest, t.lag)
		}
	}
	n.next, n.prev = make([][]int, longest+1), make([][]int, longest+1)
	for lag := range n.next {
		for s := range n.m.weeks {
			n.next[lag] = append(n.next[lag], n.m.from(s, lag))
			n.prev[lag] = append(n.prev[lag], n.m.upTo(s, lag))
		}
	}
}

// narrow shrinks the domains in place and reports whether every rung still has a slot.
func (n *narrower) narrow(d []uint64) bool {
	for {
		if !n.keepOrder(d) {
			return false
		}
		changed := false
		for _, r := range n.active {
			ok, some := n.keepRoom(d, r)
			if !ok {
				return false
			}
			if ok, more := n.fill(d, r); !ok {
				return false
			} else if some || more {
				changed = true
			}
		}
		if !changed && n.prices != nil {
			ok, some := n.prices.keepCheap(d)
			if !ok {
				return false
			}
			changed = some
		}
		if !changed {
			return true
		}
	}
}

// keepOrder applies the needs forwards and backwards.
func (n *narrower) keepOrder(d []uint64) bool {
	order := n.m.order
	for again := true; again; {
		again = false
		for _, i := range order {
			if d[i] == 0 {
				return false
			}
			for _, t := range n.after[i] {
				from := n.next[t.lag][first(d[i])]
				if cut := d[t.rung] &^ (1<<from - 1); cut != d[t.rung] {
					d[t.rung] = cut
					again = true
					if cut == 0 {
						return false
					}
				}
			}
		}
		for at := len(order) - 1; at >= 0; at-- {
			i := order[at]
			if d[i] == 0 {
				return false
			}
			for _, t := range n.needs[i] {
				to := n.prev[t.lag][last(d[i])]
				if cut := d[t.rung] & (1<<(to+1) - 1); cut != d[t.rung] {
					d[t.rung] = cut
					again = true
					if cut == 0 {
						return false
					}
				}
			}
		}
	}
	for i := range d {
		n.first[i], n.last[i] = first(d[i]), last(d[i])
	}
	return true
}

// keepRoom holds the energy of every run of slots against its room.
func (n *narrower) keepRoom(d []uint64, r int) (ok, changed bool) {
	slots := len(n.m.weeks)
	n.measure(d, r)
	for a := range slots {
		for b := a; b < slots; b++ {
			spare := n.room[r][b+1] - n.room[r][a] - n.energy[a*slots+b]
			if spare < 0 {
				return false, true
			}
			if spare > endless/2 {
				continue
			}
			ok, cut := n.keepOut(d, r, a, b, spare)
			if !ok {
				return false, true
			}
			changed = changed || cut
		}
	}
	return true, changed
}

// measure adds up what must fall into every run of slots.
func (n *narrower) measure(d []uint64, r int) {
	slots, load := len(n.m.weeks), n.m.load[r]
	clear(n.energy[:slots*slots])
	for _, i := range n.plain[r] {
		n.energy[n.first[i]*slots+n.last[i]] += load[i]
	}
	for a := slots - 1; a >= 0; a-- {
		inRow := 0
		for b := a; b < slots; b++ {
			inRow += n.energy[a*slots+b]
			n.energy[a*slots+b] = inRow
			if a+1 <= b {
				n.energy[a*slots+b] += n.energy[(a+1)*slots+b]
			}
		}
	}
	for _, i := range n.heavy {
		if n.m.load[r][i] == 0 && n.m.again[r][i] == 0 {
			continue
		}
		for a := range slots {
			for b := a; b < n.widest(a); b++ {
				n.energy[a*slots+b] += n.must(d, r, i, a, b)
			}
		}
	}
}

// widest is the slot after the last run from a that rungs with load of their own later are counted in.
func (n *narrower) widest(a int) int {
	if n.brief {
		return a + 1
	}
	return len(n.m.weeks)
}

// must is the least that a rung with load of its own later can put into a run of slots.
func (n *narrower) must(d []uint64, r, i, a, b int) int {
	least := endless
	for set := d[i]; set != 0; set &= set - 1 {
		if least = min(least, n.puts(r, i, first(set), a, b)); least == 0 {
			break
		}
	}
	return least
}

// puts is what a rung with load of its own later puts into a run of slots when it is new in slot s.
func (n *narrower) puts(r, i, s, a, b int) int {
	row := n.m.inside[r][i][s*(len(n.m.weeks)+1):]
	return row[b+1] - row[a]
}

// keepOut takes the slots of a run from the rungs that would not fit into what it has to spare.
func (n *narrower) keepOut(d []uint64, r, a, b, spare int) (ok, changed bool) {
	inside := span(a, b)
	for _, i := range n.plain[r] {
		if n.m.load[r][i] <= spare {
			break
		}
		if n.first[i] >= a && n.last[i] <= b || d[i]&inside == 0 {
			continue
		}
		if d[i] &^= inside; d[i] == 0 {
			return false, true
		}
		changed = true
	}
	if b >= n.widest(a) {
		return true, changed
	}
	for _, i := range n.heavy {
		if n.m.load[r][i]+n.m.again[r][i]*len(n.m.rungs[i].Again) <= spare {
			continue
		}
		must := n.must(d, r, i, a, b)
		for set := d[i]; set != 0; set &= set - 1 {
			if s := first(set); n.puts(r, i, s, a, b)-must > spare {
				d[i] &^= 1 << s
				changed = true
			}
		}
		if d[i] == 0 {
			return false, true
		}
	}
	return true, changed
}

// fixed reports whether every rung has one slot left.
func fixed(d []uint64) bool {
	return !slices.ContainsFunc(d, func(set uint64) bool { return bits.OnesCount64(set) != 1 })
}
