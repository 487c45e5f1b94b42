package figure

import "math"

// Tone says how a stroke stands out: the near side of a body, its far side, a thing, the floor.
type Tone int

// The tones, from the strongest.
const (
	Near Tone = iota
	Far
	Thing
	Floor
)

// Stroke is a line through points. Width is in body heights. A Closed stroke ends where it begins and is filled in its tone.
type Stroke struct {
	Points []Point
	Width  float64
	Closed bool
	Tone   Tone
}

// Disc is a filled circle.
type Disc struct {
	Centre Point
	Radius float64
	Tone   Tone
}

// Drawing is strokes and discs in the order of painting, strokes first. The lower left corner is 0, 0.
type Drawing struct {
	Width, Height float64
	Strokes       []Stroke
	Discs         []Disc
}

// Stroke widths: the trunk is the widest, the far side a little thinner.
const (
	trunkWidth = 0.062
	limbWidth  = 0.046
	farWidth   = 0.038
	thingWidth = 0.02
	floorWidth = 0.012
)

// paint collects a drawing.
type paint struct {
	strokes []Stroke
	discs   []Disc
}

func (d *paint) line(tone Tone, width float64, points ...Point) {
	d.strokes = append(d.strokes, Stroke{Points: points, Width: width, Tone: tone})
}

func (d *paint) shape(tone Tone, width float64, points ...Point) {
	d.strokes = append(d.strokes, Stroke{Points: points, Width: width, Closed: true, Tone: tone})
}

// body paints the far limbs, the trunk, the head and the near limbs.
func (d *paint) body(p Pose, s skeleton) {
	far := Far
	if p.View == FromFront {
		far = Near
	}
	d.limbs(p, s, 1, far)
	if p.View == FromFront {
		d.line(Near, limbWidth, s.arms[0].shoulder, between(s.neck, s.ribs, 0.2), s.arms[1].shoulder)
		d.line(Near, limbWidth, s.legs[0].hip, s.legs[1].hip)
	}
	d.line(Near, trunkWidth, curve(s.hips, s.waist, s.ribs, between(s.neck, s.ribs, 0.2))...)
	d.line(Near, limbWidth, between(s.neck, s.ribs, 0.2), s.head)
	d.limbs(p, s, 0, Near)
	d.discs = append(d.discs, Disc{s.head, headDrawn, Near})
}

// limbs paints an arm and a leg, unless they hide exactly behind the near ones.
func (d *paint) limbs(p Pose, s skeleton, side int, tone Tone) {
	width := limbWidth
	if tone == Far {
		width = farWidth
	}
	if a := s.arms[side]; side == 0 || tone == Near || a != s.arms[0] {
		d.line(tone, width, a.shoulder, a.elbow, a.wrist, a.tip)
	}
	l := s.legs[side]
	if side == 1 && tone == Far && l == s.legs[0] {
		return
	}
	d.line(tone, width, l.hip, l.knee, l.ankle)
	if p.View == FromFront {
		d.line(tone, width, l.ankle, l.toe)
		return
	}
	d.shape(tone, width*0.45, inset(l.ankle, l.heel, l.toe)...)
}

// inset keeps the outline of a foot within its landmarks.
func inset(ankle, heel, toe Point) []Point {
	up := ankle.sub(between(heel, toe, 0.2)).times(0.25)
	return []Point{ankle, between(heel, toe, 0.06).add(up), between(toe, heel, 0.06).add(up.times(0.6))}
}

// curve is a smooth line through points: Catmull-Rom, in short pieces.
func curve(points ...Point) []Point {
	const pieces = 4
	at := func(i int) Point { return points[max(0, min(i, len(points)-1))] }
	line := []Point{points[0]}
	for i := range len(points) - 1 {
		a, b, c, e := at(i-1), at(i), at(i+1), at(i+2)
		for k := 1; k <= pieces; k++ {
			t := float64(k) / pieces
			line = append(line, Point{spline(a.X, b.X, c.X, e.X, t), spline(a.Y, b.Y, c.Y, e.Y, t)})
		}
	}
	return line
}

func spline(a, b, c, e, t float64) float64 {
	return 0.5 * (2*b + (c-a)*t + (2*a-5*b+4*c-e)*t*t + (3*b-a-3*c+e)*t*t*t)
}

// things paints the props of a pose.
func (d *paint) things(p Pose, s skeleton) {
	for _, prop := range p.Props {
		at := middle(s.part(prop.At))
		top := lowest(s.part(prop.At)) - prop.At.clearance()
		half := prop.Size / 2
		switch prop.Kind {
		case Wall:
			x := at.X + math.Copysign(thingWidth/2+prop.Size, at.X-s.centreOfMass().X)
			d.line(Thing, thingWidth*1.5, Point{x, 0}, Point{x, math.Max(1.1, at.Y+0.1)})
		case Block:
			d.shape(Thing, thingWidth, Point{at.X - half, 0.01}, Point{at.X + half, 0.01}, Point{at.X + half, top - 0.012}, Point{at.X - half, top - 0.012})
		case Wedge:
			edge := at.X - math.Copysign(0.12, prop.Size)
			d.shape(Thing, thingWidth, Point{edge, 0.01}, Point{edge, top - 0.012}, Point{at.X + math.Copysign(0.06, prop.Size), top - 0.012}, Point{at.X + prop.Size, 0.01})
		case Barrel:
			d.shape(Thing, thingWidth, ring(Point{at.X, top - prop.Size - 0.01}, prop.Size)...)
		case Line:
			d.line(Thing, thingWidth*1.6, Point{at.X - 0.05, -0.005}, Point{at.X + 0.05, -0.005})
		}
	}
}

func ring(centre Point, radius float64) []Point {
	const pieces = 28
	var points []Point
	for i := range pieces {
		points = append(points, centre.add(way(float64(i)*360/pieces).times(radius)))
	}
	return points
}

func middle(points []Point) Point {
	var sum Point
	for _, q := range points {
		sum = sum.add(q)
	}
	return sum.times(1 / float64(len(points)))
}

func lowest(points []Point) float64 {
	low := points[0].Y
	for _, q := range points {
		low = math.Min(low, q.Y)
	}
	return low
}
