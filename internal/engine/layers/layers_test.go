package layers

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

var sizes = Sizes{Width: 150, Gap: 16, Height: 48, Rise: 40}

func drawNodes(t *rapid.T) []Node {
	n := rapid.IntRange(1, 30).Draw(t, "nodes")
	nodes := make([]Node, n)
	for i := range nodes {
		nodes[i].ID = fmt.Sprint("n", i)
		for j := range i {
			if rapid.IntRange(0, 7).Draw(t, "needs") == 0 {
				nodes[i].Needs = append(nodes[i].Needs, nodes[j].ID)
			}
		}
	}
	rand.New(rand.NewPCG(1, uint64(n))).Shuffle(n, func(i, j int) { nodes[i], nodes[j] = nodes[j], nodes[i] })
	return nodes
}

// Every line goes upward, nothing overlaps, no line runs through a node, and everything is within the drawing.
func TestLayoutIsReadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nodes := drawNodes(t)
		out, err := Lay(nodes, sizes)
		if err != nil {
			t.Fatal(err)
		}
		lines := 0
		for _, n := range nodes {
			lines += len(n.Needs)
		}
		if len(out.Nodes) != len(nodes) || len(out.Lines) != lines {
			t.Fatalf("%d nodes and %d lines drawn, want %d and %d", len(out.Nodes), len(out.Lines), len(nodes), lines)
		}
		for i, n := range out.Nodes {
			if n.X < sizes.Width/2-1e-6 || n.X > out.Width-sizes.Width/2+1e-6 || n.Y < sizes.Height/2-1e-6 || n.Y > out.Height-sizes.Height/2+1e-6 {
				t.Errorf("%v is outside of %g by %g", n, out.Width, out.Height)
			}
			for _, other := range out.Nodes[:i] {
				if n.Row == other.Row && math.Abs(n.X-other.X) < sizes.Width+sizes.Gap-1e-6 {
					t.Errorf("%v and %v overlap", n, other)
				}
			}
		}
		for _, l := range out.Lines {
			upward(t, l)
			clear(t, l, out.Nodes)
		}
	})
}

func upward(t *rapid.T, l Line) {
	for i := 1; i < len(l.Points); i++ {
		if l.Points[i].Y >= l.Points[i-1].Y {
			t.Errorf("the line from %s to %s does not rise: %v", l.From, l.To, l.Points)
		}
	}
}

// clear looks at the upright parts of a line, where it passes a row.
func clear(t *rapid.T, l Line, nodes []Placed) {
	for i := 2; i < len(l.Points); i += 2 {
		for _, n := range nodes {
			if math.Abs(n.Y-(l.Points[i].Y+sizes.Height/2)) < 1e-6 && math.Abs(n.X-l.Points[i].X) < sizes.Width/2 {
				t.Errorf("the line from %s to %s runs through %s", l.From, l.To, n.ID)
			}
		}
	}
}

// The count of crossings is that of the drawing: pairs of pieces between two rows whose ends are in opposite order.
func TestCrossingsAreCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		out, err := Lay(drawNodes(t), sizes)
		if err != nil {
			t.Fatal(err)
		}
		type piece struct{ from, to Point }
		var pieces []piece
		for _, l := range out.Lines {
			for i := 1; i < len(l.Points); i += 2 {
				pieces = append(pieces, piece{l.Points[i-1], l.Points[i]})
			}
		}
		n := 0
		for i, a := range pieces {
			for _, b := range pieces[:i] {
				if a.from.Y == b.from.Y && (a.from.X-b.from.X)*(a.to.X-b.to.X) < -1e-6 {
					n++
				}
			}
		}
		if n != out.Crossings {
			t.Fatalf("%d crossings drawn, %d counted", n, out.Crossings)
		}
	})
}

// Small graphs are judged by trying every order of every row: the drawing has the fewest crossings, or nearly.
func TestCrossingsAgainstEveryOrder(t *testing.T) {
	fewer, tried := 0, 0
	for seed := range uint64(150) {
		g := smallGrid(t, rand.New(rand.NewPCG(7, seed)))
		rows := g.copyRows()
		best := math.MaxInt
		permuteRows(g, 0, func() { best = min(best, g.crossings()) })
		g.rows = rows
		g.untangle()
		tried++
		if got := g.crossings(); got > best {
			fewer++
			if got > best+2 {
				t.Errorf("seed %d: %d crossings, %d are possible", seed, got, best)
			}
		}
	}
	if fewer*10 > tried {
		t.Errorf("%d of %d small drawings have more crossings than they must", fewer, tried)
	}
	t.Logf("%d of %d small drawings have the fewest crossings there are", tried-fewer, tried)
}

func smallGrid(t *testing.T, rng *rand.Rand) *grid {
	t.Helper()
	var nodes []Node
	for i := range 9 {
		n := Node{ID: fmt.Sprint(i)}
		for j := range i {
			if i/3 == j/3+1 && rng.IntN(2) == 0 {
				n.Needs = append(n.Needs, fmt.Sprint(j))
			}
		}
		nodes = append(nodes, n)
	}
	g, err := newGrid(nodes)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func permuteRows(g *grid, r int, visit func()) {
	if r == len(g.rows) {
		visit()
		return
	}
	permute(g.rows[r], 0, func() { permuteRows(g, r+1, visit) })
}

func permute(row []int, from int, visit func()) {
	if from == len(row) {
		visit()
		return
	}
	for i := from; i < len(row); i++ {
		row[from], row[i] = row[i], row[from]
		permute(row, from+1, visit)
		row[from], row[i] = row[i], row[from]
	}
}

func TestLayRefuses(t *testing.T) {
	for name, nodes := range map[string][]Node{
		"a circle": {{ID: "a", Needs: []string{"b"}}, {ID: "b", Needs: []string{"a"}}}, "itself": {{ID: "a", Needs: []string{"a"}}},
	} {
		if _, err := Lay(nodes, sizes); !errors.Is(err, ErrCircle) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Lay([]Node{{ID: "a"}, {ID: "a"}}, sizes); err == nil || errors.Is(err, ErrCircle) {
		t.Errorf("an id given twice: %v", err)
	}
	if out, err := Lay(nil, sizes); err != nil || len(out.Nodes) != 0 {
		t.Errorf("nothing to draw: %v, %v", out, err)
	}
}

func TestSameNodesSameDrawing(t *testing.T) {
	nodes := []Node{{ID: "c", Needs: []string{"a", "b"}}, {ID: "a"}, {ID: "b"}, {ID: "d", Needs: []string{"a", "c", "gone"}}}
	one, _ := Lay(nodes, sizes)
	two, _ := Lay(nodes, sizes)
	if !slices.Equal(one.Nodes, two.Nodes) {
		t.Error("the same nodes give two drawings")
	}
}
