package report

import "rungbook/internal/figure"

// bodyHeight is how many mm one body height of a figure is.
const bodyHeight = 13.0

// figure draws a line figure, an ornament to the name beside it, with its upper left corner at x, y.
func (s *sheet) figure(d figure.Drawing, x, y float64) {
	if len(d.Strokes) > 0 {
		s.ornament(func() { s.strokes(d, x, y) })
	}
}

func (s *sheet) strokes(d figure.Drawing, x, y float64) {
	at := func(p figure.Point) (float64, float64) { return x + p.X*bodyHeight, y + (d.Height-p.Y)*bodyHeight }
	s.pdf.SetLineCapStyle("round")
	s.pdf.SetLineJoinStyle("round")
	for _, tone := range []figure.Tone{figure.Floor, figure.Thing, figure.Far, figure.Near} {
		colour := toneInk(tone)
		s.pdf.SetDrawColor(colour.r, colour.g, colour.b)
		s.pdf.SetFillColor(colour.r, colour.g, colour.b)
		for _, line := range d.Strokes {
			if line.Tone != tone {
				continue
			}
			s.pdf.SetLineWidth(line.Width * bodyHeight)
			s.pdf.MoveTo(at(line.Points[0]))
			for _, p := range line.Points[1:] {
				s.pdf.LineTo(at(p))
			}
			s.pdf.DrawPath(pathStyle(line))
		}
		for _, c := range d.Discs {
			if c.Tone == tone {
				cx, cy := at(c.Centre)
				s.pdf.Circle(cx, cy, c.Radius*bodyHeight, "F")
			}
		}
	}
	s.pdf.SetLineCapStyle("butt")
}

// pathStyle closes what is closed, and fills what belongs to a body.
func pathStyle(line figure.Stroke) string {
	switch {
	case line.Closed && (line.Tone == figure.Near || line.Tone == figure.Far):
		return "B"
	case line.Closed:
		return "s"
	}
	return "D"
}

func toneInk(t figure.Tone) ink {
	switch t {
	case figure.Near:
		return black
	case figure.Far:
		return ink{150, 150, 150}
	case figure.Floor:
		return pale
	}
	return grey
}
