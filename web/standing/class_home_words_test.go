package standing

import (
	"testing"

	"rungbook/internal/app"
)

// Whom a drill suits is said by the shorter list.
func TestSuitsWords(t *testing.T) {
	for _, c := range []struct {
		suits, others []string
		want          string
	}{
		{[]string{"Ana", "Bo"}, nil, "Suits everybody here: 2 children."},
		{[]string{"Ana"}, nil, "Suits everybody here: 1 child."},
		{[]string{"Ana", "Bo", "Cy"}, []string{"Di", "Ed"}, "Suits 3 of 5 children, not Di and Ed."},
		{[]string{"Ana", "Bo"}, []string{"Cy", "Di", "Ed"}, "Suits 2 of 5 children: Ana and Bo."},
	} {
		if got := suitsWords(app.ClassDrill{Suits: c.suits, Others: c.others}); got != c.want {
			t.Errorf("suits %v and not %v: %q, want %q", c.suits, c.others, got, c.want)
		}
	}
}
