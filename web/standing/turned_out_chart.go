package standing

import (
	"fmt"
	"math"
)

// Measures of the reliability diagram, in units of its view box: a square with room for the axes on the left and below.
const (
	diagramLeft = 34
	diagramTop  = 12
	diagramSide = 240
	leastDot    = 4
	moreDot     = 7
)

// diagramDot is a row of the table in the diagram.
type diagramDot struct{ X, Y, R, Low, High string }

// dots place the rows: across what was said, up what came true; the size goes by the number of forecasts.
func (m turnedOutModel) dots() []diagramDot {
	most := 1
	for _, b := range m.Result.Bins {
		most = max(most, b.N)
	}
	var dots []diagramDot
	for _, b := range m.Result.Bins {
		dots = append(dots, diagramDot{X: diagramX(b.Mean), Y: diagramY(b.Share), R: unit(leastDot + moreDot*math.Sqrt(float64(b.N)/float64(most))), Low: diagramY(b.Low), High: diagramY(b.High)})
	}
	return dots
}

// diagramLabel is the diagram in words; the table says the rest.
func (m turnedOutModel) diagramLabel() string {
	return fmt.Sprintf("Diagram: what was said across, what came true up, %d dots beside the line on which they would be equal. The numbers stand in the table.", len(m.Result.Bins))
}

// diagramTicks are the chances named on the axes.
func diagramTicks() []float64 { return []float64{0, 0.25, 0.5, 0.75, 1} }

func diagramX(p float64) string { return unit(diagramLeft + diagramSide*p) }
func diagramY(p float64) string { return unit(diagramTop + diagramSide*(1-p)) }

func unit(v float64) string { return fmt.Sprintf("%.1f", v) }

func tickText(p float64) string { return fmt.Sprintf("%.0f", 100*p) }
