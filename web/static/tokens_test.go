package static

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// pair is two tokens that meet on a page, and the contrast they need.
type pair struct {
	front, back string
	least       float64
}

// pairs need 4.5:1 for text and 3:1 for edges and marks: WCAG 2.2, success
// criteria 1.4.3 and 1.4.11.
var pairs = []pair{
	{"ink", "paper", 4.5}, {"ink", "sheet", 4.5}, {"ink", "accent-soft", 4.5}, {"ink", "warn-soft", 4.5},
	{"ink-soft", "paper", 4.5}, {"ink-soft", "sheet", 4.5}, {"ink-soft", "accent-soft", 4.5}, {"ink-soft", "warn-soft", 4.5},
	{"accent", "paper", 4.5}, {"accent", "sheet", 4.5}, {"accent", "accent-soft", 4.5}, {"on-accent", "accent", 4.5},
	{"warn", "paper", 4.5}, {"warn", "sheet", 4.5}, {"warn", "warn-soft", 4.5}, {"on-warn", "warn", 4.5},
	{"edge", "paper", 3}, {"edge", "sheet", 3}, {"edge", "accent-soft", 3}, {"edge", "warn-soft", 3},
}

func TestTokensHaveContrast(t *testing.T) {
	schemes := readSchemes(t)
	for scheme, colours := range schemes {
		for _, p := range pairs {
			t.Run(fmt.Sprintf("%s/%s on %s", scheme, p.front, p.back), func(t *testing.T) {
				got := contrast(luminance(t, colours[p.front]), luminance(t, colours[p.back]))
				if got < p.least {
					t.Errorf("contrast of %s and %s is %.2f, want at least %.1f", colours[p.front], colours[p.back], got, p.least)
				}
			})
		}
	}
}

// The worked values are the two ends of the scale, WCAG 2.2 "contrast ratio"
// (1 to 21), and #777777 on white, 4.48, a common example (from memory).
func TestContrastAgainstKnownValues(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#ffffff", "#ffffff", 1}, {"#777777", "#ffffff", 4.48}} {
		if got := contrast(luminance(t, c.a), luminance(t, c.b)); math.Abs(got-c.want) > 0.005 {
			t.Errorf("contrast(%s, %s) = %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
}

// Every colour is a token: a part that names one of its own would not follow
// the reader's scheme.
func TestOnlyTokensNameColours(t *testing.T) {
	colour := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b`)
	for _, part := range styleParts {
		if part == "tokens" || part == "print" {
			continue
		}
		if found := colour.FindAllString(readPart(t, part), -1); found != nil {
			t.Errorf("css/%s.css names colours of its own: %v", part, found)
		}
	}
}

// readSchemes returns the tokens of the light and the dark scheme.
func readSchemes(t *testing.T) map[string]map[string]string {
	t.Helper()
	light, rest, ok := strings.Cut(readPart(t, "tokens"), "@media (prefers-color-scheme: dark)")
	dark, _, ok2 := strings.Cut(rest, "@media (forced-colors: active)")
	if !ok || !ok2 {
		t.Fatal("tokens.css has no dark scheme")
	}
	return map[string]map[string]string{"light": readTokens(light), "dark": readTokens(dark)}
}

func readTokens(css string) map[string]string {
	tokens := map[string]string{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(css, -1) {
		tokens[m[1]] = m[2]
	}
	return tokens
}

func readPart(t *testing.T, part string) string {
	t.Helper()
	css, err := files.ReadFile("css/" + part + ".css")
	if err != nil {
		t.Fatal(err)
	}
	return string(css)
}

// luminance is the relative luminance of an sRGB colour, WCAG 2.2, "relative luminance".
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is not a colour", hex)
	}
	return 0.2126*linear(n>>16&255) + 0.7152*linear(n>>8&255) + 0.0722*linear(n&255)
}

func linear(channel uint64) float64 {
	c := float64(channel) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

func contrast(a, b float64) float64 {
	return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05)
}
