package kit

import (
	"math"
	"strconv"
	"strings"

	"rungbook/internal/words"
)

// State is where a child stands on a rung.
type State string

// The five states; each has a shape and a word, so that none depends on colour.
const (
	Waiting State = "waiting" // prerequisites are open
	Open    State = "open"    // may start
	Working State = "working" // started, not secure
	Secure  State = "secure"
	Recheck State = "recheck" // secure once, long unseen or missed since
)

// Rung is one bar of a drawn ladder.
type Rung struct {
	Name  string
	State State
	// Clean is the share of clean turns, 0 to 1; negative when nothing was seen.
	Clean float64
	// Evidence gives the number its meaning: "4 of the last 5 clean, in 2 lessons".
	Evidence string
	// URL makes the bar a link.
	URL string
	// Next marks the rung to take next.
	Next bool
}

// LadderView is a ladder of one child, or of a class, or of the library alone.
type LadderView struct {
	Name string
	// Who stands on it, for the text alternative; may be empty.
	Who string
	// Rungs from the bottom up.
	Rungs []Rung
	// Plain draws names only: a ladder of the library, on which nobody stands.
	Plain bool
	// URL makes the small drawing a link.
	URL string
	// Lang is the tag of the language of the rungs' names; "" for that of the page.
	Lang string
}

// Summary says the ladder in one sentence; it is the text alternative.
func (l LadderView) Summary(b *words.Book) string {
	who := l.Name
	if l.Who != "" {
		who = l.Who + ", " + l.Name
	}
	if l.Plain {
		return b.Count("ladder.plain", len(l.Rungs), "Ladder", who)
	}
	text := b.Count("ladder.secure", len(l.Rungs), "Ladder", who, "Secure", l.count(Secure))
	if names := l.names(b, Working); names != "" {
		text += "; " + b.Say("ladder.working", "Rungs", names)
	}
	if names := l.names(b, Recheck); names != "" {
		text += "; " + b.Say("ladder.recheck", "Rungs", names)
	}
	return text + "."
}

func (l LadderView) count(s State) int {
	n := 0
	for _, r := range l.Rungs {
		if r.State == s {
			n++
		}
	}
	return n
}

// names lists the rungs in a state, three at most.
func (l LadderView) names(b *words.Book, s State) string {
	var found []string
	for _, r := range l.Rungs {
		if r.State == s {
			found = append(found, r.Name)
		}
	}
	if len(found) > 3 {
		return b.Count("ladder.more", len(found)-3, "Rungs", strings.Join(found[:3], ", "))
	}
	return strings.Join(found, ", ")
}

// label is the text alternative of one rung: the words that are seen, in their
// order, so that it can be named by voice.
func (r Rung) label(b *words.Book, plain bool) string {
	parts := []string{r.Name}
	if !plain {
		parts = append(parts, strings.ToLower(r.State.word(b)))
	}
	if r.Next && !plain {
		parts = append(parts, b.Say("ladder.next"))
	}
	if r.Evidence != "" {
		parts = append(parts, r.Evidence)
	}
	return strings.Join(parts, ", ")
}

// Measures of the large drawing, in units of its view box. The drawing is
// shown between 288 px and 400 px wide, so that 15 units read as 13 to 18 px.
const (
	ladderWidth   = 330
	railLeft      = 16
	railRight     = 314
	barLeft       = 4
	barWidth      = 322
	barHeight     = 51 // at least, so that 44 px remain at the narrowest
	nameLeft      = 44
	nameChars     = 28 // characters of 15 units that fit beside the state's shape
	lineHeight    = 20
	barPadding    = 10
	rungGap       = 12
	evidenceChars = 36
	rateLeft      = 44
	rateWidth     = 268
)

// placedRung is a rung with its place in the drawing.
type placedRung struct {
	Rung
	Lines    []string
	Evidence []string
	Y, H     int
	plain    bool
}

// place sets the rungs from the bottom up and returns the height of the whole.
// The slice keeps the order of climbing.
func (l LadderView) place() ([]placedRung, int) {
	placed := make([]placedRung, len(l.Rungs))
	total := rungGap
	for i, r := range l.Rungs {
		p := placedRung{Rung: r, Lines: SplitWords(r.Name, nameChars, 3), plain: l.Plain}
		p.Evidence = SplitWords(r.Evidence, evidenceChars, 2)
		p.H = p.height()
		placed[i] = p
		total += p.H + rungGap
	}
	y := total
	for i := range placed {
		y -= placed[i].H + rungGap
		placed[i].Y = y
	}
	return placed, total
}

func (p placedRung) height() int {
	h := 2*barPadding + len(p.Lines)*lineHeight
	if !p.plain {
		h += 18 // the word for the state
	}
	h += len(p.Evidence) * 17
	if !p.plain && p.Clean >= 0 {
		h += 14
	}
	return max(h, barHeight)
}

// nameY is the base line of the i-th line of the name; a bar of one line holds
// it in the middle.
func (p placedRung) nameY(i int) int {
	y := p.Y + barPadding + 14 + i*lineHeight
	if p.plain && len(p.Lines) == 1 && len(p.Evidence) == 0 {
		y += (barHeight - 2*barPadding - lineHeight) / 2
	}
	return y
}

func (p placedRung) wordY() int { return p.Y + barPadding + len(p.Lines)*lineHeight + 12 }

func (p placedRung) evidenceY(i int) int {
	y := p.Y + barPadding + len(p.Lines)*lineHeight + 12
	if !p.plain {
		y += 17
	}
	return y + i*17
}

func (p placedRung) rateY() int { return p.Y + p.H - barPadding - 6 }

// filled is the length of the clean rate.
func (p placedRung) filled() string { return num(rateWidth * clamp01(p.Clean)) }

// SplitWords breaks text into lines of at most width characters, at spaces and
// after hyphens where it can, inside a word where it must. At most limit lines
// are kept; the last one then ends with an ellipsis. Empty text gives no line.
func SplitWords(text string, width, limit int) []string {
	var lines []string
	line := ""
	for _, piece := range pieces(text, width) {
		joined := line + piece
		if line != "" && len([]rune(strings.TrimRight(joined, " "))) > width {
			lines = append(lines, strings.TrimRight(line, " "))
			joined = piece
		}
		line = joined
	}
	if line = strings.TrimRight(line, " "); line != "" {
		lines = append(lines, line)
	}
	if len(lines) <= limit {
		return lines
	}
	last := []rune(lines[limit-1])
	if len(last) > width-1 {
		last = last[:width-1]
	}
	return append(lines[:limit-1], strings.TrimRight(string(last), " ")+"…")
}

// pieces are the parts of text between which a line may break; a word longer
// than width is cut.
func pieces(text string, width int) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		rest := []rune(word)
		for len(rest) > 0 {
			n := hyphenAfter(rest)
			n = min(n, width)
			out = append(out, string(rest[:n]))
			rest = rest[n:]
		}
		out[len(out)-1] += " "
	}
	return out
}

// hyphenAfter is the number of runes up to and with the first hyphen that has
// letters on both sides, or all of them.
func hyphenAfter(word []rune) int {
	for i := 1; i < len(word)-1; i++ {
		if word[i] == '-' || word[i] == '/' {
			return i + 1
		}
	}
	return len(word)
}

func clamp01(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return math.Min(1, math.Max(0, v))
}

// num writes a coordinate with at most two decimals.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}
