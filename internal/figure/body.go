package figure

// Segment lengths as parts of body height: de Leva 1996, J Biomech 29:1223-1230, women, body height 1735 mm; the lengths are from
// memory. Children's parts differ (Jensen 1986, J Biomech 19:359-368: larger head, shorter legs); these are figures, not measurements.
const (
	height     = 1735.0
	lowerTrunk = 181.5 / height // mid hip to navel
	midTrunk   = 205.3 / height // navel to the end of the breastbone
	upperTrunk = 228.0 / height // end of the breastbone to the seventh neck vertebra
	headLength = 243.7 / height // seventh neck vertebra to the crown
	neckToArms = 116.9 / height // seventh neck vertebra down to the middle of the shoulders
	upperArm   = 275.1 / height
	forearm    = 264.3 / height
	handLength = 170.1 / height // wrist to the tip of the middle finger
	knuckles   = 78.0 / height  // wrist to the knuckle of the middle finger
	thigh      = 368.5 / height
	shank      = 438.6 / height
	footLength = 228.3 / height
	ankleUp    = 69.4 / height // ankle above the sole: what is left of body height
)

// Widths and soft parts, set for a clear picture; no source.
const (
	headRadius    = 0.064
	headDrawn     = 0.074 // larger than an adult's: these are children
	shoulderHalf  = 0.09
	hipHalf       = 0.042
	heelBack      = 0.03  // heel behind the ankle
	shoulderRise  = 0.04  // the shoulder blades lift an arm that is raised overhead
	narrower      = 0.3   // and come closer together
	trunkHalf     = 0.035 // half of the trunk's thickness
	frontFoot     = 0.085 // a foot seen from the front
	frontHand     = 0.05  // a hand seen from the front
	jointHalf     = 0.015 // half of the thickness of an elbow or knee
	crownDistance = headLength - headRadius
)

// share is a segment's part of the body's mass, in percent, and where its centre lies from the first end, in percent of its length.
type share struct{ mass, centre float64 }

// Segment masses and centres: de Leva 1996, table 4, women. The three parts of the trunk are from memory; together they give the
// trunk's 42.57 and 49.64 of the table, which a test holds.
var (
	headShare       = share{6.68, 48.41}  // from the crown
	upperTrunkShare = share{15.45, 50.50} // from the neck
	midTrunkShare   = share{14.65, 45.12}
	lowerTrunkShare = share{12.47, 49.20}
	upperArmShare   = share{2.55, 57.54}
	forearmShare    = share{1.38, 45.59}
	handShare       = share{0.56, 74.74} // wrist to knuckle
	thighShare      = share{14.78, 36.12}
	shankShare      = share{4.81, 43.52}
	footShare       = share{1.29, 40.14} // heel to toe
)
