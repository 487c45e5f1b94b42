package report

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavuserifcondensed"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// letters knows which letters the printing fonts can draw. Not safe for concurrent use: one per document.
type letters struct {
	sans, serif *glyphs
	lost        bool // something was replaced since this was last set to false
}

func newLetters() (*letters, error) {
	sans, err := newGlyphs(dejavusanscondensed.TTF)
	if err != nil {
		return nil, err
	}
	serif, err := newGlyphs(dejavuserifcondensed.TTF)
	if err != nil {
		return nil, err
	}
	return &letters{sans: sans, serif: serif}, nil
}

// printable is a text as it can be printed: composed (NFC), one space for each run of blanks, emoji and invisible marks
// left out, and U+FFFD for each letter that the sans font lacks (which sets lost).
func (l *letters) printable(text string) string {
	text = norm.NFC.String(strings.ToValidUTF8(text, "\uFFFD"))
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || unicode.IsControl(r):
			return ' '
		case unicode.In(r, unicode.Cf, unicode.Variation_Selector) || r > 0xFFFF && unicode.In(r, unicode.So, unicode.Sk):
			return -1
		case !l.sans.has(r):
			l.lost = true
			return unicode.ReplacementChar
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// family is the wished family when it can draw the whole line, else the sans, which knows more letters.
func (l *letters) family(wished, line string) string {
	for _, r := range line {
		if wished == "serif" && !l.serif.has(r) {
			return "sans"
		}
	}
	return wished
}

// glyphs is one font's letters, remembered once looked up.
type glyphs struct {
	font   *sfnt.Font
	buffer sfnt.Buffer
	known  map[rune]bool
}

func newGlyphs(file []byte) (*glyphs, error) {
	font, err := sfnt.Parse(file)
	if err != nil {
		return nil, fmt.Errorf("read a printing font: %w", err)
	}
	return &glyphs{font: font, known: map[rune]bool{}}, nil
}

func (g *glyphs) has(r rune) bool {
	if r > 0xFFFF { // the PDF library stops at such a letter
		return false
	}
	has, looked := g.known[r]
	if !looked {
		index, err := g.font.GlyphIndex(&g.buffer, r)
		has = err == nil && index != 0
		g.known[r] = has
	}
	return has
}

// visual puts a line with right-to-left letters into the order in which it is drawn. Letters are not joined.
func visual(line string) string {
	var p bidi.Paragraph
	if !strings.ContainsFunc(line, isRightToLeft) {
		return line
	}
	if _, err := p.SetString(line, bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		return line
	}
	order, err := p.Order()
	if err != nil {
		return line
	}
	var b strings.Builder
	for i := range order.NumRuns() {
		run := order.Run(i)
		if run.Direction() == bidi.RightToLeft {
			b.WriteString(turned(run.String()))
		} else {
			b.WriteString(run.String())
		}
	}
	return b.String()
}

// turned is a right-to-left run from its last letter to its first; blanks around it stay where they are.
func turned(run string) string {
	core := strings.TrimSpace(run)
	before, after, _ := strings.Cut(run, core)
	return before + bidi.ReverseString(core) + after
}

func isRightToLeft(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}
