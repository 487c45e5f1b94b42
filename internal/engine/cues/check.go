package cues

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat"
)

// Observation is something a teacher may look for or ask to tell causes apart. Chances are those (0 to 1) that a cause alone
// shows as it; causes that are not in the Input count for nothing. Otherwise (0 to 1) is the chance without any of them.
type Observation struct {
	ID        string
	Name      string
	Otherwise float64
	Chances   []Chance
}

// Chance is how likely (0 to 1) a cause alone shows as an observation.
type Chance struct {
	Cause  string
	Chance float64
}

// Rival is one of the two causes that a check is to tell apart: how likely it is Now, and once the observation was Seen or
// NotSeen.
type Rival struct {
	Cause   string
	Name    string
	Now     float64
	Seen    float64
	NotSeen float64
}

// Check is the observation to make next. Bits is the expected drop in entropy of the question "is it the First or the
// Second?", that is the drop if just one of them is there, times the chance of that. Seen is the chance of seeing it.
type Check struct {
	Observation string
	Name        string
	First       Rival
	Second      Rival
	Seen        float64
	Bits        float64
	Reason      string
}

// Check picks the observation, and two causes that could get a cue and show as one and the same fault seen, with the
// largest expected drop in entropy; equal ones by the earlier observation, then by the ids of the causes. Observations
// that are faults looked for already are passed over. ok is false when nothing tells two causes apart. It fails with an
// *InputError.
func (r *Reading) Check(observations []Observation) (best Check, ok bool, err error) {
	if err := checkObservations(observations); err != nil {
		return Check{}, false, err
	}
	for _, o := range sorted(observations, func(o Observation) string { return o.ID }) {
		if r.known(o.ID) {
			continue
		}
		v := r.view(o)
		for _, pair := range r.rivals() {
			if c := v.check(pair[0], pair[1]); tidy(c.Bits) > tidy(best.Bits) {
				best, ok = c, true
			}
		}
	}
	if ok {
		best.Reason = best.reason()
	}
	return best, ok, nil
}

func checkObservations(list []Observation) error {
	known := ids{}
	for i, o := range list {
		at := fmt.Sprintf("Observations[%d]", i)
		if err := known.add(at, o.ID); err != nil {
			return err
		}
		if !within(o.Otherwise, 0, 1) {
			return wrong(at+".Otherwise", "is %g, want 0 to 1", o.Otherwise)
		}
		causes := ids{}
		for j, c := range o.Chances {
			in := fmt.Sprintf("%s.Chances[%d]", at, j)
			if causes[c.Cause] {
				return wrong(in+".Cause", "is %q, which is there already", c.Cause)
			}
			causes[c.Cause] = true
			if !within(c.Chance, 0, 1) {
				return wrong(in+".Chance", "is %g, want 0 to 1", c.Chance)
			}
		}
	}
	return nil
}

func (r *Reading) known(id string) bool {
	for _, f := range r.faults {
		if f.ID == id {
			return f.Seen > 0 || r.absent(f)
		}
	}
	return false
}

// rivals are pairs of causes that could both get a cue and both show as a fault seen.
func (r *Reading) rivals() [][2]int {
	var out [][2]int
	for i, a := range r.causes {
		for j := i + 1; j < len(r.causes); j++ {
			if r.answerable(a) && r.answerable(r.causes[j]) && r.share(a, r.causes[j]) {
				out = append(out, [2]int{i, j})
			}
		}
	}
	return out
}

func (r *Reading) share(a, b cause) bool {
	for _, l := range a.links {
		if l.Strength > 0 && r.faults[l.fault].Seen > 0 && b.strength(l.fault) > 0 {
			return true
		}
	}
	return false
}

// view is an observation before it is made. hidden[p][t] is, within part p, the chance that all of state t are there and
// none of the part's causes shows as it; hidden[p][0] is the chance that none shows.
type view struct {
	r      *Reading
	o      Observation
	hidden [][]float64
}

func (r *Reading) view(o Observation) view {
	v := view{r: r, o: o}
	for _, p := range r.parts {
		h := make([]float64, len(p.joint))
		copy(h, p.joint)
		for bit, i := range p.causes {
			keep := 1 - o.chance(r.causes[i].id)
			for t := range h {
				if t>>bit&1 == 1 {
					h[t] *= keep
				}
			}
		}
		sumSupersets(h)
		v.hidden = append(v.hidden, h)
	}
	return v
}

func (o Observation) chance(cause string) float64 {
	for _, c := range o.Chances {
		if c.Cause == cause {
			return c.Chance
		}
	}
	return 0
}

// outside is the chance that neither a cause of another part nor anything unlisted shows as the observation.
func (v view) outside(part int) float64 {
	product := 1 - v.o.Otherwise
	for p := range v.hidden {
		if p != part {
			product *= v.hidden[p][0]
		}
	}
	return product
}

// check works out what the observation does for two causes of one part.
func (v view) check(i, j int) Check {
	a, b := v.r.causes[i], v.r.causes[j]
	all, hidden, outside := v.r.parts[a.part].all, v.hidden[a.part], v.outside(a.part)
	onlyA, onlyB := 1<<a.bit, 1<<b.bit
	one := [2]float64{less(all, onlyA, onlyB), less(all, onlyB, onlyA)}
	not := [2]float64{outside * less(hidden, onlyA, onlyB), outside * less(hidden, onlyB, onlyA)}
	seen := [2]float64{max(0, one[0]-not[0]), max(0, one[1]-not[1])}
	c := Check{Observation: v.o.ID, Name: v.o.Name, Seen: 1 - outside*hidden[0]}
	c.Bits = entropy(one) - entropy(not) - entropy(seen)
	c.First, c.Second = v.rival(a, c.Seen), v.rival(b, c.Seen)
	return c
}

// less is the chance of one cause being there without another, from sums over supersets.
func less(sums []float64, with, without int) float64 { return max(0, sums[with]-sums[with|without]) }

func (v view) rival(c cause, seen float64) Rival {
	hidden, bit := v.hidden[c.part], 1<<c.bit
	out := Rival{Cause: c.id, Name: c.name(), Now: c.posterior, Seen: c.posterior, NotSeen: c.posterior}
	if seen > 0 {
		out.Seen = min(1, max(0, (c.posterior-v.outside(c.part)*hidden[bit])/seen))
	}
	if hidden[0] > 0 {
		out.NotSeen = hidden[bit] / hidden[0]
	}
	return out
}

// entropy, in bits, is that of the two shares of a whole, times the whole.
func entropy(w [2]float64) float64 {
	whole := w[0] + w[1]
	if whole == 0 {
		return 0
	}
	return whole * stat.Entropy([]float64{w[0] / whole, w[1] / whole}) / math.Ln2
}

func (c Check) reason() string {
	name := cmp.Or(strings.TrimSuffix(c.Name, "."), c.Observation)
	return fmt.Sprintf("Check next: %s. It best tells two causes apart: %s; or %s.", name, c.First.words(), c.Second.words())
}

func (r Rival) words() string {
	return fmt.Sprintf("%s (now %s; if seen, %s; if not, %s)", inText(r.Name), InHundred(r.Now), InHundred(r.Seen), InHundred(r.NotSeen))
}
