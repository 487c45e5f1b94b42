package pacing

import "slices"

// addLimits sets the least and most of every slot.
func (m *model) addLimits(dropped func(Clash) bool) {
	l := m.p.Limits
	has := lessons(m.p)
	leastOf, mostOf, weights := l.MinLoad.kinds(), l.MaxLoad.kinds(), m.p.weights().kinds()
	for r := range resources {
		m.least[r], m.most[r] = make([]int, len(m.weeks)), make([]int, len(m.weeks))
	}
	copy(m.weight[1:], weights[:])
	for s, w := range m.weeks {
		for r := range resources {
			m.most[r][s] = endless
		}
		if !has[w] {
			continue
		}
		quiet := slices.Contains(m.p.Quiet, w)
		if quiet && !dropped(Clash{Rule: RuleQuiet, Week: w}) {
			m.most[count][s] = 0
		}
		if !quiet && l.MinNew > 0 && !dropped(Clash{Rule: RuleMinNew, Week: w, Limit: l.MinNew}) {
			m.least[count][s] = l.MinNew
		}
		if !quiet && l.MaxNew > 0 && !dropped(Clash{Rule: RuleMaxNew, Week: w, Limit: l.MaxNew}) {
			m.most[count][s] = l.MaxNew
		}
		for k, kind := range Kinds() {
			if v := leastOf[k]; v > 0 && !dropped(Clash{Rule: RuleMinLoad, Week: w, Kind: kind, Limit: v}) {
				m.least[k+1][s] = max(0, v-m.base[k+1][s])
			}
			if v := mostOf[k]; v > 0 && !dropped(Clash{Rule: RuleMaxLoad, Week: w, Kind: kind, Limit: v}) {
				m.most[k+1][s] = v - m.base[k+1][s]
			}
		}
	}
}

// weights are the weights in force.
func (p Problem) weights() Load {
	if p.Weights == (Load{}) {
		return Load{1, 1, 1}
	}
	return p.Weights
}

// under is the most of every slot when no weighted load may be above a peak.
func (m *model) under(peak int) [resources][]int {
	var most [resources][]int
	for r := range resources {
		most[r] = slices.Clone(m.most[r])
		if m.weight[r] == 0 {
			continue
		}
		for s := range most[r] {
			most[r][s] = min(most[r][s], peak/m.weight[r]-m.base[r][s])
		}
	}
	return most
}
