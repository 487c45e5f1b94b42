package app

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/internal/engine/lesson"
)

// signOffWanted names the rung for which one more signed-off person would open work to the most children who are here, "" when nobody
// is missing anywhere. Of equal ones the first by name is taken.
func signOffWanted(in lesson.Input) string {
	best, bestName := 0, ""
	for _, a := range in.Activities {
		if a.SpottersNeeded == 0 || spottersFor(in, a.ID) >= a.SpottersNeeded {
			continue
		}
		children := 0
		for _, c := range in.Children {
			if slices.ContainsFunc(c.Options, func(o lesson.Option) bool { return o.ActivityID == a.ID }) {
				children++
			}
		}
		if children > best || children == best && children > 0 && strings.Compare(a.Name, bestName) < 0 {
			best, bestName = children, a.Name
		}
	}
	if best == 0 {
		return ""
	}
	if best == 1 {
		return fmt.Sprintf("One more person signed off for %q would open it to 1 child.", bestName)
	}
	return fmt.Sprintf("One more person signed off for %q would open it to %d children.", bestName, best)
}

// spottersFor counts the people who may spot an activity.
func spottersFor(in lesson.Input, activity string) int {
	n := 0
	for _, s := range in.Staff {
		if s.MaySpot && slices.Contains(s.SignedOff, activity) {
			n++
		}
	}
	return n
}
