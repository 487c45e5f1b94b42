// Package standing works out where a child stands on every rung, from marks alone and always with the reason.
//
// It describes what was seen. It never says that a child may be let go of: the teacher present decides. Days are calendar
// days: of every time.Time only the year, month and day in its own zone count.
package standing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// Rung is one step of a ladder. Needs are ids of rungs, of any ladder, that must be secure first.
type Rung struct {
	ID       string
	Name     string
	Needs    []string
	TwoSided bool
	Ladder   string
	Position int
}

// Graph is the rungs with what needs what, in topological order: a rung stands after all it needs. It does not change
// and may be used by many goroutines at once.
type Graph struct {
	rungs   []Rung
	index   map[string]int
	needs   [][]int // direct needs, all of smaller index
	unlocks [][]int // who needs it directly, all of greater index
	before  [][]bool
}

// New builds the graph. The order of the input does not matter. It fails with a *CycleError when rungs need each other in
// a circle, and with a plain error on an empty or doubled id or a need that is no rung.
func New(rungs []Rung) (*Graph, error) {
	read := slices.Clone(rungs)
	slices.SortFunc(read, func(a, b Rung) int {
		return cmp.Or(cmp.Compare(a.Ladder, b.Ladder), cmp.Compare(a.Position, b.Position), cmp.Compare(a.ID, b.ID))
	})
	needs, err := indexNeeds(read)
	if err != nil {
		return nil, err
	}
	order, err := sortRungs(read, needs)
	if err != nil {
		return nil, err
	}
	return arrange(read, order), nil
}

// indexNeeds turns the needs of each rung into sorted positions in the list, each once.
func indexNeeds(rungs []Rung) ([][]int, error) {
	index := make(map[string]int, len(rungs))
	for i, r := range rungs {
		if r.ID == "" {
			return nil, fmt.Errorf("standing: rung %q has no id", r.Name)
		}
		if _, twice := index[r.ID]; twice {
			return nil, fmt.Errorf("standing: two rungs have the id %q", r.ID)
		}
		index[r.ID] = i
	}
	needs := make([][]int, len(rungs))
	for i, r := range rungs {
		for _, id := range r.Needs {
			j, ok := index[id]
			if !ok {
				return nil, fmt.Errorf("standing: rung %q needs %q, which is no rung", r.label(), id)
			}
			needs[i] = append(needs[i], j)
		}
		slices.Sort(needs[i])
		needs[i] = slices.Compact(needs[i])
	}
	return needs, nil
}

func sortRungs(rungs []Rung, needs [][]int) ([]int, error) {
	g := simple.NewDirectedGraph()
	for i := range rungs {
		g.AddNode(simple.Node(i))
	}
	for i, from := range needs {
		for _, j := range from {
			if i == j {
				return nil, newCycle(rungs, []int{i})
			}
			g.SetEdge(simple.Edge{F: simple.Node(j), T: simple.Node(i)})
		}
	}
	nodes, err := topo.SortStabilized(g, nil)
	var knots topo.Unorderable
	if errors.As(err, &knots) {
		return nil, newCycle(rungs, circle(knots, needs))
	}
	if err != nil {
		return nil, fmt.Errorf("standing: order the rungs: %w", err)
	}
	order := make([]int, len(nodes))
	for i, n := range nodes {
		order[i] = int(n.ID())
	}
	return order, nil
}

func arrange(read []Rung, order []int) *Graph {
	n := len(order)
	g := &Graph{
		rungs: make([]Rung, n), index: make(map[string]int, n),
		needs: make([][]int, n), unlocks: make([][]int, n), before: make([][]bool, n),
	}
	for i, at := range order {
		g.rungs[i] = read[at]
		g.index[read[at].ID] = i
	}
	for i, r := range g.rungs {
		g.before[i] = make([]bool, n)
		for _, id := range r.Needs {
			j := g.index[id]
			if slices.Contains(g.needs[i], j) {
				continue
			}
			g.needs[i] = append(g.needs[i], j)
			g.unlocks[j] = append(g.unlocks[j], i)
			g.before[i][j] = true
			for k, is := range g.before[j] {
				g.before[i][k] = g.before[i][k] || is
			}
		}
	}
	return g
}

// Rungs lists the rungs in topological order.
func (g *Graph) Rungs() []Rung { return slices.Clone(g.rungs) }

// Before lists, in topological order, every rung that must be secure before this one, near or far. Nil for no such rung.
func (g *Graph) Before(id string) []string {
	i, ok := g.index[id]
	if !ok {
		return nil
	}
	return g.pick(func(j int) bool { return g.before[i][j] })
}

// After lists, in topological order, every rung that this one must be secure for, near or far. Nil for no such rung.
func (g *Graph) After(id string) []string {
	i, ok := g.index[id]
	if !ok {
		return nil
	}
	return g.pick(func(j int) bool { return g.before[j][i] })
}

func (g *Graph) pick(want func(i int) bool) []string {
	var out []string
	for i, r := range g.rungs {
		if want(i) {
			out = append(out, r.ID)
		}
	}
	return out
}

func (r Rung) label() string { return cmp.Or(r.Name, r.ID) }
