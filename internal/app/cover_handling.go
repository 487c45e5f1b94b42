package app

import (
	"fmt"

	"rungbook/internal/engine/cover"
)

// Handling is what is known of lifting objects: context beside the cover, never a verdict on anybody.
type Handling struct {
	Zones    []cover.HandlingZone
	Examples []string
	Caution  string
	Source   string
}

// HandlingFigures are the figures with what they are not.
func HandlingFigures() Handling {
	h := Handling{Zones: cover.HandlingFilter(), Caution: cover.HandlingCaution,
		Source: "HSE, guidance L23 and INDG143, as quoted by others. ISO 11228-1 leaves people out of its scope."}
	one := h.Zones[2].WomenClose
	h.Examples = []string{
		"Hands that pass through several heights take the smallest figure.",
		fmt.Sprintf("A box for which one woman's figure is %.0f kg: two women together %.0f kg, three %.0f kg, since nobody lifts quite as one.", one, cover.Together(one, 2), cover.Together(one, 3)),
		fmt.Sprintf("The same with a twist beyond 45 degrees: %.1f kg. Once or twice a minute: %.1f kg.", cover.Twisted(one, 50), cover.Repeated(one, 1.5)),
	}
	return h
}
