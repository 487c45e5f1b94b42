package pacing

import "slices"

// keeps reports whether there is a plan to stay near to.
func (b *board) keeps() bool {
	return slices.ContainsFunc(b.m.rungs, func(r Rung) bool { return r.Was > 0 })
}

// moved counts the rungs that have another week than in the plan there is.
func (b *board) moved() int {
	n := 0
	for i, s := range b.at {
		if was := b.m.rungs[i].Was; was > 0 && was != b.m.weeks[s] {
			n++
		}
	}
	return n
}

// stay looks for a plan as good as the given one, or better, that moves fewer rungs: it evens out once more, beginning from the plan
// there is as far as that may stay, and then puts rungs back one by one, alone or in exchange, while nothing gets worse.
func (b *board) stay(at []int, steps int) []int {
	b.jump(at)
	best := b.rate()
	for i := range b.at {
		b.putBack(i, func() bool { return b.cost == 0 })
	}
	other := b.smooth(steps)
	b.jump(other)
	if b.rate().better(best) {
		at = other
	}
	b.jump(at)
	for changed := true; changed; {
		changed = false
		for i := range b.at {
			before := b.rate()
			changed = b.putBack(i, func() bool { return b.rate().better(before) }) || changed
		}
	}
	return slices.Clone(b.at)
}

// putBack tries the week that a rung has in the plan there is, alone and in exchange with each rung in that week, takes the first
// that is good, and reports whether one was.
func (b *board) putBack(i int, good func() bool) bool {
	to := slices.Index(b.m.weeks, b.m.rungs[i].Was)
	if to < 0 || to == b.at[i] {
		return false
	}
	for j := range b.at {
		if j != i && b.at[j] != to {
			continue
		}
		st := step{i, j, b.at[i], to}
		if !b.take(st) {
			continue
		}
		if good() {
			return true
		}
		b.undo(st)
	}
	return false
}

// take makes a step when it is legal.
func (b *board) take(st step) bool {
	b.shift(st)
	if !b.legal(st.i) || !b.legal(st.j) {
		b.shift(st.back())
		return false
	}
	b.weigh(st)
	return true
}
