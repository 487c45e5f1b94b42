package kit

// Measures of the small drawing, in units of its view box (44 by 88).
const (
	smallWidth  = 44
	smallHeight = 88
	smallBar    = 36
	smallLeft   = 4
)

// smallRung is a rung of the small drawing with its place.
type smallRung struct {
	State State
	Y, H  float64
}

// placeSmall shares the height among the rungs, from the bottom up.
func (l LadderView) placeSmall() []smallRung {
	n := float64(len(l.Rungs))
	if n == 0 {
		return nil
	}
	step := (smallHeight - 8) / n
	step = min(step, 14)
	h := max(min(step-2, 9), 1.5)
	placed := make([]smallRung, len(l.Rungs))
	for i, r := range l.Rungs {
		y := smallHeight - 4 - float64(i+1)*step + (step-h)/2
		placed[i] = smallRung{State: r.State, Y: y, H: h}
	}
	return placed
}

func (s smallRung) class() string { return "small-rung small-" + string(s.State) }

// line runs between the rails, where a rung is still to come.
func (s smallRung) line() string {
	return "M11 " + num(s.Y+s.H/2) + "H33"
}

// fill is the width of the inner bar: the whole for secure, half for working,
// none for the others, whose outlines differ.
func (s smallRung) fill() float64 {
	switch s.State {
	case Secure:
		return smallBar
	case Working:
		return smallBar / 2
	}
	return 0
}
