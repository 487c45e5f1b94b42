package figure

import (
	"math"
	"strings"
	"testing"
)

// near reports whether two numbers agree within a tolerance.
func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// The shares of de Leva 1996, table 4: printed sums 99.99 for women; the trunk 42.57 with its centre at 49.64 from the neck.
func TestSharesAddUp(t *testing.T) {
	limbs := upperArmShare.mass + forearmShare.mass + handShare.mass + thighShare.mass + shankShare.mass + footShare.mass
	trunk := upperTrunkShare.mass + midTrunkShare.mass + lowerTrunkShare.mass
	if sum := headShare.mass + trunk + 2*limbs; !near(sum, 99.99, 1e-9) {
		t.Errorf("masses add up to %v", sum)
	}
	if !near(trunk, 42.57, 1e-9) {
		t.Errorf("trunk has %v", trunk)
	}
	long := upperTrunk + midTrunk + lowerTrunk
	centre := upperTrunkShare.mass*upperTrunkShare.centre*upperTrunk +
		midTrunkShare.mass*(100*upperTrunk+midTrunkShare.centre*midTrunk) +
		lowerTrunkShare.mass*(100*(upperTrunk+midTrunk)+lowerTrunkShare.centre*lowerTrunk)
	if at := centre / trunk / long; !near(at, 49.64, 0.01) {
		t.Errorf("the trunk's centre is at %v", at)
	}
}

// The segments make up the height of the women measured, 1735 mm (de Leva 1996).
func TestStandingIsOneBodyHigh(t *testing.T) {
	s := mustFind(t, "stand").bones()
	if !near(s.crown.Y, 1, 0.01) || !near(s.lowest(), 0, 0.001) {
		t.Errorf("stands from %v to %v", s.lowest(), s.crown.Y)
	}
}

// A stick figure with de Leva's women's shares, worked out from the table by hand: its centre is at .77830, with the arms up .81993.
func TestCentreOfMassOfStickFigure(t *testing.T) {
	trunk := func(f float64) Point {
		return between(Point{0, 1.20}, Point{0, .72}, f/(upperTrunk+midTrunk+lowerTrunk))
	}
	arm := armPoints{Point{0, 1.14}, Point{0, .92}, Point{0, .70}, Point{0, .63}, Point{}}
	leg := legPoints{Point{0, .72}, Point{0, .38}, Point{0, .06}, Point{-.04, .02}, Point{.16, .02}}
	s := skeleton{hips: Point{0, .72}, waist: trunk(upperTrunk + midTrunk), ribs: trunk(upperTrunk), neck: Point{0, 1.20}, crown: Point{0, 1.40},
		arms: twice(arm), legs: twice(leg)}
	const rounding = 2e-5 // of the trunk's three parts, whose table has two decimals
	if c := s.centreOfMass(); !near(c.X, .00104, 1e-5) || !near(c.Y, .77830, rounding) {
		t.Errorf("arms down: %v", c)
	}
	s.arms = twice(armPoints{Point{0, 1.14}, Point{0, 1.36}, Point{0, 1.58}, Point{0, 1.65}, Point{}})
	if c := s.centreOfMass(); !near(c.Y, .81993, rounding) {
		t.Errorf("arms up: %v", c)
	}
}

// What can be held still has its centre of mass over what carries it: statics.
func TestStillPosesAreInBalance(t *testing.T) {
	held := 0
	for _, p := range Poses() {
		if !p.Still {
			continue
		}
		held++
		s := p.bones()
		low, high := math.Inf(1), math.Inf(-1)
		for _, r := range p.Rests {
			for _, q := range s.part(r.Part) {
				low, high = math.Min(low, q.X), math.Max(high, q.X)
			}
		}
		if x := s.centreOfMass().X; x < low || x > high {
			t.Errorf("%s: the centre of mass is at %.3f, what carries it from %.3f to %.3f", p.Key, x, low, high)
		}
	}
	for _, key := range []string{"handstand", "headstand", "forearm-stand", "wheel-over", "lever", "stand", "handstand-shape", "handstand-split", "tall-lunge"} {
		if !mustFind(t, key).Still {
			t.Errorf("%s is not held to balance", key)
		}
	}
	t.Logf("%d poses in balance", held)
}

// What rests lies on what carries it, and nothing else goes below the floor; half of a line's width is forgiven.
func TestPosesRestOnTheFloor(t *testing.T) {
	for _, p := range Poses() {
		s := p.bones()
		for _, r := range p.Rests {
			for _, q := range s.part(r.Part) {
				if above := q.Y - r.Height - r.Part.clearance(); !near(above, 0, limbWidth/2) {
					t.Errorf("%s: part %d is %.3f off what carries it", p.Key, r.Part, above)
				}
			}
		}
		if low := s.lowest(); low < -limbWidth/2 {
			t.Errorf("%s goes %.3f below the floor", p.Key, low)
		}
		if len(p.Rests) == 0 && p.Lift <= 0 {
			t.Errorf("%s neither rests nor flies", p.Key)
		}
	}
}

// span is a range of a joint in degrees.
type span struct{ low, high float64 }

// Normal ranges of motion: American Academy of Orthopaedic Surgeons, Joint Motion, 1965, from memory. A line figure bends the
// shoulder blade, the shoulder and the hip bone in one joint each, and a hand or foot that carries is pressed further than it
// lifts itself; the second number of a comment is what trained children show: common practice, no source.
var (
	sideRanges = map[string]span{
		"shoulder": {-60, 200}, // 180; with the chest pressed open 200
		"elbow":    {-10, 150},
		"wrist":    {-105, 112}, // 70 and 80; pressed under weight 110
		"hip":      {-95, 162},  // -30 to 120; splits tilt the hip bone to -90, folds to 160
		"knee":     {-5, 158},   // 135; sitting on the heels 155
		"ankle":    {-32, 85},   // -20 to 50; a pointed foot 80
		"low":      {-57, 57},   // of 80 rounding and 30 arching in all; bridges 100 in all
		"high":     {-46, 46},
		"neck":     {-71, 62}, // 45 each way; with the upper ribs 60
	}
	frontRanges = map[string]span{
		"shoulder": {-60, 190}, // 180
		"elbow":    {-152, 152},
		"wrist":    {-92, 112},
		"hip":      {-30, 102}, // 45; in a side split, turned out, 100
		"knee":     {-5, 152},
		"ankle":    {-60, 115}, // seen turned out
		"low":      {-35, 35},
		"high":     {-35, 35},
		"neck":     {-45, 45},
	}
)

func TestJointsStayWithinReach(t *testing.T) {
	for _, p := range Poses() {
		ranges := sideRanges
		if p.View == FromFront {
			ranges = frontRanges
		}
		check := func(joint string, angle float64) {
			if r := ranges[joint]; angle < r.low || angle > r.high {
				t.Errorf("%s: %s at %.0f", p.Key, joint, angle)
			}
		}
		check("low", p.Spine.Low)
		check("high", p.Spine.High)
		check("neck", p.Spine.Neck)
		for i := range 2 {
			a, l := p.Arms[i], p.Legs[i]
			check("shoulder", a.Shoulder)
			check("elbow", a.Elbow)
			check("wrist", a.Wrist)
			check("hip", l.Hip)
			if p.View == FromSide || l.Out == 0 { // a leg turned towards the onlooker hides how far the knee bends
				check("knee", l.Knee)
			}
			check("ankle", l.Ankle)
		}
	}
}

// Shapes as teachers ask for them: common practice of the trade, no source.
func TestShapesAreWhatTeachersAskFor(t *testing.T) {
	steep := func(a, b Point) float64 { return math.Abs(math.Atan2(b.X-a.X, b.Y-a.Y)) * 180 / math.Pi }
	for _, key := range []string{"handstand", "headstand", "forearm-stand"} {
		s := mustFind(t, key).bones()
		if lean := steep(s.arms[0].shoulder, s.legs[0].ankle); lean > 3 {
			t.Errorf("%s leans by %.1f degrees from shoulders to ankles", key, lean)
		}
	}
	for _, key := range []string{"handstand", "handstand-pass", "plank", "bridge-open", "box-wall"} {
		s := mustFind(t, key).bones()
		if a := s.arms[0]; !near(a.shoulder.X, a.wrist.X, 0.03) {
			t.Errorf("%s: shoulders %.3f off the hands", key, a.shoulder.X-a.wrist.X)
		}
	}
	over := mustFind(t, "wheel-over").bones()
	left, right := over.legs[0].ankle.sub(over.legs[0].hip), over.legs[1].ankle.sub(over.legs[1].hip)
	if open := math.Acos((left.X*right.X+left.Y*right.Y)/(math.Hypot(left.X, left.Y)*math.Hypot(right.X, right.Y))) * 180 / math.Pi; open < 165 {
		t.Errorf("the wheel opens to %.0f degrees", open)
	}
	for _, key := range []string{"plank", "lever", "hollow-one-leg", "bridge"} {
		if e := mustFind(t, key).Arms[1].Elbow; !near(e, 0, 7) {
			t.Errorf("%s: elbow at %.0f", key, e)
		}
	}
}

func TestNamesAndText(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Poses() {
		if seen[p.Key] || strings.HasSuffix(p.Key, Turned) {
			t.Errorf("the name %s cannot be used", p.Key)
		}
		seen[p.Key] = true
		if p.Says == "" || strings.HasSuffix(p.Says, ".") {
			t.Errorf("%s says %q", p.Key, p.Says)
		}
	}
	for names, want := range map[string]string{
		"": "", "handstand": "Figure: a straight handstand.",
		"tall-lunge handstand tall-lunge": "Figure: from a tall lunge, arms by the ears, through a straight handstand, to a tall lunge, arms by the ears.",
		"handstand nonsense headstand":    "Figure: from a straight handstand, to a straight headstand.",
	} {
		if got := Text(strings.Fields(names)); got != want {
			t.Errorf("%q: %q", names, got)
		}
	}
	if !Known("tall-lunge"+Turned) || Known("nonsense") || Known("") || Known(Turned) {
		t.Error("wrong names are known")
	}
}

func TestDrawing(t *testing.T) {
	if d := Draw(nil); len(d.Strokes) != 0 {
		t.Errorf("nothing is drawn as %v", d)
	}
	one, both := Draw([]string{"wedge-sit"}), Draw([]string{"wedge-sit", "wedge-sit" + Turned})
	if one.Width <= 0 || both.Width <= 2*one.Width || one.Height != both.Height {
		t.Errorf("%v x %v, both %v x %v", one.Width, one.Height, both.Width, both.Height)
	}
	for _, d := range []Drawing{one, both} {
		for _, s := range d.Strokes {
			for _, q := range s.Points {
				if q.X < 0 || q.X > d.Width || q.Y < 0 || q.Y > d.Height {
					t.Errorf("%v lies outside of %v x %v", q, d.Width, d.Height)
				}
			}
		}
	}
	if p := mustFind(t, "wedge-sit"); p.Props[0].Size > 0 {
		t.Error("turning a pose changed the pose itself")
	}
}

func mustFind(t *testing.T, key string) Pose {
	t.Helper()
	p, _, ok := Find(key)
	if !ok {
		t.Fatalf("no pose %s", key)
	}
	return p
}
