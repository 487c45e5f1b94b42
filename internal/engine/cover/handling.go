package cover

// HandlingCaution belongs beside every figure of this file. Sources: HSE, manual handling risk filters (the law sets no limit, and the
// figures are no safe limits; they assume an easy two-handed grasp and a stable posture); ISO 11228-1:2021 ("does not cover handling
// people or animals").
const HandlingCaution = "These figures are about lifting objects that are easy to hold, with both hands and a firm stand. They are no limits, and " +
	"not about people: a child in movement is none of this. They never say that a step may be spotted."

// HandlingZone is a line of the HSE filter for lifting: kilograms held close to the body and at arm's length, for men and for women,
// below which an assessment is not usually asked for. Hands that pass through several zones take the smallest.
type HandlingZone struct {
	Height                                 string
	MenClose, MenFar, WomenClose, WomenFar float64
}

// HandlingFilter lists the zones from the head down. Source: HSE guidance L23 and INDG143, as quoted by others (not read there by us).
func HandlingFilter() []HandlingZone {
	return []HandlingZone{
		{"Shoulder to head", 10, 5, 7, 3},
		{"Elbow to shoulder", 20, 10, 13, 7},
		{"Knuckle to elbow", 25, 15, 16, 10},
		{"Mid-lower leg to knuckle", 20, 10, 13, 7},
		{"Below the mid-lower leg", 10, 5, 7, 3},
	}
}

// Together is the figure for two or three people who lift as one: two thirds, and half, of the sum. Another number gives 0.
func Together(each float64, people int) float64 {
	switch people {
	case 1:
		return each
	case 2:
		return each * 2 * 2 / 3
	case 3:
		return each * 3 / 2
	}
	return 0
}

// Twisted is a figure less what turning the trunk takes off: a tenth beyond 45 degrees, a fifth beyond 90.
func Twisted(kilograms, degrees float64) float64 {
	switch {
	case degrees > 90:
		return kilograms * 0.8
	case degrees > 45:
		return kilograms * 0.9
	}
	return kilograms
}

// Repeated is a figure less what repeating takes off: three tenths at one or two lifts a minute, half from five to eight, eight tenths
// above twelve. Between those the higher cut is taken, as the cautious choice.
func Repeated(kilograms, perMinute float64) float64 {
	switch {
	case perMinute > 8:
		return kilograms * 0.2
	case perMinute > 2:
		return kilograms * 0.5
	case perMinute > 0.5:
		return kilograms * 0.7
	}
	return kilograms
}
