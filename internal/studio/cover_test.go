package studio

import (
	"strings"
	"testing"
)

// A studio may be stricter as it likes; with fewer adults than recommended (NSPCC Learning) it must say by whose rule.
func TestLaxerCoverNeedsTheOwnersWords(t *testing.T) {
	for name, c := range map[string]struct {
		rule CoverRule
		want string // part of the problem, "" when it is fine
	}{
		"as recommended":           {RecommendedCover(), ""},
		"stricter":                 {CoverRule{Ratios: []Ratio{{0, 3}, {4, 5}}, Adults: 3}, ""},
		"one adult alone":          {CoverRule{Ratios: RecommendedCover().Ratios, Adults: 1}, "fewer adults"},
		"nine of nine years":       {CoverRule{Ratios: []Ratio{{0, 3}, {2, 4}, {4, 6}, {9, 9}}, Adults: 2}, "fewer adults"},
		"by a local rule":          {CoverRule{Ratios: []Ratio{{0, 8}}, Adults: 2, Words: "The county's rule for halls with two doors."}, ""},
		"older children need more": {CoverRule{Ratios: []Ratio{{0, 3}, {4, 2}}, Adults: 2}, "no more adults"},
		"no band":                  {CoverRule{Adults: 2, Words: "x"}, "starts at 0"},
	} {
		s := DefaultSettings()
		s.Cover = c.rule
		err := s.Validate()
		if c.want == "" && err != nil {
			t.Errorf("%s: %v", name, err)
		}
		text := ""
		if e, ok := err.(*Error); ok {
			for _, f := range e.Fields {
				text += f.Problem
			}
		}
		if c.want != "" && !strings.Contains(text, c.want) {
			t.Errorf("%s: %q, want %q", name, text, c.want)
		}
	}
}
