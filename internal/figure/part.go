package figure

// Part is a part of the body that can carry or touch.
type Part int

// The parts. A plain name is both limbs; Near and Far are one of them, from the front the child's left and right.
const (
	Feet     Part = iota // flat: heel and toes
	NearFoot             // flat
	FarFoot              // flat
	Toes                 // the tips
	NearToes
	FarToes
	Heels
	NearHeel
	FarHeel
	Hands // flat: wrist and fingertips
	NearHand
	FarHand
	Tips // fingertips
	NearTips
	FarTips
	Forearms // elbow and wrist
	NearForearm
	FarForearm
	Elbows
	Knees
	NearKnee
	FarKnee
	Shins // knee and top of the foot
	NearShin
	FarShin
	Seat
	Back      // seat, waist and ribs
	Ribs      // the shoulder blades
	Shoulders // the top of the back
	LowBack   // seat and waist
	Waist
	Chest // the front of the ribs
	Belly // hips and waist, face down
	Crown // of the head
	Head  // any side of it
)

// limb is the landmarks of a part that has two sides.
type limb func(s skeleton, side int) []Point

var limbs = map[Part]limb{
	Feet:     func(s skeleton, i int) []Point { return []Point{s.legs[i].heel, s.legs[i].toe} },
	Toes:     func(s skeleton, i int) []Point { return []Point{s.legs[i].toe} },
	Heels:    func(s skeleton, i int) []Point { return []Point{s.legs[i].heel} },
	Hands:    func(s skeleton, i int) []Point { return []Point{s.arms[i].wrist, s.arms[i].tip} },
	Tips:     func(s skeleton, i int) []Point { return []Point{s.arms[i].tip} },
	Forearms: func(s skeleton, i int) []Point { return []Point{s.arms[i].elbow, s.arms[i].wrist} },
	Knees:    func(s skeleton, i int) []Point { return []Point{s.legs[i].knee} },
	Shins:    func(s skeleton, i int) []Point { return []Point{s.legs[i].knee, s.legs[i].toe} },
}

// sides says which limb a one-sided part belongs to.
var sides = map[Part]struct {
	both Part
	side int
}{
	NearFoot: {Feet, 0}, FarFoot: {Feet, 1}, NearToes: {Toes, 0}, FarToes: {Toes, 1}, NearHeel: {Heels, 0}, FarHeel: {Heels, 1},
	NearHand: {Hands, 0}, FarHand: {Hands, 1}, NearTips: {Tips, 0}, FarTips: {Tips, 1}, NearForearm: {Forearms, 0}, FarForearm: {Forearms, 1},
	NearKnee: {Knees, 0}, FarKnee: {Knees, 1}, NearShin: {Shins, 0}, FarShin: {Shins, 1},
}

// part is where the landmarks of a part are.
func (s skeleton) part(p Part) []Point {
	if one, ok := sides[p]; ok {
		return limbs[one.both](s, one.side)
	}
	if of, ok := limbs[p]; ok {
		return append(of(s, 0), of(s, 1)...)
	}
	switch p {
	case Elbows:
		return []Point{s.arms[0].elbow, s.arms[1].elbow}
	case Back:
		return []Point{s.hips, s.waist, s.ribs}
	case Ribs, Chest:
		return []Point{s.ribs}
	case Belly, LowBack:
		return []Point{s.hips, s.waist}
	case Waist:
		return []Point{s.waist}
	case Shoulders:
		return []Point{s.neck}
	case Crown:
		return []Point{s.crown}
	case Head:
		return []Point{s.head}
	}
	return []Point{s.hips}
}

// clearance is how far the landmarks of a part lie above what carries it.
func (p Part) clearance() float64 {
	switch p {
	case Seat, Back, Ribs, Shoulders, LowBack, Waist, Chest, Belly:
		return trunkHalf
	case Head:
		return headRadius
	case Elbows, Forearms, NearForearm, FarForearm, Knees, NearKnee, FarKnee, Shins, NearShin, FarShin:
		return jointHalf
	}
	return 0
}
