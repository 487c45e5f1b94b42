package cover

import (
	"math"
	"testing"
)

// Computed from the filter's rules, which we read at second hand (HSE L23/INDG143 as quoted): nothing here is a published example.
func TestHandlingByHand(t *testing.T) {
	woman := HandlingFilter()[2].WomenClose
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"two women, knuckle to elbow: 32 times two thirds", Together(woman, 2), 21.33},
		{"three women: half of 48", Together(woman, 3), 24},
		{"one woman, twisting 50 degrees", Twisted(woman, 50), 14.4},
		{"one woman, twisting 100 degrees", Twisted(woman, 100), 12.8},
		{"one woman, once or twice a minute", Repeated(woman, 1.5), 11.2},
		{"one woman, six times a minute", Repeated(woman, 6), 8},
		{"one woman, thirteen times a minute", Repeated(woman, 13), 3.2},
		{"30 an hour is not repeated", Repeated(woman, 0.5), 16},
		{"four are not in the rule", Together(woman, 4), 0},
		// A rail example: two people of 20 kg make 26.6 kg (published as such, read at second hand).
		{"two of 20 kg", Together(20, 2), 26.67},
	} {
		if math.Abs(c.got-c.want) > 0.01 {
			t.Errorf("%s: %.2f, want %.2f", c.name, c.got, c.want)
		}
	}
}

// The smallest figure of the zones that hands pass through holds; arm's length is never more than close, a woman's never more than a man's.
func TestHandlingFilterIsOrdered(t *testing.T) {
	for _, z := range HandlingFilter() {
		if z.MenFar > z.MenClose || z.WomenFar > z.WomenClose || z.WomenClose > z.MenClose || z.WomenFar > z.MenFar {
			t.Errorf("%+v", z)
		}
	}
}
