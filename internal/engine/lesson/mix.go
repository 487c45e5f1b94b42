package lesson

import "math/bits"

// mix is a choice of activities of one cell. Where there are one or two, it holds what the quicker and the slower are worth.
type mix struct {
	acts        []int
	open        uint64 // children who may do one of them
	quick, slow table
}

// table is what an activity is worth by turns, then child: -1 where it is not open.
type table struct {
	seconds int // of a turn
	open    uint64
	worth   [][]int64
}

func newTable(p *problem, st, act int, open uint64) table {
	t := table{seconds: p.acts[act].TurnSeconds, open: open}
	for range p.seconds/t.seconds + 1 {
		row := make([]int64, p.n)
		for i := range row {
			row[i] = -1
		}
		t.worth = append(t.worth, row)
	}
	for i := range p.n {
		for _, o := range p.options[i][st] {
			for k := 0; o.act == act && k < len(o.worth); k++ {
				t.worth[k][i] = o.worth[k]
			}
		}
	}
	return t
}

// setTables fills in the tables of the mixes.
func (d *stand) setTables(p *problem, st int, open []uint64) {
	tables := make([]table, len(open))
	for act := range open {
		if open[act] != 0 {
			tables[act] = newTable(p, st, act, open[act])
		}
	}
	for i := range d.mixes {
		m := &d.mixes[i]
		if len(m.acts) > 2 {
			continue
		}
		a, b := p.quickerFirst(m.acts)
		m.quick = tables[a]
		if a != b {
			m.slow = tables[b]
		}
	}
}

// best is what duo.best gives, for children who can all do something of the mix, and by tables: for very many groups. room is for a
// number for each child.
func (m *mix) best(seconds, places int, set uint64, kids []int, room []int64) int64 {
	n, best := len(kids), int64(-1)
	onlyQuick, onlySlow := bits.OnesCount64(set&^m.slow.open), bits.OnesCount64(set&^m.quick.open)
	for j := onlySlow; j <= n-onlyQuick; j++ {
		longest := m.quick.seconds
		if j > 0 {
			longest = m.slow.seconds
		}
		k := cellClock(seconds, places, (n-j)*m.quick.seconds+j*m.slow.seconds, longest)
		if k == 0 {
			break
		}
		best = max(best, m.worthOf(kids, j, onlySlow, k, room))
	}
	return best
}

// worthOf is what children are worth with k turns when j of them are at the slower activity, of whom so many can do
// nothing else: the others are those who gain most.
func (m *mix) worthOf(kids []int, j, onlySlow, k int, top []int64) int64 {
	var sum int64
	quick := m.quick.worth[k]
	if j == 0 {
		for _, i := range kids {
			sum += quick[i]
		}
		return sum
	}
	slow, free, n := m.slow.worth[k], j-onlySlow, 0
	for _, i := range kids {
		q, s := quick[i], slow[i]
		if q < 0 {
			sum += s
			continue
		}
		sum += q
		if s < 0 || free == 0 {
			continue
		}
		at := n
		for ; at > 0 && top[at-1] < s-q; at-- {
			if at < free {
				top[at] = top[at-1]
			}
		}
		if at < free {
			top[at] = s - q
			n = min(n+1, free)
		}
	}
	for _, more := range top[:n] {
		sum += more
	}
	return sum
}
