package cues

import "fmt"

// InputError says which field makes no sense, by its place in the caller's list, and what range is wanted.
type InputError struct {
	Field   string
	Problem string
}

// Error names the field and the range.
func (e *InputError) Error() string { return "cues: " + e.Field + " " + e.Problem }

func wrong(field, format string, args ...any) error {
	return &InputError{Field: field, Problem: fmt.Sprintf(format, args...)}
}

// within is false for a value that is not a number, as are all comparisons.
func within(x, low, high float64) bool { return x >= low && x <= high }

func between(x float64) bool { return x > 0 && x < 1 }

func (in Input) validate() error {
	faults, err := checkFaults(in.Faults)
	if err != nil {
		return err
	}
	causes, err := checkCauses(in.Causes)
	if err != nil {
		return err
	}
	return checkLinks(in.Links, faults, causes)
}

func checkFaults(faults []Fault) (ids, error) {
	known := ids{}
	for i, f := range faults {
		at := fmt.Sprintf("Faults[%d]", i)
		if err := known.add(at, f.ID); err != nil {
			return nil, err
		}
		if f.Turns < 0 {
			return nil, wrong(at+".Turns", "is %d, want at least 0", f.Turns)
		}
		if f.Seen < 0 || f.Seen > f.Turns {
			return nil, wrong(at+".Seen", "is %d, want 0 to the %d turns", f.Seen, f.Turns)
		}
	}
	return known, nil
}

func checkCauses(causes []Cause) (ids, error) {
	known := ids{}
	for i, c := range causes {
		at := fmt.Sprintf("Causes[%d]", i)
		if err := known.add(at, c.ID); err != nil {
			return nil, err
		}
		if c.Prior != 0 && !between(c.Prior) {
			return nil, wrong(at+".Prior", "is %g, want above 0 and below 1, or 0 for the setting", c.Prior)
		}
	}
	return known, nil
}

func checkLinks(links []Link, faults, causes ids) error {
	seen := map[[2]string]bool{}
	for i, l := range links {
		at := fmt.Sprintf("Links[%d]", i)
		pair := [2]string{l.Fault, l.Cause}
		switch {
		case !faults[l.Fault]:
			return wrong(at+".Fault", "is %q, which is not among the faults", l.Fault)
		case !causes[l.Cause]:
			return wrong(at+".Cause", "is %q, which is not among the causes", l.Cause)
		case seen[pair]:
			return wrong(at, "links fault %q and cause %q a second time", l.Fault, l.Cause)
		case !within(l.Strength, 0, 1):
			return wrong(at+".Strength", "is %g, want 0 to 1", l.Strength)
		}
		seen[pair] = true
	}
	return nil
}

// ids are those met so far.
type ids map[string]bool

func (k ids) add(at, id string) error {
	if id == "" {
		return wrong(at+".ID", "is empty")
	}
	if k[id] {
		return wrong(at+".ID", "is %q, which is there already", id)
	}
	k[id] = true
	return nil
}
