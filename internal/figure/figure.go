package figure

import (
	"math"
	"slices"
	"strings"
)

// Most is how many poses a figure has at most.
const Most = 4

// Turned ends the name of a pose that looks to the left instead of the right.
const Turned = "-turned"

// Find gives the pose of a name, which may end in Turned.
func Find(name string) (pose Pose, turned, known bool) {
	key, turned := strings.CutSuffix(name, Turned)
	i := slices.IndexFunc(Poses(), func(p Pose) bool { return p.Key == key })
	if i < 0 {
		return Pose{}, turned, false
	}
	return Poses()[i], turned, true
}

// Known reports whether there is a pose of the name.
func Known(name string) bool {
	_, _, known := Find(name)
	return known
}

// Text says in a sentence what a figure shows; unknown names are left out. Without poses it is "".
func Text(names []string) string {
	var says []string
	for _, name := range names {
		if p, _, ok := Find(name); ok {
			says = append(says, p.Says)
		}
	}
	switch len(says) {
	case 0:
		return ""
	case 1:
		return "Figure: " + says[0] + "."
	}
	last := len(says) - 1
	text := "Figure: from " + says[0]
	if last > 1 {
		text += ", through " + strings.Join(says[1:last], ", then ")
	}
	return text + ", to " + says[last] + "."
}

// Spaces around and between bodies, in body heights.
const (
	margin    = 0.05
	gap       = 0.28
	under     = 0.05 // the floor's own room
	arrowUp   = 0.22
	arrowHead = 0.045
)

// Draw draws poses side by side on one floor, in order, an arrow between two; unknown names are left out.
func Draw(names []string) Drawing {
	var d paint
	x, high := margin, 0.0
	for _, name := range names {
		p, turned, ok := Find(name)
		if !ok {
			continue
		}
		if x > margin {
			d.arrow(x + gap/2)
			high = math.Max(high, arrowUp+arrowHead)
			x += gap
		}
		one := p.draw(turned)
		low, top := one.box()
		d.take(one, Point{x - low.X, under})
		x += top.X - low.X
		high = math.Max(high, top.Y+under)
	}
	if high == 0 {
		return Drawing{}
	}
	width := x + margin
	d.line(Floor, floorWidth, Point{0.01, under - floorWidth/2}, Point{width - 0.01, under - floorWidth/2})
	return Drawing{Width: width, Height: high + margin, Strokes: d.strokes, Discs: d.discs}
}

func (p Pose) draw(turned bool) paint {
	s := p.bones()
	if turned {
		s = s.turned()
		p.Props = slices.Clone(p.Props)
		for i := range p.Props {
			p.Props[i].Size = turnedSize(p.Props[i])
		}
	}
	var d paint
	d.things(p, s)
	d.body(p, s)
	return d
}

// turnedSize turns a slope round with the body; other things look alike from both sides.
func turnedSize(p Prop) float64 {
	if p.Kind == Wedge {
		return -p.Size
	}
	return p.Size
}

func (d *paint) take(one paint, by Point) {
	for _, s := range one.strokes {
		points := slices.Clone(s.Points)
		for i := range points {
			points[i] = points[i].add(by)
		}
		s.Points = points
		d.strokes = append(d.strokes, s)
	}
	for _, c := range one.discs {
		c.Centre = c.Centre.add(by)
		d.discs = append(d.discs, c)
	}
}

// arrow points from one body to the next, above the floor.
func (d *paint) arrow(x float64) {
	const long = 0.07
	d.line(Thing, thingWidth, Point{x - long, arrowUp}, Point{x + long, arrowUp})
	d.line(Thing, thingWidth, Point{x + long - arrowHead, arrowUp + arrowHead}, Point{x + long, arrowUp}, Point{x + long - arrowHead, arrowUp - arrowHead})
}

// box is the smallest rectangle around what is painted.
func (d paint) box() (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	grow := func(q Point, by float64) {
		low = Point{math.Min(low.X, q.X-by), math.Min(low.Y, q.Y-by)}
		high = Point{math.Max(high.X, q.X+by), math.Max(high.Y, q.Y+by)}
	}
	for _, s := range d.strokes {
		for _, q := range s.Points {
			grow(q, s.Width/2)
		}
	}
	for _, c := range d.discs {
		grow(c.Centre, c.Radius)
	}
	return low, high
}
