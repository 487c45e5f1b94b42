// Package layers lays a graph of needs out in rows, so that every line goes upward from what is needed to what needs it.
//
// The method is the layered one of Sugiyama, Tagawa and Toda (1981, IEEE Transactions on Systems, Man, and Cybernetics 11:109-125):
// rows by longest path, barycentres against crossings, and places within a row by least squares. Lines that pass a row get a narrow
// place in it, so that no line runs behind a node.
package layers

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// Node is something to place. Needs are ids of nodes that belong beneath it; those that are not given are left out.
type Node struct {
	ID    string
	Needs []string
}

// Sizes are the measures of the layout, in any one unit: nodes and the gaps beside them, the height of a node and of the gap above.
type Sizes struct {
	Width, Gap, Height, Rise float64
}

// pass is the width of the place that a passing line has in a row, as a share of a node's.
const pass = 0.12

// Placed is a node with the middle of its place: X from the left, Y from the top; Row counts from the bottom, from 0.
type Placed struct {
	ID   string
	Row  int
	X, Y float64
}

// Point is a place on a line.
type Point struct{ X, Y float64 }

// Line goes upward from the top of a node to the bottom of one that needs it, straight through the rows between.
type Line struct {
	From, To string
	Points   []Point
}

// Layout is the drawing. Crossings counts the pairs of lines that cross.
type Layout struct {
	Nodes         []Placed // from the bottom row up, each row from the left
	Lines         []Line
	Width, Height float64
	Crossings     int
}

// ErrCircle says that nodes need each other in a circle, so that no drawing goes upward.
var ErrCircle = errors.New("layers: nodes need each other in a circle")

// Lay places nodes. The same nodes in the same order always give the same drawing. It fails on an id that is empty or given twice, and
// with ErrCircle.
func Lay(nodes []Node, sizes Sizes) (Layout, error) {
	g, err := newGrid(nodes)
	if err != nil {
		return Layout{}, err
	}
	g.untangle()
	return g.draw(sizes), nil
}

// grid is the rows while they are worked on. Places 0 to len(ids)-1 are nodes, those after them are passing lines.
type grid struct {
	ids    []string
	row    []int
	below  [][]int // places one row down that are joined to this one
	above  [][]int
	rows   [][]int // places by row, from the left
	chains [][]int // each line as places from the bottom up
}

func newGrid(nodes []Node) (*grid, error) {
	at := map[string]int{}
	for i, n := range nodes {
		if _, twice := at[n.ID]; n.ID == "" || twice {
			return nil, fmt.Errorf("layers: node %d has the id %q, want one of its own", i+1, n.ID)
		}
		at[n.ID] = i
	}
	needs := make([][]int, len(nodes))
	for i, n := range nodes {
		for _, id := range n.Needs {
			if j, known := at[id]; known {
				needs[i] = append(needs[i], j)
			}
		}
	}
	order, err := sorted(needs)
	if err != nil {
		return nil, err
	}
	g := &grid{row: rowsOf(order, needs)}
	for _, n := range nodes {
		g.ids = append(g.ids, n.ID)
	}
	g.join(needs)
	return g, nil
}

// sorted puts each node after those that it needs.
func sorted(needs [][]int) ([]int, error) {
	d := simple.NewDirectedGraph()
	for i := range needs {
		d.AddNode(simple.Node(i))
	}
	for i, below := range needs {
		for _, j := range below {
			if i == j {
				return nil, ErrCircle
			}
			d.SetEdge(simple.Edge{F: simple.Node(j), T: simple.Node(i)})
		}
	}
	nodes, err := topo.SortStabilized(d, nil)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrCircle, err)
	}
	var order []int
	for _, n := range nodes {
		order = append(order, int(n.ID()))
	}
	return order, nil
}

// rowsOf is the longest way down from each node; a node that needs nothing then rises to just beneath the lowest that needs it.
func rowsOf(order []int, needs [][]int) []int {
	row := make([]int, len(needs))
	lowest := make([]int, len(needs))
	for i := range lowest {
		lowest[i] = -1
	}
	for _, i := range order {
		for _, j := range needs[i] {
			row[i] = max(row[i], row[j]+1)
		}
		for _, j := range needs[i] {
			if lowest[j] < 0 || row[i] < lowest[j] {
				lowest[j] = row[i]
			}
		}
	}
	for i := range row {
		if len(needs[i]) == 0 && lowest[i] > 0 {
			row[i] = lowest[i] - 1
		}
	}
	return row
}

// join makes a chain of places of each line, and fills the rows.
func (g *grid) join(needs [][]int) {
	for i, below := range needs {
		for _, j := range below {
			chain := []int{j}
			for r := g.row[j] + 1; r < g.row[i]; r++ {
				g.row = append(g.row, r)
				chain = append(chain, len(g.row)-1)
			}
			g.chains = append(g.chains, append(chain, i))
		}
	}
	g.below, g.above = make([][]int, len(g.row)), make([][]int, len(g.row))
	for _, chain := range g.chains {
		for k := 1; k < len(chain); k++ {
			low, high := chain[k-1], chain[k]
			g.above[low], g.below[high] = append(g.above[low], high), append(g.below[high], low)
		}
	}
	for place, r := range g.row {
		for len(g.rows) <= r {
			g.rows = append(g.rows, nil)
		}
		g.rows[r] = append(g.rows[r], place)
	}
}
