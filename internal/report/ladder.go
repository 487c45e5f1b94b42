package report

import "fmt"

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
	height float64
}

// drawnLadder is a ladder, or a piece of one, ready to draw; rungs from the bottom.
type drawnLadder struct {
	title  []string
	rungs  []drawnRung
	width  float64
	height float64 // of rails and rungs, without the title
}

// laddersInRow keeps the ladders of most children on one page: more than two rows of three stand in rows of four.
func laddersInRow(ladders int) int {
	if ladders > 6 {
		return 4
	}
	return 3
}

// textWidth is the room for the name of a rung between rails.
func textWidth(ladderWidth float64) float64 {
	return ladderWidth - 2*barInset - shapeColumn - barPadding
}

// ladders draws all ladders in rows filled from the left, feet on one line.
func (s *sheet) ladders(all []Ladder) {
	inRow := laddersInRow(len(all))
	width := (right - left - float64(inRow-1)*ladderGap) / float64(inRow)
	var drawn []drawnLadder
	for _, l := range all {
		drawn = append(drawn, s.layLadder(l, width)...)
	}
	if len(drawn) == 0 {
		return
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
		s.need(heading + titles + rails + 3)
		if first == 0 {
			s.ladderHead()
		}
		for i, l := range row {
			s.drawLadder(l, left+float64(i)*(width+ladderGap), s.y, titles+rails)
		}
		s.y += titles + rails + 4.5
	}
}

const ladderHeading = 10.5

// ladderHead is the section's heading with the shapes and their words.
func (s *sheet) ladderHead() {
	s.rule(left, right, s.y, pale, 0.15)
	s.y += 2.4
	s.write(sidehead, left, s.y, "The ladders")
	x := right
	states := States()
	for i := len(states) - 1; i >= 0; i-- {
		x -= s.width(fine, states[i].word())
		s.write(fine, x, s.y+0.7, states[i].word())
		x -= 3
		s.shape(states[i], x, s.y+2.1)
		x -= 5
	}
	s.y += ladderHeading - 2.4
}

func (s *sheet) layLadder(l Ladder, width float64) []drawnLadder {
	var pieces []drawnLadder
	for first := 0; first < len(l.Rungs); first += rungsInPiece {
		last := min(first+rungsInPiece, len(l.Rungs))
		heading := l.Name
		if len(l.Rungs) > rungsInPiece {
			heading = fmt.Sprintf("%s, rungs %d to %d", l.Name, first+1, last)
		}
		piece := drawnLadder{title: s.atMost(2, sidehead, width, s.wrap(sidehead, heading, width)), width: width, height: 2*railEnd - rungGap}
		for _, r := range l.Rungs[first:last] {
			rung := s.layRung(r, textWidth(width))
			piece.rungs = append(piece.rungs, rung)
			piece.height += rung.height + rungGap
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

func (s *sheet) layRung(r Rung, width float64) drawnRung {
	lines := s.atMost(3, rungName, width, s.wrap(rungName, r.Name, width))
	height := barPadding + float64(len(lines))*rungName.leading + 0.7
	if r.fact() != "" {
		height += rungFact.leading
	}
	if r.Marks > 0 {
		height += rateHeight + 0.2
	}
	return drawnRung{r, lines, height}
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
	for i, line := range l.title {
		s.write(sidehead, x, railTop-float64(len(l.title)-i)*sidehead.leading, line)
	}
	s.pdf.SetFillColor(accent.r, accent.g, accent.b)
	s.pdf.Rect(x, railTop, railWidth, l.height, "F")
	s.pdf.Rect(x+l.width-railWidth, railTop, railWidth, l.height, "F")
	at := railTop + railEnd
	for i := len(l.rungs) - 1; i >= 0; i-- {
		s.drawRung(l.rungs[i], x, at, l.width)
		at += l.rungs[i].height + rungGap
	}
}

// drawRung draws a bar from rail to rail: the state's shape, the name, the state's word and numbers, and below them the
// clean rate as a filled length of the whole.
func (s *sheet) drawRung(r drawnRung, x, y, width float64) {
	s.pdf.SetFillColor(paper.r, paper.g, paper.b)
	s.pdf.Rect(x+railWidth, y, width-2*railWidth, r.height, "F")
	s.shape(r.State, x+barInset+2.1, y+barPadding+2.2)
	text := x + barInset + shapeColumn
	at := y + barPadding
	for _, line := range r.lines {
		s.write(rungName, text, at, line)
		at += rungName.leading
	}
	s.write(rungFact, text, at, r.fact())
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
