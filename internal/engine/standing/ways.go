package standing

import (
	"cmp"
	"slices"
)

// Met is the set of rungs that count as done for one child: secure or due a recheck.
type Met map[string]bool

// Frontier lists, in topological order, the rungs that are not met and whose needs are all met.
func (g *Graph) Frontier(met Met) []string {
	return g.pick(func(i int) bool { return !met[g.rungs[i].ID] && g.open(i, met) })
}

func (g *Graph) open(i int, met Met) bool {
	for _, j := range g.needs[i] {
		if !met[g.rungs[j].ID] {
			return false
		}
	}
	return true
}

// Missing is the smallest set of rungs that must become secure before this one is open, in an order in which they can be
// worked through. What is met stays met: the way does not lead through it to older gaps.
func (g *Graph) Missing(id string, met Met) []string {
	i, ok := g.index[id]
	if !ok {
		return nil
	}
	return g.names(g.missing(i, func(j int) bool { return met[g.rungs[j].ID] }))
}

func (g *Graph) missing(i int, met func(j int) bool) []int {
	var out, stack []int
	seen := make([]bool, i+1)
	stack = append(stack, i)
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, j := range g.needs[at] {
			if !seen[j] && !met(j) {
				seen[j] = true
				out = append(out, j)
				stack = append(stack, j)
			}
		}
	}
	slices.Sort(out)
	return out
}

func (g *Graph) names(at []int) []string {
	var out []string
	for _, i := range at {
		out = append(out, g.rungs[i].ID)
	}
	return out
}

// Unlock is what one rung would open if every child for whom it is open had it secure: Opens counts child-rungs, Children
// the children who would gain at least one.
type Unlock struct {
	Rung     string
	Opens    int
	Children int
}

// Unlocks ranks the rungs that would open something for these children, most child-rungs first.
func (g *Graph) Unlocks(children []Met) []Unlock {
	sums := make([]Unlock, len(g.rungs))
	for _, met := range children {
		for i, r := range g.rungs {
			if met[r.ID] || !g.open(i, met) {
				continue
			}
			sums[i].Rung = r.ID
			if n := g.opened(i, met); n > 0 {
				sums[i].Opens += n
				sums[i].Children++
			}
		}
	}
	sums = slices.DeleteFunc(sums, func(u Unlock) bool { return u.Opens == 0 })
	slices.SortStableFunc(sums, func(a, b Unlock) int {
		return cmp.Or(cmp.Compare(b.Opens, a.Opens), cmp.Compare(b.Children, a.Children))
	})
	return sums
}

// opened counts the rungs for which this one is the only need that is not met.
func (g *Graph) opened(i int, met Met) int {
	n := 0
	for _, up := range g.unlocks[i] {
		only := !met[g.rungs[up].ID]
		for _, j := range g.needs[up] {
			only = only && (j == i || met[g.rungs[j].ID])
		}
		if only {
			n++
		}
	}
	return n
}
