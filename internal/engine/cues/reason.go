package cues

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// listed is how many faults a reason names; it counts the others.
const listed = 3

func (r *Reading) cue(i int, chosen []int) Cue {
	c := r.causes[i]
	return Cue{Cause: c.id, Name: c.name(), Words: c.links[c.main].Cue, Posterior: c.posterior, Explains: c.solo,
		Reason: r.reason(i, chosen)}
}

// reason reads like "Head drops: seen in 4 of the last 6 turns; most likely because shoulders are not lifted (about 72 in
// 100)."
func (r *Reading) reason(i int, chosen []int) string {
	c := r.causes[i]
	shown := r.shown(i)
	var parts []string
	for _, f := range shown[:min(len(shown), listed)] {
		parts = append(parts, seenWords(r.faults[f]))
	}
	if more := len(shown) - listed; more > 0 {
		parts = append(parts, plural(more, "more fault"))
	}
	out := capital(strings.Join(parts, "; ")) + "; " + r.because(i, shown) + " " + inText(c.name()) + " (" + InHundred(c.posterior) + ")."
	for _, j := range chosen {
		if c.leads[j] {
			out += " It comes first because it leads to another: " + inText(r.causes[j].name()) + "."
		}
	}
	return out
}

// shown are the faults seen that the cause could show as, by how much of their trouble it explains.
func (r *Reading) shown(i int) []int {
	c := r.causes[i]
	p := &r.parts[c.part]
	var out []int
	for _, l := range c.links {
		if tidy(p.explains(l.fault, 1<<c.bit)) > 0 {
			out = append(out, l.fault)
		}
	}
	slices.SortFunc(out, func(a, b int) int {
		return cmp.Or(cmp.Compare(tidy(p.explains(b, 1<<c.bit)), tidy(p.explains(a, 1<<c.bit))), cmp.Compare(a, b))
	})
	return out
}

// because says "most likely" only of a cause likelier than all others of the first fault shown, and likely at all.
func (r *Reading) because(i int, shown []int) string {
	rival := slices.ContainsFunc(r.causes, func(c cause) bool {
		return c.id != r.causes[i].id && c.strength(shown[0]) > 0 && tidy(c.posterior) >= tidy(r.causes[i].posterior)
	})
	if rival || r.causes[i].posterior < r.settings.Likely {
		return "perhaps because"
	}
	return "most likely because"
}

func seenWords(f Fault) string {
	name := inText(cmp.Or(f.Name, f.ID))
	if f.Safety {
		name += ", which can hurt"
	}
	if f.Turns == 1 {
		return name + ": seen in the last turn"
	}
	return fmt.Sprintf("%s: seen in %d of the last %d turns", name, f.Seen, f.Turns)
}

// InHundred says a chance in plain words, never as certain.
func InHundred(p float64) string {
	switch {
	case p < 0.01:
		return "fewer than 1 in 100"
	case p > 0.99:
		return "more than 99 in 100"
	}
	return fmt.Sprintf("about %.0f in 100", 100*p)
}

// inText lowers the first letter for use within a sentence, unless it stands alone as in "L shape".
func inText(name string) string {
	first, size := utf8.DecodeRuneInString(name)
	if second, _ := utf8.DecodeRuneInString(name[size:]); !unicode.IsLower(second) {
		return name
	}
	return string(unicode.ToLower(first)) + name[size:]
}

func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
