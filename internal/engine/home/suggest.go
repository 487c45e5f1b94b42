package home

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Suggestion is a drill that may go home. Worth ranks it: two for each time an answered cause was seen, one for each
// rung it prepares. Excepted is one that goes home only by the child's exception; an adult is then always needed.
type Suggestion struct {
	Drill    string
	Worth    int
	Load     Load
	Adult    bool
	Excepted bool
	Reason   string
}

// Choice is the answer for one child: what may go home, best first, and every other drill with the rule against it.
type Choice struct {
	Suggested []Suggestion
	Refused   []Refusal
}

// Suggest filters and ranks drills for a child. The suggestions together fit what is left of the week: a drill is refused
// for load only after better ones have taken their part. Equal worth puts the lighter drill first.
func Suggest(c Child, drills []Drill) Choice {
	var choice Choice
	left := c.Left
	for _, d := range byWorth(c, drills) {
		r, refused := c.refused(d)
		if !refused {
			r, refused = c.unfit(d, left)
		}
		if refused {
			choice.Refused = append(choice.Refused, r)
			continue
		}
		left = left.minus(d.WeekLoad())
		choice.Suggested = append(choice.Suggested, Suggestion{
			Drill: d.ID, Worth: c.worth(d), Load: d.WeekLoad(), Adult: d.Adult || c.byException(d), Excepted: c.byException(d), Reason: c.why(d),
		})
	}
	return choice
}

func (c Child) unfit(d Drill, left Load) (Refusal, bool) {
	if c.worth(d) == 0 {
		return refuse(d, NoUse, "%s answers nothing seen lately and prepares no open rung.", d.Name)
	}
	if part := d.WeekLoad().over(left); part != "" {
		return refuse(d, WeekLoadCap, "%s would load the %s past what is left of the week.", d.Name, part)
	}
	return Refusal{}, false
}

func byWorth(c Child, drills []Drill) []Drill {
	out := slices.Clone(drills)
	slices.SortFunc(out, func(a, b Drill) int {
		return cmp.Or(
			cmp.Compare(c.worth(b), c.worth(a)),
			cmp.Compare(a.WeekLoad().sum(), b.WeekLoad().sum()),
			cmp.Compare(a.ID, b.ID))
	})
	return out
}

func (c Child) worth(d Drill) int {
	worth := 0
	for _, s := range c.answered(d) {
		worth += 2 * s.Times
	}
	return worth + len(c.prepared(d))
}

func (c Child) answered(d Drill) []Seen {
	var out []Seen
	for _, s := range c.Seen {
		if s.Times > 0 && slices.Contains(d.Answers, s.Cause) {
			out = append(out, s)
		}
	}
	return out
}

func (c Child) prepared(d Drill) []Goal {
	var out []Goal
	for _, g := range c.Goals {
		if slices.Contains(d.Prepares, g.Rung) {
			out = append(out, g)
		}
	}
	return out
}

func (c Child) why(d Drill) string {
	var parts []string
	for _, s := range c.answered(d) {
		parts = append(parts, fmt.Sprintf("answers %s (seen %s)", s.Name, often(s.Times)))
	}
	for _, g := range c.prepared(d) {
		parts = append(parts, "prepares "+g.Name)
	}
	why := d.Name + " " + strings.Join(parts, ", ") + "."
	if c.byException(d) {
		return why + " Only by the exception for this child: an adult must be in the room."
	}
	why += " At home: " + strings.TrimSuffix(d.HomeReason, ".") + "."
	if d.Adult {
		why += " An adult must be in the room."
	}
	return why
}

func often(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}
