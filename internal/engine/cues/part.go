package cues

import (
	"math"
	"math/bits"
	"slices"
)

// part is a set of causes tied together by faults seen, given all evidence. A state is a set of causes that are there:
// bit i is causes[i]. all[t] is the chance that at least those of t are there.
type part struct {
	causes []int
	seen   []seenFault
	joint  []float64 // chance of each state
	all    []float64
}

// seenFault has strength[i] for causes[i] of its part. rest[t] is the sum, over states with all of t, of the state's chance
// over the chance of the fault in it.
type seenFault struct {
	fault    int
	trouble  float64
	strength []float64
	rest     []float64
}

// split ties causes together that could show as the same seen fault, and enumerates each part.
func (r *Reading) split() error {
	for i := range r.causes {
		r.causes[i].part = -1
	}
	for i := range r.causes {
		if r.causes[i].part >= 0 {
			continue
		}
		p := part{}
		r.gather(&p, i, len(r.parts))
		if len(p.causes) > MaxLinked {
			return wrong("Causes", "has %d that hang together through faults seen, want at most %d: read fewer faults at once",
				len(p.causes), MaxLinked)
		}
		for bit, c := range p.causes {
			r.causes[c].bit = bit
		}
		r.parts = append(r.parts, p)
	}
	for i := range r.parts {
		if err := r.enumerate(&r.parts[i]); err != nil {
			return err
		}
	}
	return r.checkUnlinked()
}

// gather adds cause i to the part and then all tied to those in it, leaving the causes in order.
func (r *Reading) gather(p *part, i, at int) {
	p.causes, r.causes[i].part = []int{i}, at
	for next := 0; next < len(p.causes); next++ {
		for _, l := range r.causes[p.causes[next]].links {
			if l.Strength == 0 || r.faults[l.fault].Seen == 0 {
				continue
			}
			for j := range r.causes {
				if r.causes[j].part < 0 && r.causes[j].strength(l.fault) > 0 {
					p.causes, r.causes[j].part = append(p.causes, j), at
				}
			}
		}
	}
	slices.Sort(p.causes)
}

func (c *cause) strength(fault int) float64 {
	for _, l := range c.links {
		if l.fault == fault {
			return l.Strength
		}
	}
	return 0
}

// checkUnlinked refuses a fault that was seen although neither a cause nor the leak could show it.
func (r *Reading) checkUnlinked() error {
	if r.settings.Leak > 0 {
		return nil
	}
	for f := range r.faults {
		linked := slices.ContainsFunc(r.causes, func(c cause) bool { return c.strength(f) > 0 })
		if r.faults[f].Seen > 0 && !linked {
			return r.impossible()
		}
	}
	return nil
}

func (r *Reading) impossible() error {
	return wrong("Settings.Leak", "is %g, but by the links what was seen could not happen: want a leak above 0 or other strengths",
		r.settings.Leak)
}

// enumerate weighs every state: odds of its causes times, for each fault seen, 1 - (1-leak) * product of (1-strength).
func (r *Reading) enumerate(p *part) error {
	states := 1 << len(p.causes)
	p.joint = make([]float64, states)
	p.joint[0] = 1
	for bit, c := range p.causes {
		for t := range 1 << bit {
			p.joint[t|1<<bit] = p.joint[t] * r.causes[c].odds[1]
			p.joint[t] *= r.causes[c].odds[0]
		}
	}
	for f := range r.faults {
		if s := r.seen(p, f); s.strength != nil {
			s.rest = p.weigh(s, 1-r.settings.Leak)
			p.seen = append(p.seen, s)
		}
	}
	total := 0.0
	for _, w := range p.joint {
		total += w
	}
	if total == 0 {
		return r.impossible()
	}
	for t := range p.joint {
		p.joint[t] /= total
	}
	p.all = supersets(p.joint)
	for _, s := range p.seen {
		for t, chance := range s.rest {
			s.rest[t] = 0
			if p.joint[t] > 0 {
				s.rest[t] = p.joint[t] / chance
			}
		}
		sumSupersets(s.rest)
	}
	return nil
}

// seen describes a fault for a part, without strengths when it was not seen or no cause of the part shows as it.
func (r *Reading) seen(p *part, fault int) seenFault {
	s := seenFault{fault: fault, trouble: r.trouble(fault)}
	if r.faults[fault].Seen == 0 {
		return s
	}
	strength := make([]float64, len(p.causes))
	for bit, c := range p.causes {
		if strength[bit] = r.causes[c].strength(fault); strength[bit] > 0 {
			s.strength = strength
		}
	}
	return s
}

// weigh multiplies each state's weight with the chance of the fault in it, and returns those chances.
func (p *part) weigh(s seenFault, hidden float64) []float64 {
	chance := make([]float64, len(p.joint))
	chance[0] = hidden
	for t := 1; t < len(chance); t++ {
		low := bits.TrailingZeros(uint(t))
		chance[t] = chance[t&(t-1)] * (1 - s.strength[low])
	}
	for t := range chance {
		chance[t] = 1 - chance[t]
		p.joint[t] *= chance[t]
	}
	return chance
}

// explained is the chance that at least one cause of the set brought about a seen fault, given all evidence: the sum over
// states of joint * (1 - product of (1-strength) over set and state) / chance of the fault. Multiplied out, the products
// need only sums over supersets, so a set of n causes takes 2^n steps.
func (s seenFault) explained(set int) float64 {
	sum := 0.0
	for t := set; t > 0; t = (t - 1) & set {
		product := 1.0
		for left := t; left > 0; left &= left - 1 {
			product *= -s.strength[bits.TrailingZeros(uint(left))]
		}
		sum -= product * s.rest[t]
	}
	return sum
}

// explains is the trouble of one fault expected to be explained by the set, 0 when it was not seen.
func (p *part) explains(fault, set int) float64 {
	for _, s := range p.seen {
		if s.fault == fault {
			return s.trouble * s.explained(set)
		}
	}
	return 0
}

// worth is the trouble of all faults expected to be explained by the set.
func (p *part) worth(set int) float64 {
	sum := 0.0
	for _, s := range p.seen {
		sum += s.trouble * s.explained(set)
	}
	return sum
}

func supersets(x []float64) []float64 {
	sums := slices.Clone(x)
	sumSupersets(sums)
	return sums
}

// sumSupersets replaces each state's value by the sum over all states that contain it.
func sumSupersets(x []float64) {
	for bit := 1; bit < len(x); bit <<= 1 {
		for t := range x {
			if t&bit == 0 {
				x[t] += x[t|bit]
			}
		}
	}
}

// tidy rounds to a billionth, so that sums equal but for rounding are ties.
func tidy(x float64) float64 { return math.Round(x*1e9) / 1e9 }
