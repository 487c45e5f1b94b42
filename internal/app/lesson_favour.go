package app

import (
	"fmt"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/studio"
)

// waits is the share of the stations, 0 to 1, that each child of a plan waited or rested, and the mean of them all.
func waits(p studio.Plan) (each map[uuid.UUID]float64, mean float64) {
	each, times := map[uuid.UUID]float64{}, map[uuid.UUID]int{}
	for _, e := range p.Entries {
		each[e.ChildID] += e.WaitShare
		times[e.ChildID]++
	}
	for child, n := range times {
		each[child] /= float64(n)
	}
	for _, m := range p.Members { // in their order, so that the sum is the same each time
		mean += each[m.ChildID] / float64(len(p.Members))
	}
	return each, mean
}

// favour is the factor on all that a child may do: 1, and what the child waited more than the class in the last planned lesson, at most
// mostFavour more. One percent of the stations more is one percent more.
func (e *evening) favour(child uuid.UUID) float64 {
	if e.last == nil {
		return 1
	}
	each, mean := waits(e.last.Plan)
	return 1 + min(mostFavour, max(0, each[child]-mean))
}

func favoured(list []lesson.Option, factor float64) []lesson.Option {
	list = slices.Clone(list)
	for i := range list {
		list[i].Priority *= factor
	}
	return list
}

// favourWords says what a child gets for having waited; "" when that is less than half a percent.
func (e *evening) favourWords(child uuid.UUID) string {
	more := e.favour(child) - 1
	if more < 0.005 {
		return ""
	}
	each, mean := waits(e.last.Plan)
	return fmt.Sprintf("Last time the child waited %.0f%% of the stations, the class %.0f%% on average: all of this child's work counts %.0f%% more today.",
		100*each[child], 100*mean, 100*more)
}
