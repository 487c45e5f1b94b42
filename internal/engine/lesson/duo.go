package lesson

import (
	"cmp"
	"slices"
)

// side is what one child of a cell can do where at most two activities go on: the quicker, the slower, or either.
type side struct {
	quick, slow []int64 // worth by turns, nil when not open
}

// duo is a cell with one or two activities.
type duo struct {
	list                []side
	quick, slow         int // seconds of a turn
	onlyQuick, onlySlow int
}

// best is the most that the children are worth on so many places. How many of them are at the slower activity makes the
// clock; for each such number, those who gain most are there. slow, of those who can choose, and turns tell the best; worth
// is -1 for none.
func (c *duo) best(seconds, places int) (worth int64, slow, turns int) {
	worth = -1
	n := len(c.list)
	for j := c.onlySlow; j <= n-c.onlyQuick; j++ {
		longest := c.quick
		if j > 0 {
			longest = c.slow
		}
		k := cellClock(seconds, places, (n-j)*c.quick+j*c.slow, longest)
		if k == 0 {
			break
		}
		if w := c.worth(j-c.onlySlow, k); w > worth {
			worth, slow, turns = w, j-c.onlySlow, k
		}
	}
	return worth, slow, turns
}

// read looks up what each child can do of one or two activities, and reports whether everybody can do something.
func (c *duo) read(p *problem, options [][]option, acts []int) bool {
	a, b := p.quickerFirst(acts)
	*c = duo{list: c.list[:0], quick: p.acts[a].TurnSeconds, slow: p.acts[b].TurnSeconds}
	for _, list := range options {
		var s side
		for i := range list {
			switch list[i].act {
			case a:
				s.quick = list[i].worth
			case b:
				s.slow = list[i].worth
			}
		}
		switch {
		case s.quick == nil && s.slow == nil:
			return false
		case s.slow == nil:
			c.onlyQuick++
		case s.quick == nil:
			c.onlySlow++
		}
		c.list = append(c.list, s)
	}
	return true
}

// quickerFirst is the one or two activities, the one with shorter turns first.
func (p *problem) quickerFirst(acts []int) (quick, slow int) {
	a, b := acts[0], acts[len(acts)-1]
	if p.acts[a].TurnSeconds > p.acts[b].TurnSeconds {
		return b, a
	}
	return a, b
}

// worth is what the cell is worth with k turns when so many of those who can choose are at the slower activity.
func (c *duo) worth(slow, k int) int64 {
	var sum int64
	var top [maxChildren]int64
	n := 0
	for i := range c.list {
		s := &c.list[i]
		if s.quick == nil {
			sum += s.slow[k]
			continue
		}
		sum += s.quick[k]
		if s.slow == nil || slow == 0 {
			continue
		}
		more := s.slow[k] - s.quick[k]
		at := n
		for at > 0 && top[at-1] < more {
			at--
		}
		if at < slow {
			n = min(n+1, slow)
			copy(top[at+1:n], top[at:n-1])
			top[at] = more
		}
	}
	for _, more := range top[:n] {
		sum += more
	}
	return sum
}

// split lists what each child does in the best pair found.
func (c *duo) split(p *problem, acts []int, slow, k int, out []int) []int {
	a, b := p.quickerFirst(acts)
	var free []int
	for i, s := range c.list {
		if s.quick == nil {
			out = append(out, b)
			continue
		}
		out = append(out, a)
		if s.slow != nil {
			free = append(free, i)
		}
	}
	if slow == 0 {
		return out
	}
	more := func(i int) int64 { return c.list[i].slow[k] - c.list[i].quick[k] }
	slices.SortStableFunc(free, func(i, j int) int { return cmp.Compare(more(j), more(i)) })
	for _, i := range free[:slow] {
		out[i] = b
	}
	return out
}
