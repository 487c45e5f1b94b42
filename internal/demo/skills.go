package demo

import (
	"slices"

	"rungbook/internal/studio"
)

// skills is the library as the generator of marks reads it.
type skills struct {
	rungs   map[string]studio.Rung
	ladders map[string][]string // rung keys from bottom to top
	order   []string            // every rung after all it needs
	doses   map[string]studio.Dose
}

func newSkills(library studio.Library) skills {
	s := skills{rungs: map[string]studio.Rung{}, ladders: map[string][]string{}, doses: map[string]studio.Dose{}}
	for _, d := range library.Drills {
		s.doses[d.Key] = d.Dose
	}
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			s.rungs[r.Key] = r
			s.ladders[l.Key] = append(s.ladders[l.Key], r.Key)
		}
	}
	placed := map[string]bool{}
	for _, l := range library.Ladders {
		for _, key := range s.ladders[l.Key] {
			s.place(key, placed)
		}
	}
	return s
}

// place puts a rung behind all that it needs. The library has no circles: the import refuses them.
func (s *skills) place(key string, placed map[string]bool) {
	if placed[key] {
		return
	}
	placed[key] = true
	for _, need := range s.rungs[key].Needs {
		s.place(need, placed)
	}
	s.order = append(s.order, key)
}

// upTo lists these rungs with all they need, near or far, in order.
func (s skills) upTo(keys []string) []string {
	wanted := map[string]bool{}
	for _, key := range slices.Backward(s.order) {
		if !wanted[key] && !slices.Contains(keys, key) {
			continue
		}
		wanted[key] = true
		for _, need := range s.rungs[key].Needs {
			wanted[need] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(s.order), func(key string) bool { return !wanted[key] })
}

// spotted lists the rungs of a ladder ("": of all) up to a rung ("": to the top) that need a spotter.
func (s skills) spotted(ladder, until string) []string {
	keys := s.order
	if ladder != "" {
		keys = s.ladders[ladder]
	}
	var out []string
	for _, key := range keys {
		if s.rungs[key].Spotting.People > 0 {
			out = append(out, key)
		}
		if key == until {
			break
		}
	}
	return out
}

// sides are the sides on which a rung is marked.
func (s skills) sides(key string) []studio.Side {
	if s.rungs[key].TwoSided {
		return []studio.Side{studio.Left, studio.Right}
	}
	return []studio.Side{studio.NoSide}
}
