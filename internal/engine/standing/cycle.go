package standing

import (
	"slices"
	"strings"

	"gonum.org/v1/gonum/graph/topo"
)

// CycleError says that rungs need each other in a circle, so that none of them could ever be begun. Each rung needs the
// next one, and the last needs the first.
type CycleError struct {
	IDs   []string
	Names []string
}

// Error names the whole circle and the way out.
func (e *CycleError) Error() string {
	return "standing: rungs need each other in a circle: " + strings.Join(append(slices.Clone(e.Names), e.Names[0]), " needs ") +
		"; take one of these needs away"
}

func newCycle(rungs []Rung, at []int) *CycleError {
	e := &CycleError{}
	for _, i := range at {
		e.IDs = append(e.IDs, rungs[i].ID)
		e.Names = append(e.Names, rungs[i].label())
	}
	return e
}

// circle follows needs within a knot of rungs until one comes again: the first knot in reading order.
func circle(knots topo.Unorderable, needs [][]int) []int {
	var knot []int
	for _, nodes := range knots {
		var ids []int
		for _, n := range nodes {
			ids = append(ids, int(n.ID()))
		}
		slices.Sort(ids)
		if knot == nil || ids[0] < knot[0] {
			knot = ids
		}
	}
	var walk []int
	for at := knot[0]; ; {
		if first := slices.Index(walk, at); first >= 0 {
			return walk[first:]
		}
		walk = append(walk, at)
		next := slices.IndexFunc(needs[at], func(j int) bool { return slices.Contains(knot, j) })
		at = needs[at][next]
	}
}
