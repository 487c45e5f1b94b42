package lesson

import (
	"fmt"
	"strings"
)

// InputError says which field of an Input makes no sense, and why.
type InputError struct {
	Field   string
	Problem string
}

func (e *InputError) Error() string { return fmt.Sprintf("lesson: %s: %s", e.Field, e.Problem) }

// Conflict is a rule that, together with the others named, leaves no plan. Words says what is in the way; WaysOut are
// things a teacher could change.
type Conflict struct {
	Rule    Rule
	Words   string
	WaysOut []string
}

// Infeasible says that no plan keeps every rule. The Conflicts cannot all be kept, even if every rule not named were
// dropped; with one of them less they could. Proven is false when the search gave up before it had seen everything.
type Infeasible struct {
	Conflicts []Conflict
	Proven    bool
}

func (e *Infeasible) Error() string {
	if len(e.Conflicts) == 0 {
		return "lesson: no plan was found that keeps every rule"
	}
	return "lesson: no plan keeps every rule: " + e.words()
}

func (e *Infeasible) words() string {
	words := make([]string, len(e.Conflicts))
	for i, c := range e.Conflicts {
		words[i] = c.Words
	}
	return strings.Join(words, " ")
}
