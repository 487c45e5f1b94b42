package studio

import (
	"fmt"
	"strings"
)

// CoverRule is how many adults, free of spotting, a studio wants in the room.
type CoverRule struct {
	Ratios []Ratio `json:"ratios"` // youngest first; the first starts at age 0
	Adults int     `json:"adults"` // the least, however few children
	Words  string  `json:"words"`  // the owner's, for a rule that asks for fewer than recommended: whose rule it is
}

// Ratio wants one adult for at most Children children, from an age in years up to the next.
type Ratio struct {
	FromAge  int `json:"fromAge"`
	Children int `json:"children"`
}

// RecommendedCover is the default. Source: NSPCC Learning, Recommended adult to child ratios: under 2 1:3, 2-3 1:4, 4-8 1:6, 9-12 1:8,
// 13-18 1:10, and never fewer than two adults. They are minimums.
func RecommendedCover() CoverRule {
	return CoverRule{Ratios: []Ratio{{0, 3}, {2, 4}, {4, 6}, {9, 8}, {13, 10}}, Adults: 2}
}

// Laxer reports whether the rule asks for fewer adults than recommended, at any age.
func (r CoverRule) Laxer() bool {
	if r.Adults < RecommendedCover().Adults {
		return true
	}
	for age := range 19 {
		if r.at(age) > RecommendedCover().at(age) {
			return true
		}
	}
	return false
}

func (r CoverRule) at(age int) int {
	children := 0
	for _, band := range r.Ratios {
		if band.FromAge <= age {
			children = band.Children
		}
	}
	return children
}

func (r CoverRule) problems() []FieldError {
	var wrong []FieldError
	refuse := func(bad bool, field, problem string) {
		if bad {
			wrong = append(wrong, FieldError{Field: field, Problem: problem})
		}
	}
	refuse(r.Adults < 1 || r.Adults > 20, "cover-adults", "Give 1 to 20 adults.")
	refuse(len(r.Ratios) == 0 || r.Ratios[0].FromAge != 0, "cover-age-0", "The first age band starts at 0.")
	for i, band := range r.Ratios {
		refuse(band.Children < 1 || band.Children > 100, fmt.Sprintf("cover-children-%d", i), "Give 1 to 100 children.")
		if i > 0 {
			refuse(band.FromAge <= r.Ratios[i-1].FromAge, fmt.Sprintf("cover-age-%d", i), "Each band starts at a higher age than the one before.")
			refuse(band.Children < r.Ratios[i-1].Children, fmt.Sprintf("cover-children-%d", i), "Older children need no more adults than younger ones.")
		}
	}
	refuse(r.Laxer() && strings.TrimSpace(r.Words) == "", "cover-words", "This asks for fewer adults than recommended. Say which local rule allows it.")
	refuse(len([]rune(r.Words)) > 400, "cover-words", "At most 400 characters.")
	return wrong
}
