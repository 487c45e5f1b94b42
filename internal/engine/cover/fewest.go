package cover

import "slices"

// Fewest is a smallest group of the people present, sorted, who between them may spot every rung, each with as many as it needs. Rungs for
// which not enough are signed off and here come back in short, and do not count.
func (n Night) Fewest(rungs []Rung) (people, short []string) {
	var wants []want
	for _, r := range rungs {
		may, _ := n.spotters(r.ID)
		if len(may) < r.Spotters {
			short = append(short, r.ID)
			continue
		}
		w := want{left: r.Spotters}
		for _, p := range may {
			w.may = append(w.may, p.ID)
		}
		slices.Sort(w.may)
		wants = append(wants, w)
	}
	for size := 0; ; size++ {
		if found, ok := coverAll(wants, nil, size); ok {
			slices.Sort(found)
			return found, short
		}
	}
}

// want is how many more of some people a rung takes.
type want struct {
	may  []string
	left int
}

// coverAll adds at most so many people until no rung wants any: whoever may serve the first rung that does is tried in turn.
func coverAll(wants []want, chosen []string, more int) ([]string, bool) {
	i := slices.IndexFunc(wants, func(w want) bool { return w.left > 0 })
	if i < 0 {
		return chosen, true
	}
	if more == 0 {
		return nil, false
	}
	for _, p := range wants[i].may {
		if slices.Contains(chosen, p) {
			continue
		}
		then := slices.Clone(wants)
		for j := range then {
			if slices.Contains(then[j].may, p) {
				then[j].left--
			}
		}
		if found, ok := coverAll(then, append(slices.Clone(chosen), p), more-1); ok {
			return found, true
		}
	}
	return nil, false
}
