package pacing

import (
	"errors"
	"fmt"
	"strings"
)

// InputError says which field of a Problem makes no sense, and why.
type InputError struct {
	Field   string
	Problem string
}

// Error names the field, what it is and what it may be.
func (e *InputError) Error() string { return fmt.Sprintf("pacing: %s: %s", e.Field, e.Problem) }

// CycleError says that rungs need each other in a circle. Each needs the next one, and the last needs the first.
type CycleError struct {
	IDs   []string
	Names []string
}

// Error names the whole circle and the way out.
func (e *CycleError) Error() string {
	return "pacing: rungs need each other in a circle: " + strings.Join(append(e.Names[:len(e.Names):len(e.Names)], e.Names[0]), " needs ") +
		"; take one of these needs away"
}

// ErrNoTime says that the time ended before a plan was found or shown to be impossible.
var ErrNoTime = errors.New("pacing: no plan was found in the time given; allow more time or loosen a limit")

// Infeasible says that no plan keeps every rule. The Clashes cannot all be kept, even if every rule not named were
// dropped. Tight means that none of them could be left out of the list: with one less there is a plan.
type Infeasible struct {
	Clashes []Clash
	Rungs   []string // ids of the rungs that are in the way of each other
	Chain   []Step   // these rungs in the order of their weeks, when needs are among the clashes
	Tight   bool
	Words   string   // at most two sentences
	Help    []string // what would help, each by itself: with it there is a plan; "one week more", "leaving Bridge out"
}

// Error says in sentences what is in the way.
func (e *Infeasible) Error() string {
	return "pacing: no plan keeps every rule: " + e.Words
}

// Clash is a rule that, together with the others named, leaves no plan. Fields that do not apply are zero.
type Clash struct {
	Rule   Rule
	Week   int
	RungID string
	NeedID string // the rung that comes first
	Lag    int    // weeks
	Kind   Kind   // of a load limit
	Limit  int    // rungs or load a week, or times seen again
	Words  string
}

// Step is a rung of a chain: the first week that what comes before leaves it, past the end of the term if that is so.
type Step struct {
	RungID string
	First  int
}

// Rule is a rule of a plan.
type Rule string

// The rules.
const (
	RuleTerm     Rule = "term"       // every rung has one week, of the term and not over, and every id is known
	RuleTaught   Rule = "taught"     // what was taught stays
	RuleNeed     Rule = "need"       // what comes first is far enough before
	RuleEarliest Rule = "earliest"   // not before
	RuleLatest   Rule = "latest"     // not after
	RulePin      Rule = "pin"        // pins hold
	RuleHoliday  Rule = "holiday"    // nothing in a week without a lesson
	RuleQuiet    Rule = "quiet"      // nothing new in a quiet week
	RuleMinNew   Rule = "least new"  // Limits.MinNew
	RuleMaxNew   Rule = "most new"   // Limits.MaxNew
	RuleMinLoad  Rule = "least load" // Limits.MinLoad
	RuleMaxLoad  Rule = "most load"  // Limits.MaxLoad
	RuleRevisits Rule = "revisits"   // Limits.Revisits
	RuleShowcase Rule = "showcase"   // Showcase
)

// Kind is what a load is on.
type Kind string

// The kinds of load.
const (
	NewMaterial Kind = "new material"
	Back        Kind = "back"
	Wrists      Kind = "wrists"
)

// Kinds lists the kinds in reading order.
func Kinds() []Kind { return []Kind{NewMaterial, Back, Wrists} }

// Of is the amount of one kind.
func (l Load) Of(k Kind) int {
	switch k {
	case NewMaterial:
		return l.New
	case Back:
		return l.Back
	case Wrists:
		return l.Wrists
	}
	return 0
}

func (l Load) kinds() [3]int { return [3]int{l.New, l.Back, l.Wrists} }
