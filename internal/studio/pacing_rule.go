package studio

import "fmt"

// PacingRule is what a rung counts in the weeks of a term, and when it comes back. All are ours, to be changed: no published figure.
type PacingRule struct {
	New     int   `json:"new"`     // points of new material in the week in which a rung is new, 1 to 10
	Spotted int   `json:"spotted"` // points more where it is spotted, 0 to 10
	Again   int   `json:"again"`   // points each time that it is seen again, 0 to 10
	After   []int `json:"after"`   // seen again so many weeks after it was new, 1 to 12, each later than the one before; up to three
	Quiet   int   `json:"quiet"`   // lessons before a showcase with nothing new, 0 to 4
}

// Limits of a PacingRule.
const (
	MostPoints  = 10
	MostAgain   = 3
	LatestAgain = 12
	MostQuiet   = 4
)

// DefaultPacing is the rule of a studio that has set nothing. That practice is spread out, and that what is shown is not new, is common
// practice, no source.
func DefaultPacing() PacingRule {
	return PacingRule{New: 2, Spotted: 1, Again: 1, After: []int{1, 3}, Quiet: 1}
}

func (r PacingRule) problems() []FieldError {
	var wrong []FieldError
	within := func(field string, v, least, most int, unit string) {
		if v < least || v > most {
			wrong = append(wrong, FieldError{Field: field, Problem: fmt.Sprintf("Give %d to %d %s.", least, most, unit)})
		}
	}
	within("pacing-new", r.New, 1, MostPoints, "points")
	within("pacing-spotted", r.Spotted, 0, MostPoints, "points")
	within("pacing-again", r.Again, 0, MostPoints, "points")
	within("pacing-quiet", r.Quiet, 0, MostQuiet, "lessons")
	if len(r.After) > MostAgain {
		wrong = append(wrong, FieldError{Field: "pacing-after-0", Problem: "A rung is seen again three times at most."})
	}
	for i, weeks := range r.After {
		field := fmt.Sprintf("pacing-after-%d", i)
		within(field, weeks, 1, LatestAgain, "weeks")
		if i > 0 && weeks <= r.After[i-1] {
			wrong = append(wrong, FieldError{Field: field, Problem: "Give more weeks than the time before."})
		}
	}
	return wrong
}
