package figure

// centreOfMass is the body's centre of mass, by the segments' shares. Shares are divided by their sum, as printed they add up to
// 99.99 for women.
func (s skeleton) centreOfMass() Point {
	var sum Point
	total := 0.0
	add := func(from, to Point, part share) {
		sum = sum.add(between(from, to, part.centre/100).times(part.mass))
		total += part.mass
	}
	add(s.crown, s.neck, headShare)
	add(s.neck, s.ribs, upperTrunkShare)
	add(s.ribs, s.waist, midTrunkShare)
	add(s.waist, s.hips, lowerTrunkShare)
	for i := range 2 {
		a, l := s.arms[i], s.legs[i]
		add(a.shoulder, a.elbow, upperArmShare)
		add(a.elbow, a.wrist, forearmShare)
		add(a.wrist, a.knuckle, handShare)
		add(l.hip, l.knee, thighShare)
		add(l.knee, l.ankle, shankShare)
		add(l.heel, l.toe, footShare)
	}
	return sum.times(1 / total)
}
