package figure

import "math"

// Point is a place: x to the right, y up from the floor, in body heights.
type Point struct{ X, Y float64 }

func (p Point) add(q Point) Point         { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) sub(q Point) Point         { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(f float64) Point     { return Point{p.X * f, p.Y * f} }
func between(a, b Point, f float64) Point { return a.add(b.sub(a).times(f)) }

// way is the direction of an angle: 0 up, 90 to the right, 180 down.
func way(degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Point{sin, cos}
}

// armPoints and legPoints are the landmarks of a limb.
type armPoints struct{ shoulder, elbow, wrist, knuckle, tip Point }
type legPoints struct{ hip, knee, ankle, heel, toe Point }

// skeleton is where the landmarks of a pose are.
type skeleton struct {
	hips, waist, ribs, neck, head, crown Point
	arms                                 [2]armPoints
	legs                                 [2]legPoints
}

// bones turns joint angles into landmarks and puts what rests onto the floor.
func (p Pose) bones() skeleton {
	var s skeleton
	waist, ribs := p.Lean+p.Spine.Low, p.Lean+p.Spine.Low+p.Spine.High
	s.waist = s.hips.add(way(p.Lean).times(lowerTrunk))
	s.ribs = s.waist.add(way(waist).times(midTrunk))
	s.neck = s.ribs.add(way(ribs).times(upperTrunk))
	up := way(ribs + p.Spine.Neck)
	s.head, s.crown = s.neck.add(up.times(crownDistance)), s.neck.add(up.times(headLength))
	for side := range 2 {
		s.arms[side] = p.armBones(side, s.neck, ribs)
		s.legs[side] = p.legBones(side, s.hips)
	}
	return s.moved(Point{0, p.rise(s)})
}

// hand is the sense of a limb's bends and its distance from the middle line.
func (p Pose) hand(side int, half float64) (sense, offset float64) {
	switch {
	case p.View == FromSide:
		return 1, 0
	case side == 0:
		return 1, half
	}
	return -1, -half
}

func (p Pose) armBones(side int, neck Point, trunk float64) armPoints {
	sense, offset := p.hand(side, shoulderHalf)
	a := p.Arms[side]
	raised := math.Max(0, math.Min(1, (a.Shoulder-60)/120))
	bones := armPoints{shoulder: neck.sub(way(trunk).times(neckToArms - shoulderRise*raised)).add(way(trunk + 90).times(offset * (1 - narrower*raised)))}
	seen := math.Cos(a.Out * math.Pi / 180)
	at := trunk + 180 - sense*a.Shoulder
	bones.elbow = bones.shoulder.add(way(at).times(upperArm * seen))
	at -= sense * a.Elbow
	bones.wrist = bones.elbow.add(way(at).times(forearm * seen))
	at -= sense * a.Wrist
	length := handLength
	if p.View == FromFront {
		length = frontHand
	}
	bones.knuckle, bones.tip = bones.wrist.add(way(at).times(length*knuckles/handLength)), bones.wrist.add(way(at).times(length))
	return bones
}

func (p Pose) legBones(side int, hips Point) legPoints {
	sense, offset := p.hand(side, hipHalf)
	l := p.Legs[side]
	bones := legPoints{hip: hips.add(way(p.Lean + 90).times(offset))}
	seen := math.Cos(l.Out * math.Pi / 180)
	at := p.Lean + 180 - sense*l.Hip
	bones.knee = bones.hip.add(way(at).times(thigh * seen))
	at += sense * l.Knee
	bones.ankle = bones.knee.add(way(at).times(shank * seen))
	at -= sense * (90 - l.Ankle)
	if p.View == FromFront {
		bones.heel, bones.toe = bones.ankle, bones.ankle.add(way(at).times(frontFoot))
		return bones
	}
	sole := bones.ankle.sub(way(at - 90).times(ankleUp))
	bones.heel, bones.toe = sole.sub(way(at).times(heelBack)), sole.add(way(at).times(footLength-heelBack))
	return bones
}

// rise is how far the bones have to be lifted.
func (p Pose) rise(s skeleton) float64 {
	if len(p.Rests) == 0 {
		return p.Lift - s.lowest()
	}
	first := p.Rests[0]
	return first.Height + first.Part.clearance() - s.part(first.Part)[0].Y
}

func (s skeleton) lowest() float64 {
	low := math.Inf(1)
	for _, q := range s.all() {
		low = math.Min(low, q.Y)
	}
	return low
}

func (s *skeleton) each(move func(*Point)) {
	for _, q := range []*Point{&s.hips, &s.waist, &s.ribs, &s.neck, &s.head, &s.crown} {
		move(q)
	}
	for i := range 2 {
		a, l := &s.arms[i], &s.legs[i]
		for _, q := range []*Point{&a.shoulder, &a.elbow, &a.wrist, &a.knuckle, &a.tip, &l.hip, &l.knee, &l.ankle, &l.heel, &l.toe} {
			move(q)
		}
	}
}

func (s skeleton) all() []Point {
	var points []Point
	s.each(func(q *Point) { points = append(points, *q) })
	return points
}

func (s skeleton) moved(by Point) skeleton {
	s.each(func(q *Point) { *q = q.add(by) })
	return s
}

// turned is the body seen from its other side: it looks to the left.
func (s skeleton) turned() skeleton {
	s.each(func(q *Point) { q.X = -q.X })
	return s
}
