package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Measures of a drawn ladder in mm.
const (
	ladderGap    = 4.0
	railWidth    = 0.9
	barInset     = 1.5 // from the outer edge of a rail to the bar
	barPadding   = 1.1
	shapeColumn  = 5.2
	rateHeight   = 0.9
	rungGap      = 1.2
	railEnd      = 2.2 // how far the rails go on above and below
	rungsInPiece = 14  // a longer ladder is drawn in pieces
)

// drawnRung is a rung with its name broken into lines.
type drawnRung struct {
	Rung
	lines  []string
	fact   string
	height float64
}

// drawnLadder is a ladder, or a piece of one, ready to draw; rungs from the bottom. below and above say what is left out.
type drawnLadder struct {
	title        []string
	alt          string
	rungs        []drawnRung
	below, above string
	width        float64
	height       float64 // of rails and rungs, without the title
}

// textWidth is the room for the name of a rung between rails.
func textWidth(ladderWidth float64) float64 {
	return ladderWidth - 2*barInset - shapeColumn - barPadding
}

// ladders draws all ladders in rows filled from the left, feet on one line.
func (s *sheet) ladders(all []Ladder) {
	inRow := s.density.abreast
	width := (right - left - float64(inRow-1)*ladderGap) / float64(inRow)
	var drawn []drawnLadder
	for _, l := range all {
		drawn = append(drawn, s.layLadder(l, width)...)
	}
	if s.density.packed {
		slices.SortStableFunc(drawn, func(x, y drawnLadder) int { return cmp.Compare(x.height, y.height) })
	}
	for first := 0; first < len(drawn); first += inRow {
		row := drawn[first:min(first+inRow, len(drawn))]
		titles, rails := 0.0, 0.0
		for _, l := range row {
			titles = max(titles, float64(len(l.title))*sidehead.leading)
			rails = max(rails, l.height)
		}
		heading := 0.0
		if first == 0 {
			heading = ladderHeading
		}
		s.need(heading + titles + rails + 2)
		if first == 0 {
			s.ladderHead()
		}
		for i, l := range row {
			s.drawLadder(l, left+float64(i)*(width+ladderGap), s.y, titles+rails)
		}
		s.y += titles + rails + 4
	}
}

const ladderHeading = 9.5

// ladderHead is the section's heading with the shapes and their words.
func (s *sheet) ladderHead() {
	s.rule(left, right, s.y, pale, 0.15)
	s.within("H2", func() { s.write(sidehead, left, s.y+2.2, "The ladders") })
	const shapeRoom, gap = 3.0, 5.0
	x := right + gap
	for _, state := range States() {
		x -= s.width(fine, state.word()) + shapeRoom + gap
	}
	s.within("P", func() {
		for _, state := range States() {
			s.ornament(func() { s.shape(state, x, s.y+4.3) })
			s.write(fine, x+shapeRoom, s.y+2.9, state.word())
			x += shapeRoom + s.width(fine, state.word()) + gap
		}
	})
	s.y += ladderHeading
}

// layLadder cuts a ladder to the density, and into pieces where it is still long.
func (s *sheet) layLadder(l Ladder, width float64) []drawnLadder {
	begin, end := s.density.window(l.Rungs)
	titleLines := 2
	if s.density.flat {
		titleLines = 1
	}
	var pieces []drawnLadder
	for first := begin; first < end; first += rungsInPiece {
		last := min(first+rungsInPiece, end)
		heading := l.Name
		if end-begin > rungsInPiece {
			heading = fmt.Sprintf("%s, rungs %d to %d", l.Name, first+1, last)
		}
		piece := drawnLadder{title: s.atMost(titleLines, sidehead, width, s.wrap(sidehead, heading, width)), alt: l.told(first, last), width: width, height: 2*railEnd - rungGap}
		if first == begin && begin > 0 {
			piece.below, piece.alt = more(begin, "below"), l.told(0, last)
			piece.height += rungFact.leading
		}
		if last == end && end < len(l.Rungs) {
			piece.above, piece.alt = more(len(l.Rungs)-end, "above"), l.told(first, len(l.Rungs))
			piece.height += rungFact.leading
		}
		if last-first == end-begin {
			piece.alt = l.told(0, len(l.Rungs))
		}
		for _, r := range l.Rungs[first:last] {
			rung := s.layRung(r, textWidth(width))
			piece.rungs = append(piece.rungs, rung)
			piece.height += rung.height + rungGap
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

func more(n int, where string) string { return fmt.Sprintf("%d more %s", n, where) }

// window is which rungs are drawn: up to one above the highest that is more than waiting, and, where the density bounds them, those
// about the highest that the child has met. One rung alone is not left out for a line that says so.
func (d density) window(rungs []Rung) (begin, end int) {
	reached, met := -1, -1
	for i, r := range rungs {
		if r.State != StateWaiting || r.Marks > 0 {
			reached = i
		}
		if r.Marks > 0 || r.State != StateWaiting && r.State != StateOpen {
			met = i
		}
	}
	if d.rungs == 0 {
		if end = min(max(reached+2, 2), len(rungs)); end == len(rungs)-1 {
			end++
		}
		return 0, end
	}
	if met < 0 {
		met = max(reached, 0)
	}
	end = min(met+2, len(rungs))
	return max(end-d.rungs, 0), end
}

// told says a ladder, or the rungs of it from begin to before end, in words.
func (l Ladder) told(begin, end int) string {
	parts := make([]string, 0, end-begin)
	for _, r := range l.Rungs[begin:end] {
		fact := r.fact()
		if fact == "" {
			fact = r.State.word()
		}
		parts = append(parts, r.Name+": "+lowerFirst(fact))
	}
	return l.Name + ", from the bottom. " + strings.Join(parts, "; ") + "."
}

func (s *sheet) layRung(r Rung, width float64) drawnRung {
	d := drawnRung{Rung: r, fact: r.fact()}
	if s.density.flat {
		d.lines, d.fact = s.atMost(1, rungName, width, s.wrap(rungName, r.Name, width)), ""
	} else {
		d.lines = s.atMost(2, rungName, width, s.wrap(rungName, r.Name, width))
	}
	d.height = barPadding + float64(len(d.lines))*rungName.leading + 0.7
	if d.fact != "" {
		d.height += rungFact.leading
	}
	if r.Marks > 0 {
		d.height += rateHeight + 0.2
	}
	return d
}

// atMost keeps n lines of a width; the last one kept then ends in an ellipsis.
func (s *sheet) atMost(n int, st style, width float64, lines []string) []string {
	if len(lines) <= n {
		return lines
	}
	return append(lines[:n-1:n-1], s.fit(st, lines[n-1]+" …", width))
}

// drawLadder draws with the feet of the rails at y+h and the title right above the rails.
func (s *sheet) drawLadder(l drawnLadder, x, y, h float64) {
	railTop := y + h - l.height
	s.within("H3", func() {
		for i, line := range l.title {
			s.write(sidehead, x, railTop-float64(len(l.title)-i)*sidehead.leading, line)
		}
	})
	s.picture(l.alt, func() { s.drawRails(l, x, railTop) })
}

func (s *sheet) drawRails(l drawnLadder, x, y float64) {
	s.pdf.SetFillColor(accent.r, accent.g, accent.b)
	s.pdf.Rect(x, y, railWidth, l.height, "F")
	s.pdf.Rect(x+l.width-railWidth, y, railWidth, l.height, "F")
	at := y + railEnd
	if l.above != "" {
		s.write(rungFact, x+barInset+shapeColumn, at-1, l.above)
		at += rungFact.leading
	}
	for i := len(l.rungs) - 1; i >= 0; i-- {
		s.drawRung(l.rungs[i], x, at, l.width)
		at += l.rungs[i].height + rungGap
	}
	if l.below != "" {
		s.write(rungFact, x+barInset+shapeColumn, at, l.below)
	}
}

// drawRung draws a bar from rail to rail: the state's shape, the name, the state's word and numbers, and below them the
// clean rate as a filled length of the whole.
func (s *sheet) drawRung(r drawnRung, x, y, width float64) {
	s.pdf.SetFillColor(paper.r, paper.g, paper.b)
	s.pdf.Rect(x+railWidth, y, width-2*railWidth, r.height, "F")
	s.shape(r.State, x+barInset+2.1, y+barPadding+2.1)
	text := x + barInset + shapeColumn
	at := y + barPadding
	for _, line := range r.lines {
		s.write(rungName, text, at, line)
		at += rungName.leading
	}
	s.write(rungFact, text, at, r.fact)
	if r.Marks > 0 {
		s.drawRate(float64(r.Clean)/float64(r.Marks), text, y+r.height-rateHeight-0.8, x+width-barInset-text)
	}
}

func (s *sheet) drawRate(rate, x, y, w float64) {
	s.pdf.SetFillColor(pale.r, pale.g, pale.b)
	s.pdf.Rect(x, y, w, rateHeight, "F")
	s.pdf.SetFillColor(accent.r, accent.g, accent.b)
	if rate > 0 {
		s.pdf.Rect(x, y, w*rate, rateHeight, "F")
	}
}

// shape draws a state around its middle, told apart without colour and as on the screen: a dashed ring (waiting), a ring
// with a chevron (open), a half disc (working), a ticked disc (secure), a diamond with an exclamation mark (recheck).
func (s *sheet) shape(state State, x, y float64) {
	const u = 0.19 // mm: a tenth of half of the shape
	colour := map[State]ink{StateWaiting: grey, StateRecheck: warm}[state]
	if colour == (ink{}) {
		colour = accent
	}
	s.pdf.SetDrawColor(colour.r, colour.g, colour.b)
	s.pdf.SetFillColor(colour.r, colour.g, colour.b)
	s.pdf.SetLineWidth(2 * u)
	switch state {
	case StateWaiting:
		s.pdf.SetDashPattern([]float64{2.6 * u, 3.7 * u}, 0)
		s.pdf.Circle(x, y, 7*u, "D")
		s.pdf.SetDashPattern(nil, 0)
	case StateOpen:
		s.pdf.Circle(x, y, 7.5*u, "D")
		s.stroke(x, y, u, [][2]float64{{-3.5, 1.5}, {0, -2.5}, {3.5, 1.5}})
	case StateWorking:
		s.pdf.Circle(x, y, 7.5*u, "D")
		s.pdf.ClipRect(x-10*u, y, 20*u, 10*u, false)
		s.pdf.Circle(x, y, 7.5*u, "F")
		s.pdf.ClipEnd()
	case StateSecure:
		s.pdf.Circle(x, y, 8.5*u, "F")
		s.pdf.SetDrawColor(255, 255, 255)
		s.pdf.SetLineWidth(2.4 * u)
		s.stroke(x, y, u, [][2]float64{{-4, .4}, {-1.2, 3.2}, {4.2, -2.6}})
	case StateRecheck:
		s.stroke(x, y, u, [][2]float64{{0, -8.2}, {8.2, 0}, {0, 8.2}, {-8.2, 0}, {0, -8.2}})
		s.stroke(x, y, u, [][2]float64{{0, -4}, {0, .6}})
		s.pdf.Circle(x, y+3.4*u, 1.2*u, "F")
	}
}

// stroke draws a line through points given in units of u from the middle.
func (s *sheet) stroke(x, y, u float64, points [][2]float64) {
	s.pdf.SetLineCapStyle("round")
	s.pdf.SetLineJoinStyle("round")
	s.pdf.MoveTo(x+points[0][0]*u, y+points[0][1]*u)
	for _, p := range points[1:] {
		s.pdf.LineTo(x+p[0]*u, y+p[1]*u)
	}
	s.pdf.DrawPath("D")
	s.pdf.SetLineCapStyle("butt")
}
