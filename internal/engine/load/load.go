// Package load counts what a child's body has done: turns times load, by week and kind, against the teacher's caps.
//
// The numbers describe; they never say that an amount is safe. Loads are the studio's settings, not medicine.
// Days are calendar days: of every time.Time only the year, month and day in its own zone count.
package load

import "strings"

// Kind is what part of the body a load is on.
type Kind string

// The kinds of load.
const (
	Back    Kind = "back"
	Wrists  Kind = "wrists"
	Landing Kind = "landing"
)

// Kinds lists the kinds in reading order.
func Kinds() []Kind { return []Kind{Back, Wrists, Landing} }

// Load is an amount of each kind. Of one turn it is 0 (nothing) to 3 (much) of each; of a day or week it is a sum.
type Load struct {
	Back    int
	Wrists  int
	Landing int
}

// Of is the amount of one kind.
func (l Load) Of(k Kind) int {
	switch k {
	case Back:
		return l.Back
	case Wrists:
		return l.Wrists
	case Landing:
		return l.Landing
	}
	return 0
}

// Sum is the amount of all kinds together.
func (l Load) Sum() int { return l.Back + l.Wrists + l.Landing }

// Plus adds two loads, kind by kind.
func (l Load) Plus(m Load) Load {
	return Load{l.Back + m.Back, l.Wrists + m.Wrists, l.Landing + m.Landing}
}

// Times is the load of n turns.
func (l Load) Times(n int) Load { return Load{l.Back * n, l.Wrists * n, l.Landing * n} }

// Least is the smaller of two loads, kind by kind.
func (l Load) Least(m Load) Load {
	return Load{min(l.Back, m.Back), min(l.Wrists, m.Wrists), min(l.Landing, m.Landing)}
}

// Fits reports whether l is within a limit in every kind.
func (l Load) Fits(limit Load) bool { return len(l.Over(limit)) == 0 }

// Over lists the kinds in which l is above a limit, in reading order.
func (l Load) Over(limit Load) []Kind {
	var over []Kind
	for _, k := range Kinds() {
		if l.Of(k) > limit.Of(k) {
			over = append(over, k)
		}
	}
	return over
}

// Words joins kinds for a sentence: "back and wrists".
func Words(kinds []Kind) string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = string(k)
	}
	if len(out) < 2 {
		return strings.Join(out, "")
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}
