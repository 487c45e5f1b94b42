package pacing

// breakSymmetry lets of two rungs that weigh the same and of which the first is the freer one only the first come first.
// Wherever they are the other way round, swapping them gives a plan that is as good; so no peak is lost.
func (n *narrower) breakSymmetry() {
	for i := range n.m.rungs {
		for j := range n.m.rungs {
			if i == j || !n.m.alike(i, j) || !n.m.before(i, j) || n.m.before(j, i) && j < i {
				continue
			}
			n.after[i] = append(n.after[i][:len(n.after[i]):len(n.after[i])], tie{j, 0})
			n.needs[j] = append(n.needs[j][:len(n.needs[j]):len(n.needs[j])], tie{i, 0})
		}
	}
}

// alike reports whether two rungs weigh the same wherever they are and may be in the same slots.
func (m *model) alike(i, j int) bool {
	if m.domain[i] != m.domain[j] || (m.seen[i] == nil) != (m.seen[j] == nil) {
		return false
	}
	for r := range resources {
		if m.load[r][i] != m.load[r][j] || m.seen[i] != nil && m.again[r][i] != m.again[r][j] {
			return false
		}
	}
	return m.seen[i] == nil || sameWeeks(m.seen[i], m.seen[j])
}

func sameWeeks(a, b [][]int) bool {
	for s := range a {
		if len(a[s]) != len(b[s]) {
			return false
		}
		for k := range a[s] {
			if a[s][k] != b[s][k] {
				return false
			}
		}
	}
	return true
}

// before reports whether the first rung can take the place of the second when that is earlier, and the second its place:
// the first needs no more, and the second is needed by no more.
func (m *model) before(i, j int) bool {
	return covers(m.needs[j], m.needs[i]) && covers(m.after[i], m.after[j])
}

// covers reports whether every one of the ties is among those of the larger set, with as long a lag.
func covers(larger, ties []tie) bool {
	for _, t := range ties {
		found := false
		for _, l := range larger {
			found = found || l.rung == t.rung && l.lag >= t.lag
		}
		if !found {
			return false
		}
	}
	return true
}
