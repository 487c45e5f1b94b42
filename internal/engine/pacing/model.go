package pacing

import (
	"math/bits"
	"slices"
)

// The resources of a week: how many rungs are new, and the three loads.
const (
	count     = 0
	resources = 4
)

// endless stands for a limit that is not there; sums of it stay far from overflow.
const endless = 1 << 40

// model is a Problem for the search: the rungs that are still free, over the slots. A slot is a week that is still to come
// and has a lesson. What was taught shows as bounds on the rest and as load that is there already.
type model struct {
	p     Problem
	rungs []Rung  // free, by id
	weeks []int   // calendar week of a slot
	order []int   // rungs, what comes first first
	after [][]tie // rungs that need this one
	needs [][]tie // rungs that this one needs

	domain []uint64           // slots that a rung may have by its own rules
	most   [resources][]int   // by slot, less what is there already
	least  [resources][]int   // by slot, less what is there already
	base   [resources][]int   // by slot: seeing again what was taught
	weight [resources]int     // 0 for the count
	load   [resources][]int   // by rung: when it is new
	again  [resources][]int   // by rung: each time it is seen again
	seen   [][][]int          // by rung and slot where it is new: slots where it is seen again; nil for a rung that adds no load then
	inside [resources][][]int // by rung with seen: load up to a slot, at [slot where new * (slots+1) + slots counted]
}

// tie is a rung and a lag in weeks.
type tie struct{ rung, lag int }

// newModel builds the model of a problem that has been validated. Rules for which dropped answers true do not hold.
func newModel(p Problem, dropped func(Clash) bool) *model {
	m := &model{p: p}
	m.addSlots(dropped)
	m.addRungs(dropped)
	m.addTies(dropped)
	m.addDomains(dropped)
	m.addLoads()
	m.addLimits(dropped)
	return m
}

func keepAll(Clash) bool { return false }

func (m *model) addSlots(dropped func(Clash) bool) {
	has := lessons(m.p)
	for w := m.p.Done + 1; w <= m.p.Weeks; w++ {
		if has[w] || dropped(Clash{Rule: RuleHoliday, Week: w}) {
			m.weeks = append(m.weeks, w)
		}
	}
}

func (m *model) addRungs(dropped func(Clash) bool) {
	for _, r := range sortedRungs(m.p) {
		if r.Taught == 0 && !dropped(Clash{Rule: RuleTerm, RungID: r.ID}) {
			m.rungs = append(m.rungs, r)
		}
	}
}

// addTies links the free rungs and puts them in order. Equal needs of one rung count once, with the longest lag.
func (m *model) addTies(dropped func(Clash) bool) {
	at := map[string]int{}
	for i, r := range m.rungs {
		at[r.ID] = i
	}
	m.after, m.needs = make([][]tie, len(m.rungs)), make([][]tie, len(m.rungs))
	for i, r := range m.rungs {
		lags := map[int]int{}
		for _, n := range r.Needs {
			if j, free := at[n.ID]; free && !dropped(needClash(r, n)) {
				lags[j] = max(lags[j], n.lag())
			}
		}
		for j := range m.rungs {
			if lag := lags[j]; lag > 0 {
				m.needs[i] = append(m.needs[i], tie{j, lag})
				m.after[j] = append(m.after[j], tie{i, lag})
			}
		}
	}
	m.sort()
}

// sort puts what comes first first. There are no circles; see validate.
func (m *model) sort() {
	waiting := make([]int, len(m.rungs))
	for i := range m.rungs {
		if waiting[i] = len(m.needs[i]); waiting[i] == 0 {
			m.order = append(m.order, i)
		}
	}
	for at := 0; at < len(m.order); at++ {
		for _, t := range m.after[m.order[at]] {
			if waiting[t.rung]--; waiting[t.rung] == 0 {
				m.order = append(m.order, t.rung)
			}
		}
	}
}

func (n Need) lag() int { return max(1, n.Lag) }

func needClash(r Rung, n Need) Clash {
	return Clash{Rule: RuleNeed, RungID: r.ID, NeedID: n.ID, Lag: n.lag()}
}

// addDomains finds the slots that each free rung may have by its own rules and by what was taught.
func (m *model) addDomains(dropped func(Clash) bool) {
	taught := map[string]int{}
	for _, r := range m.p.Rungs {
		taught[r.ID] = r.Taught
	}
	has := lessons(m.p)
	for _, r := range m.rungs {
		first, last := 1, m.p.Weeks
		if r.Earliest > 0 && !dropped(Clash{Rule: RuleEarliest, RungID: r.ID, Week: r.Earliest}) {
			first = r.Earliest
		}
		if r.Latest > 0 && !dropped(Clash{Rule: RuleLatest, RungID: r.ID, Week: r.Latest}) {
			last = r.Latest
		}
		if r.Pin > 0 && !dropped(Clash{Rule: RulePin, RungID: r.ID, Week: r.Pin}) {
			first, last = max(first, r.Pin), min(last, r.Pin)
		}
		for _, n := range r.Needs {
			if w := taught[n.ID]; w > 0 && !dropped(needClash(r, n)) {
				first = max(first, w+n.lag())
			}
		}
		due := m.due(r, dropped)
		domain := uint64(0)
		for s, w := range m.weeks {
			if w >= first && w <= last && due(againWeeks(has, w, r.Again), w) {
				domain |= 1 << s
			}
		}
		m.domain = append(m.domain, domain)
	}
}

// due says whether a rung that is new in a week is seen again in time.
func (m *model) due(r Rung, dropped func(Clash) bool) func(again []int, week int) bool {
	inTerm, byShow, show := min(m.p.Limits.Revisits, len(r.Again)), 0, m.p.Weeks
	if dropped(revisitsClash(m.p, r)) {
		inTerm = 0
	}
	if m.p.Showcase.Week > 0 && slices.Contains(m.p.Showcase.Rungs, r.ID) && !dropped(showcaseClash(m.p, r)) {
		byShow, show = min(m.p.Showcase.Revisits, len(r.Again)), m.p.Showcase.Week
	}
	return func(again []int, week int) bool {
		return len(again) >= inTerm && week <= show && countUpTo(again, show) >= byShow
	}
}

func revisitsClash(p Problem, r Rung) Clash {
	return Clash{Rule: RuleRevisits, RungID: r.ID, Limit: min(p.Limits.Revisits, len(r.Again))}
}

func showcaseClash(p Problem, r Rung) Clash {
	return Clash{Rule: RuleShowcase, RungID: r.ID, Week: p.Showcase.Week, Limit: min(p.Showcase.Revisits, len(r.Again))}
}

// addLoads finds what each rung weighs where, and what is there already.
func (m *model) addLoads() {
	has, slots := lessons(m.p), len(m.weeks)
	slot := make([]int, m.p.Weeks+1)
	for w := range slot {
		slot[w] = slices.Index(m.weeks, w)
	}
	for r := range resources {
		m.base[r] = make([]int, slots)
		m.inside[r] = make([][]int, len(m.rungs))
	}
	for _, r := range m.p.Rungs {
		if r.Taught == 0 {
			continue
		}
		for _, w := range againWeeks(has, r.Taught, r.Again) {
			if w > m.p.Done {
				for k, v := range r.AgainLoad.kinds() {
					m.base[k+1][slot[w]] += v
				}
			}
		}
	}
	m.seen = make([][][]int, len(m.rungs))
	for i, r := range m.rungs {
		m.load[count], m.again[count] = append(m.load[count], 1), append(m.again[count], 0)
		for k, v := range r.Load.kinds() {
			m.load[k+1], m.again[k+1] = append(m.load[k+1], v), append(m.again[k+1], r.AgainLoad.kinds()[k])
		}
		if len(r.Again) == 0 || r.AgainLoad == (Load{}) {
			continue
		}
		m.seen[i] = make([][]int, slots)
		for s, w := range m.weeks {
			for _, a := range againWeeks(has, w, r.Again) {
				m.seen[i][s] = append(m.seen[i][s], slot[a])
			}
		}
		m.addInside(i)
	}
}

// addInside sums up the load of a rung that is seen again, for every slot where it may be new.
func (m *model) addInside(i int) {
	slots := len(m.weeks)
	for r := range resources {
		sums := make([]int, slots*(slots+1))
		for s := range slots {
			row := sums[s*(slots+1) : (s+1)*(slots+1)]
			row[s+1] += m.load[r][i]
			for _, a := range m.seen[i][s] {
				row[a+1] += m.again[r][i]
			}
			for t := range slots {
				row[t+1] += row[t]
			}
		}
		m.inside[r][i] = sums
	}
}

// from is the first slot at least lag weeks after a slot; the number of slots when there is none.
func (m *model) from(slot, lag int) int {
	for s := slot; s < len(m.weeks); s++ {
		if m.weeks[s] >= m.weeks[slot]+lag {
			return s
		}
	}
	return len(m.weeks)
}

// upTo is the last slot at least lag weeks before a slot; -1 when there is none.
func (m *model) upTo(slot, lag int) int {
	for s := slot; s >= 0; s-- {
		if m.weeks[s] <= m.weeks[slot]-lag {
			return s
		}
	}
	return -1
}

// span is the set of slots from a to b.
func span(a, b int) uint64 { return (1<<(b-a+1) - 1) << a }

func first(d uint64) int { return bits.TrailingZeros64(d) }
func last(d uint64) int  { return 63 - bits.LeadingZeros64(d) }
