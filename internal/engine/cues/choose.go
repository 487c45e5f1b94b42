package cues

import (
	"cmp"
	"slices"
)

// Choose gives the set of at most Settings.Most cues, one for a cause, that is expected to explain the most trouble. It is
// exact. A cause that falls under Settings.Least gets no cue; one that a likely cause leads to is chosen only together with
// that. Of equal sets the smaller is taken, then the one whose ids, in order, come first. A cause stands before those
// it leads to; else the cause that alone explains more comes first, then the lower id. Of n causes it looks at no more than
// the sets of each size, about n^2/2 for two cues and n^4/24 for four, and mostly at far fewer.
func (r *Reading) Choose() Choice {
	s := r.newSearch()
	for size := 1; size <= r.settings.Most; size++ {
		s.extend(nil, make([]int, len(r.parts)), 0, size)
	}
	out := Choice{Explained: s.worth}
	for f := range r.faults {
		out.Trouble += r.trouble(f)
	}
	chosen := r.order(s.best)
	for _, i := range chosen {
		out.Cues = append(out.Cues, r.cue(i, chosen))
	}
	out.Drills = r.drills(chosen)
	return out
}

// search goes through sets of causes by size and id. roots[i] are those that must be in a set with cause i.
type search struct {
	r     *Reading
	open  []int
	top   [][]float64 // top[i][n]: the n greatest solo troubles from open[i] on, summed
	roots map[int][]int
	best  []int
	worth float64
}

func (r *Reading) newSearch() *search {
	s := &search{r: r, roots: map[int][]int{}}
	for i, c := range r.causes {
		if r.answerable(c) {
			s.open = append(s.open, i)
		}
	}
	for _, i := range s.open {
		for _, j := range s.open {
			if r.causes[j].leads[i] && r.causes[j].posterior >= r.settings.Likely {
				s.roots[i] = append(s.roots[i], j)
			}
		}
	}
	for from := range len(s.open) + 1 {
		s.top = append(s.top, r.tops(s.open[from:]))
	}
	return s
}

// answerable says whether a cause is likely enough for a cue and explains anything seen.
func (r *Reading) answerable(c cause) bool {
	return c.posterior >= r.settings.Least && tidy(c.solo) > 0
}

// tops sums the greatest solo troubles of some causes: none, one, two and so on, up to the number of cues.
func (r *Reading) tops(causes []int) []float64 {
	var solo []float64
	for _, i := range causes {
		solo = append(solo, r.causes[i].solo)
	}
	slices.Sort(solo)
	sums := make([]float64, r.settings.Most+1)
	for n := range r.settings.Most {
		sums[n+1] = sums[n]
		if n < len(solo) {
			sums[n+1] += solo[len(solo)-1-n]
		}
	}
	return sums
}

// extend adds left more causes, from open[from] on, to the chosen ones, whose bits in each part are sets. Causes overlap in
// what they explain, so none adds more than it explains alone: that bounds what a branch can reach.
func (s *search) extend(chosen []int, sets []int, from, left int) {
	worth := 0.0
	for p, set := range sets {
		worth += s.r.parts[p].worth(set)
	}
	if left == 0 {
		if tidy(worth) > tidy(s.worth) && s.rooted(chosen) {
			s.best, s.worth = slices.Clone(chosen), worth
		}
		return
	}
	for at := from; at < len(s.open); at++ {
		if tidy(worth+s.top[at][left]) <= tidy(s.worth) {
			return
		}
		c := s.r.causes[s.open[at]]
		sets[c.part] |= 1 << c.bit
		s.extend(append(chosen, s.open[at]), sets, at+1, left-1)
		sets[c.part] &^= 1 << c.bit
	}
}

func (s *search) rooted(chosen []int) bool {
	for _, i := range chosen {
		for _, root := range s.roots[i] {
			if !slices.Contains(chosen, root) {
				return false
			}
		}
	}
	return true
}

// order puts roots first, then what explains more.
func (r *Reading) order(chosen []int) []int {
	left := slices.Clone(chosen)
	slices.SortFunc(left, func(i, j int) int {
		return cmp.Or(cmp.Compare(tidy(r.causes[j].solo), tidy(r.causes[i].solo)), cmp.Compare(i, j))
	})
	var out []int
	for len(left) > 0 {
		at := slices.IndexFunc(left, func(i int) bool {
			return !slices.ContainsFunc(left, func(j int) bool { return r.causes[j].leads[i] })
		})
		out = append(out, left[at])
		left = slices.Delete(left, at, at+1)
	}
	return out
}

// drills unites those that answer the chosen causes at faults seen: likeliest cause first, then more causes, then id.
func (r *Reading) drills(chosen []int) []Drill {
	at := map[string]int{}
	var out []Drill
	for _, i := range chosen {
		c := r.causes[i]
		for _, id := range c.answers(r.faults) {
			if _, met := at[id]; !met {
				at[id] = len(out)
				out = append(out, Drill{ID: id})
			}
			d := &out[at[id]]
			d.Causes = append(d.Causes, c.id)
			d.Posterior = max(d.Posterior, c.posterior)
		}
	}
	slices.SortFunc(out, func(a, b Drill) int {
		return cmp.Or(cmp.Compare(tidy(b.Posterior), tidy(a.Posterior)), cmp.Compare(len(b.Causes), len(a.Causes)),
			cmp.Compare(a.ID, b.ID))
	})
	return out
}

// answers are the drills for the cause at faults seen, each once.
func (c cause) answers(faults []Fault) []string {
	var out []string
	for _, l := range c.links {
		if faults[l.fault].Seen > 0 && l.Strength > 0 {
			out = append(out, l.Drills...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
