package cues

import (
	"cmp"
	"fmt"
	"slices"
)

// Reading is what the faults of one child say about their causes. It does not change and may be used by many goroutines at
// once.
type Reading struct {
	settings Settings
	faults   []Fault // by id, as all lists here: equal input in any order gives equal sums to the last bit
	causes   []cause
	parts    []part
}

type cause struct {
	id        string
	prior     float64
	odds      [2]float64 // weight of not being there and of being there, faults looked for and not seen included
	links     []link
	leads     []bool // to which causes, directly or not
	part, bit int
	posterior float64
	solo      float64 // trouble explained alone
	main      int     // place among links of the fault it explains most of
}

type link struct {
	Link
	fault int
}

// Read works out how likely every cause is. The only approximation is that of floating point. Causes that share no seen
// fault, directly or through others, are independent and enumerated apart: n causes that hang together take n * 2^n steps
// for each of their seen faults. It fails with an *InputError.
func Read(in Input, s Settings) (*Reading, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	if err := in.validate(); err != nil {
		return nil, err
	}
	r := &Reading{settings: s, faults: sorted(in.Faults, func(f Fault) string { return f.ID })}
	r.addCauses(in)
	if err := r.addLeads(in.Causes); err != nil {
		return nil, err
	}
	if err := r.split(); err != nil {
		return nil, err
	}
	for i := range r.causes {
		r.describe(&r.causes[i])
	}
	return r, nil
}

func sorted[T any](list []T, id func(T) string) []T {
	return slices.SortedFunc(slices.Values(list), func(a, b T) int { return cmp.Compare(id(a), id(b)) })
}

func (r *Reading) addCauses(in Input) {
	links := sorted(in.Links, func(l Link) string { return l.Fault })
	for _, c := range sorted(in.Causes, func(c Cause) string { return c.ID }) {
		own := cause{id: c.ID, prior: cmp.Or(c.Prior, r.settings.Prior)}
		own.odds = [2]float64{1 - own.prior, own.prior}
		for _, l := range links {
			if l.Cause != c.ID {
				continue
			}
			at, _ := slices.BinarySearchFunc(r.faults, l.Fault, func(f Fault, id string) int { return cmp.Compare(f.ID, id) })
			own.links = append(own.links, link{Link: l, fault: at})
			if r.absent(r.faults[at]) {
				own.odds[1] *= 1 - l.Strength // a fault not seen speaks of each cause apart and ties none together
			}
		}
		r.causes = append(r.causes, own)
	}
}

func (r *Reading) absent(f Fault) bool { return f.Seen == 0 && f.Turns >= r.settings.AbsentAfter }

// addLeads closes Before over steps, refusing causes that lead to each other in a circle.
func (r *Reading) addLeads(causes []Cause) error {
	next := map[string][]string{}
	for _, c := range causes {
		next[c.ID] = c.Before
	}
	for i := range r.causes {
		met := map[string]bool{}
		for todo := slices.Clone(next[r.causes[i].id]); len(todo) > 0; {
			id := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			if !met[id] {
				met[id] = true
				todo = append(todo, next[id]...)
			}
		}
		for _, other := range r.causes {
			r.causes[i].leads = append(r.causes[i].leads, met[other.id])
		}
		if met[r.causes[i].id] {
			at := slices.IndexFunc(causes, func(c Cause) bool { return c.ID == r.causes[i].id })
			return wrong(fmt.Sprintf("Causes[%d].Before", at), "leads from %q back to itself", r.causes[i].id)
		}
	}
	return nil
}

// describe reads a cause's numbers off its part.
func (r *Reading) describe(c *cause) {
	p := &r.parts[c.part]
	c.posterior = p.all[1<<c.bit]
	c.solo = p.worth(1 << c.bit)
	for i := range c.links {
		if p.compare(c, i, c.main) > 0 {
			c.main = i
		}
	}
}

// compare ranks two links of a cause by the trouble they explain, then by strength.
func (p *part) compare(c *cause, i, j int) int {
	explains := func(i int) float64 { return tidy(p.explains(c.links[i].fault, 1<<c.bit)) }
	return cmp.Or(cmp.Compare(explains(i), explains(j)), cmp.Compare(c.links[i].Strength, c.links[j].Strength))
}

// name is the cause in the words of the fault it explains most of, and its id when no link gives words.
func (c cause) name() string {
	if len(c.links) == 0 {
		return c.id
	}
	return cmp.Or(c.links[c.main].Name, c.id)
}

// trouble is the weight of a fault: its share of turns, and the safety weight if it was seen and can hurt.
func (r *Reading) trouble(fault int) float64 {
	f := r.faults[fault]
	switch {
	case f.Seen == 0:
		return 0
	case f.Safety:
		return r.settings.SafetyWeight
	}
	return float64(f.Seen) / float64(f.Turns)
}

// Causes lists every cause, likeliest first, equal ones by id.
func (r *Reading) Causes() []Likelihood {
	var out []Likelihood
	for _, c := range r.causes {
		out = append(out, Likelihood{Cause: c.id, Name: c.name(), Prior: c.prior, Posterior: c.posterior})
	}
	slices.SortStableFunc(out, func(a, b Likelihood) int { return cmp.Compare(tidy(b.Posterior), tidy(a.Posterior)) })
	return out
}
