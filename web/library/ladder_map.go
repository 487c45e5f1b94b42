package library

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// mapEdge is the free space around the map, in pixels.
const mapEdge = 6

// px is a coordinate with at most one decimal.
func px(v float64) string { return strconv.FormatFloat(math.Round(10*v)/10, 'f', -1, 64) }

func mapBox(m app.LadderMap) string {
	return fmt.Sprintf("%d %d %s %s", -mapEdge, -mapEdge, px(m.Width+2*mapEdge), px(m.Height+2*mapEdge))
}

// path bends between rows and is straight where it passes one.
func path(l app.MapLine) string {
	var b strings.Builder
	for i, p := range l.Points {
		switch {
		case i == 0:
			fmt.Fprintf(&b, "M%s %s", px(p.X), px(p.Y))
		case i%2 == 0:
			fmt.Fprintf(&b, "V%s", px(p.Y))
		default:
			before := l.Points[i-1]
			middle := px((before.Y + p.Y) / 2)
			fmt.Fprintf(&b, "C%s %s %s %s %s %s", px(before.X), middle, px(p.X), middle, px(p.X), px(p.Y))
		}
	}
	return b.String()
}

func boxX(r app.MapRung) string { return px(r.X - app.MapBoxWidth/2) }
func boxY(r app.MapRung) string { return px(r.Y - app.MapBoxHeight/2) }

// nameLines are the name in at most two lines that fit the box; nameY is where the i-th of them stands.
func nameLines(r app.MapRung) []string { return kit.SplitWords(r.Name, 19, 2) }

// ladderLine is the name of the ladder, as much of it as fits.
func ladderLine(r app.MapRung) string { return kit.SplitWords(r.Ladder, 24, 1)[0] }

func nameY(r app.MapRung, i int) string {
	lines := len(nameLines(r))
	if !r.Own {
		lines++ // the ladder's name stands beneath
	}
	return px(r.Y + 4.5 + 17*(float64(i)-float64(lines-1)/2))
}

// mapLabel is what a box is called: what is seen, and what the lines say.
func mapLabel(r app.MapRung) string {
	text := r.Name
	if !r.Own {
		text += ", " + r.Ladder
	}
	if len(r.Needs) == 0 {
		return text
	}
	return text + "; needs " + strings.Join(r.Needs, ", ")
}

func mapSummary(m app.LadderMap) string {
	return "What needs what: " + kit.Count(len(m.Rungs), "rung", "rungs") + ", joined by " + kit.Count(len(m.Lines), "line", "lines") + "; what is needed stands lower."
}

// spreadParts are the states of the children of a class on a rung, in the order of climbing.
type spreadPart struct {
	State kit.State
	Count int
}

func spreadParts(c app.RungCount) []spreadPart {
	return []spreadPart{{kit.Secure, c.Secure}, {kit.Recheck, c.Recheck}, {kit.Working, c.Working}, {kit.Open, c.Open}, {kit.Waiting, c.Waiting}}
}

// spreadWords is "3 secure, 2 open".
func spreadWords(c app.RungCount) string {
	var words []string
	for _, p := range spreadParts(c) {
		if p.Count > 0 {
			words = append(words, strconv.Itoa(p.Count)+" "+string(p.State))
		}
	}
	return strings.Join(words, ", ")
}

// mapFits is the width up to which a map is drawn a little smaller rather than scrolled on a wide page.
const mapFits = 1400

// spreadWidth is the width of the bar of a class, in units of its view box.
const spreadWidth = 200

// spreadPiece is a piece of the bar, of a child each times its count.
type spreadPiece struct{ Class, X, Width string }

func spreadPieces(c app.RungCount, children int) []spreadPiece {
	var pieces []spreadPiece
	x := 0.0
	for _, p := range spreadParts(c) {
		width := float64(spreadWidth*p.Count) / float64(children)
		if p.Count > 0 {
			pieces = append(pieces, spreadPiece{"spread-" + string(p.State), px(x + 1), px(width - 2)})
		}
		x += width
	}
	return pieces
}

// topFirst turns the rungs of a class as the drawing shows them.
func topFirst(rungs []app.RungCount) []app.RungCount {
	var turned []app.RungCount
	for i := len(rungs) - 1; i >= 0; i-- {
		turned = append(turned, rungs[i])
	}
	return turned
}
