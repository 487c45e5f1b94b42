package home

import (
	"cmp"
	"slices"
)

// Shared is a drill for a class: the children, by their places in the list, whom it suits, and what it is worth to them all.
type Shared struct {
	Drill string
	Worth int
	Suits []int
}

// ForClass ranks the drills that suit at least one of the children, what answers most first, then the lighter one. Each drill is judged
// for each child by itself, as the only one that is added. An exception is for one child, so here none counts.
func ForClass(children []Child, drills []Drill) []Shared {
	var shared []Shared
	weight := map[string]int{}
	for _, d := range drills {
		weight[d.ID] = d.WeekLoad().sum()
		s := Shared{Drill: d.ID}
		for i, c := range children {
			c.Excepted = nil
			for _, found := range Suggest(c, []Drill{d}).Suggested {
				s.Worth, s.Suits = s.Worth+found.Worth, append(s.Suits, i)
			}
		}
		if len(s.Suits) > 0 {
			shared = append(shared, s)
		}
	}
	slices.SortFunc(shared, func(a, b Shared) int {
		return cmp.Or(cmp.Compare(b.Worth, a.Worth), cmp.Compare(weight[a.Drill], weight[b.Drill]), cmp.Compare(a.Drill, b.Drill))
	})
	return shared
}
