// Package figure draws bodies as line figures from joint angles, so that a rung or drill is seen and not only read. A pose is angles
// and what rests on the floor; forward kinematics turn it into landmarks, and those into strokes that a page and a printed sheet
// draw alike. Lengths are parts of body height, x runs to the right, y upwards from the floor. Angles are degrees.
package figure

// View is the side from which a body is seen.
type View int

// The views: from the child's side, looking to the right of the picture, or from the front.
const (
	FromSide View = iota
	FromFront
)

// Spine bends the trunk at the waist (Low) and at the ribs (High) and the neck: round is positive, arched negative. Seen from the
// front they bend to the child's left.
type Spine struct{ Low, High, Neck float64 }

// Arm is measured from hanging beside the trunk. Seen from the side, Shoulder lifts it forwards and up (180 is beside the ear) and
// from the front sideways and up. Elbow bends it. Wrist bends the hand back, as under a handstand. Out turns the arm out of the plane
// of the picture, so that it is drawn shorter.
type Arm struct{ Shoulder, Elbow, Wrist, Out float64 }

// Leg is measured from standing. Hip lifts it forwards, from the front sideways. Knee bends it. Ankle points the foot; 0 is a right
// angle. Out turns the leg out of the plane of the picture, so that it is drawn shorter.
type Leg struct{ Hip, Knee, Ankle, Out float64 }

// Rest is a part that carries, at a height above the floor.
type Rest struct {
	Part   Part
	Height float64
}

// Pose is one position of a body. Lean turns the whole body forwards from upright, from the front to the child's left. Arms and Legs
// are the near and the far one; from the front the child's left and right. The first of Rests sets the body's height; without any,
// its lowest point is at Lift above the floor. Still says that the pose can be held without a wall or a helper.
type Pose struct {
	Key   string
	Says  string // what is seen, as it stands in a sentence: "a tall lunge, arms by the ears"
	View  View
	Lean  float64
	Spine Spine
	Arms  [2]Arm
	Legs  [2]Leg
	Rests []Rest
	Lift  float64
	Props []Prop
	Still bool
}

// twice is the same limb on both sides.
func twice[T any](limb T) [2]T { return [2]T{limb, limb} }

// Kind is a thing beside or below a body.
type Kind int

// The kinds of props.
const (
	Wall   Kind = iota // upright, where the part touches it
	Block              // a block, bench, stack or firm mat under the part
	Wedge              // a slope that falls from the part forwards, or backwards when Size is negative
	Barrel             // a barrel under the part
	Line               // a taped line on the floor below the part
)

// Prop is a thing placed by the part of the body that meets it. Size is its width, or the radius of a barrel.
type Prop struct {
	Kind Kind
	At   Part
	Size float64
}
