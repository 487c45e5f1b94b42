package standing

import (
	"fmt"
	"strings"
)

// reason says in a sentence or two why the rung is in its state.
func (b Board) reason(i int, st Standing, s Settings) string {
	var parts []string
	switch st.State {
	case Waiting:
		parts = append(parts, "Needs first: "+b.labels(st.Missing)+".")
		if st.Marks > 0 {
			parts = append(parts, evidence(st, s.Rule))
		}
	case Open:
		parts = append(parts, b.opening(i))
	case Working:
		parts = append(parts, evidence(st, s.Rule), "Secure takes "+ruleWords(s.Rule)+".")
	case Secure:
		parts = append(parts, evidence(st, s.Rule))
	case Recheck:
		parts = append(parts, lapse(st), evidence(st, s.Rule))
	}
	if len(st.NeedsRecheck) > 0 {
		parts = append(parts, "Due a recheck first: "+b.labels(st.NeedsRecheck)+".")
	}
	if st.Met() && len(st.Missing) > 0 {
		parts = append(parts, "Not secure below it: "+b.labels(st.Missing)+".")
	}
	return strings.Join(parts, " ")
}

func (b Board) opening(i int) string {
	if len(b.graph.needs[i]) == 0 {
		return "No marks yet; it needs no other rung."
	}
	return "No marks yet; all it needs has been secure."
}

func lapse(st Standing) string {
	since := "Was secure from " + st.SecureSince.Format("2 January 2006")
	if st.ruleMet() {
		return fmt.Sprintf("%s; last seen %s ago, chance of recall %.0f%%.", since, plural(st.DaysUnseen, "day"), 100*st.Recall)
	}
	return since + ", not by the marks since."
}

// evidence reads like "4 of the last 5 clean, in 2 lessons."
func evidence(st Standing, r Rule) string {
	var b strings.Builder
	for i, t := range st.Sides {
		if i > 0 {
			b.WriteString("; ")
		}
		if t.Side != NoSide {
			b.WriteString(string(t.Side) + " ")
		}
		b.WriteString(t.words())
	}
	b.WriteString(".")
	for _, t := range st.Sides {
		if t.SafetyFault {
			fmt.Fprintf(&b, " A fault that can hurt was seen and is not yet followed by %s without it.", plural(r.Window, "mark"))
			break
		}
	}
	if st.Sideless > 0 {
		fmt.Fprintf(&b, " %s without a side not counted.", plural(st.Sideless, "mark"))
	}
	text := b.String()
	return strings.ToUpper(text[:1]) + text[1:]
}

func (t Tally) words() string {
	switch t.Of {
	case 0:
		return "no marks yet"
	case 1:
		return fmt.Sprintf("%d of 1 clean", t.Clean)
	}
	if t.Clean == 0 {
		return fmt.Sprintf("none of the last %d clean", t.Of)
	}
	return fmt.Sprintf("%d of the last %d clean, in %s", t.Clean, t.Of, plural(t.Lessons, "lesson"))
}

func ruleWords(r Rule) string {
	return fmt.Sprintf("%d of the last %d clean, in %s", r.Clean, r.Window, plural(r.Lessons, "lesson"))
}

func (b Board) labels(ids []string) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = b.graph.rungs[b.graph.index[id]].label()
	}
	return strings.Join(out, ", ")
}

func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
