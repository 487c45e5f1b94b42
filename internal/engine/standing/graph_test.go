package standing

import (
	"errors"
	"fmt"
	"math/bits"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"pgregory.net/rapid"
)

// drawRungs draws rungs that need only rungs with a smaller number, given in any order.
func drawRungs(t *rapid.T, most int) []Rung {
	n := rapid.IntRange(1, most).Draw(t, "rungs")
	rungs := make([]Rung, n)
	for i := range rungs {
		rungs[i] = Rung{ID: fmt.Sprint(i), Ladder: rapid.SampledFrom([]string{"x", "y"}).Draw(t, "ladder"),
			Position: rapid.IntRange(0, 9).Draw(t, "position"), TwoSided: rapid.Bool().Draw(t, "two-sided")}
		for j := range i {
			if rapid.IntRange(0, 3).Draw(t, "needs") == 0 {
				rungs[i].Needs = append(rungs[i].Needs, fmt.Sprint(j))
			}
		}
	}
	return rapid.Permutation(rungs).Draw(t, "order")
}

// directed is the same graph for gonum, which then is the judge.
func directed(rungs []Rung) (*simple.DirectedGraph, map[string]simple.Node) {
	g, node := simple.NewDirectedGraph(), map[string]simple.Node{}
	for i, r := range rungs {
		node[r.ID] = simple.Node(i)
		g.AddNode(node[r.ID])
	}
	for _, r := range rungs {
		for _, need := range r.Needs {
			g.SetEdge(simple.Edge{F: node[need], T: node[r.ID]})
		}
	}
	return g, node
}

func mustNew(t interface{ Fatal(...any) }, rungs []Rung) *Graph {
	g, err := New(rungs)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestOrderAndClosureAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rungs := drawRungs(t, 14)
		g := mustNew(t, rungs)
		judge, node := directed(rungs)
		place := map[string]int{}
		for i, r := range g.Rungs() {
			place[r.ID] = i
		}
		for _, a := range rungs {
			for _, b := range rungs {
				if a.ID == b.ID {
					continue
				}
				reaches := topo.PathExistsIn(judge, node[a.ID], node[b.ID])
				if slices.Contains(g.Before(b.ID), a.ID) != reaches || slices.Contains(g.After(a.ID), b.ID) != reaches {
					t.Fatalf("%s before %s: gonum says %v", a.ID, b.ID, reaches)
				}
				if reaches && place[a.ID] >= place[b.ID] {
					t.Fatalf("%s must stand before %s", a.ID, b.ID)
				}
			}
		}
		again := mustNew(t, rapid.Permutation(rungs).Draw(t, "again"))
		if !slices.EqualFunc(g.Rungs(), again.Rungs(), func(a, b Rung) bool { return a.ID == b.ID }) {
			t.Fatal("another order of input gives another order of rungs")
		}
	})
}

func TestCycleIsFoundWhenGonumFindsOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "rungs")
		rungs := make([]Rung, n)
		for i := range rungs {
			rungs[i] = Rung{ID: fmt.Sprint(i)}
			for j := range n {
				if i != j && rapid.IntRange(0, 5).Draw(t, "needs") == 0 {
					rungs[i].Needs = append(rungs[i].Needs, fmt.Sprint(j))
				}
			}
		}
		judge, _ := directed(rungs)
		_, cyclic := topo.Sort(judge)
		_, err := New(rungs)
		var cycle *CycleError
		if errors.As(err, &cycle) != (cyclic != nil) {
			t.Fatalf("gonum says %v, New says %v", cyclic, err)
		}
		if cycle == nil {
			return
		}
		for i, id := range cycle.IDs {
			next := cycle.IDs[(i+1)%len(cycle.IDs)]
			at := slices.IndexFunc(rungs, func(r Rung) bool { return r.ID == id })
			if !slices.Contains(rungs[at].Needs, next) {
				t.Fatalf("named circle %v: %s does not need %s", cycle.IDs, id, next)
			}
		}
	})
}

func TestNewRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		rungs []Rung
		want  string
	}{
		{"a circle", []Rung{{ID: "a", Name: "Bridge", Needs: []string{"b"}}, {ID: "b", Name: "Limber", Needs: []string{"a"}}},
			"standing: rungs need each other in a circle: Bridge needs Limber needs Bridge; take one of these needs away"},
		{"itself", []Rung{{ID: "a", Name: "Bridge", Needs: []string{"a"}}},
			"standing: rungs need each other in a circle: Bridge needs Bridge; take one of these needs away"},
		{"a need that is no rung", []Rung{{ID: "a", Name: "Bridge", Needs: []string{"z"}}}, `standing: rung "Bridge" needs "z", which is no rung`},
		{"a doubled id", []Rung{{ID: "a"}, {ID: "a"}}, `standing: two rungs have the id "a"`},
		{"an empty id", []Rung{{Name: "Bridge"}}, `standing: rung "Bridge" has no id`},
	} {
		if _, err := New(c.rungs); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// TestMissingIsSmallest tries every set of rungs to make secure one after another, each only when its needs are met.
func TestMissingIsSmallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := mustNew(t, drawRungs(t, 9))
		met, n := Met{}, len(g.rungs)
		for i, r := range g.rungs {
			if rapid.Bool().Draw(t, fmt.Sprint("met", i)) {
				met[r.ID] = true
			}
		}
		target := rapid.IntRange(0, n-1).Draw(t, "target")
		best := n + 1
		for set := range 1 << n {
			if size := bits.OnesCount(uint(set)); size < best && opens(g, met, set, target) {
				best = size
			}
		}
		got := g.Missing(g.rungs[target].ID, met)
		set := 0
		for _, id := range got {
			set |= 1 << g.index[id]
		}
		if len(got) != best || !opens(g, met, set, target) {
			t.Fatalf("missing %v, want a set of %d", got, best)
		}
	})
}

// opens works through the set in order and says whether each rung was open at its turn, and the target after them.
func opens(g *Graph, met Met, set, target int) bool {
	now := Met{}
	for id := range met {
		now[id] = true
	}
	for i, r := range g.rungs {
		if set&(1<<i) == 0 {
			continue
		}
		if met[r.ID] || !g.open(i, now) {
			return false
		}
		now[r.ID] = true
	}
	return g.open(target, now)
}

func TestFrontierAndUnlocks(t *testing.T) {
	g := mustNew(t, []Rung{
		{ID: "a"}, {ID: "b", Needs: []string{"a"}}, {ID: "c", Needs: []string{"a"}}, {ID: "d", Needs: []string{"b", "c"}},
	})
	if got := g.Frontier(Met{"a": true}); !slices.Equal(got, []string{"b", "c"}) {
		t.Errorf("frontier %v", got)
	}
	got := g.Unlocks([]Met{{}, {}, {"a": true, "b": true}})
	if want := []Unlock{{"a", 4, 2}, {"c", 1, 1}}; !slices.Equal(got, want) {
		t.Errorf("unlocks %v, want %v", got, want)
	}
}

// TestUnlocksByTryingIt gives each child each open rung and counts what the frontier gained.
func TestUnlocksByTryingIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := mustNew(t, drawRungs(t, 10))
		want := map[string]Unlock{}
		var children []Met
		for range rapid.IntRange(0, 4).Draw(t, "children") {
			met := Met{}
			for _, r := range g.rungs {
				met[r.ID] = rapid.Bool().Draw(t, "met")
			}
			children = append(children, met)
			front := g.Frontier(met)
			for _, id := range front {
				met[id] = true
				gained := len(g.Frontier(met)) - len(front) + 1
				met[id] = false
				if gained > 0 {
					u := want[id]
					want[id] = Unlock{id, u.Opens + gained, u.Children + 1}
				}
			}
		}
		got := g.Unlocks(children)
		if len(got) != len(want) {
			t.Fatalf("unlocks %v, want %v", got, want)
		}
		for _, u := range got {
			if u != want[u.Rung] {
				t.Fatalf("unlocks %v, want %v", u, want[u.Rung])
			}
		}
	})
}
