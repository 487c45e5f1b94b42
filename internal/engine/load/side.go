package load

import "fmt"

// Side is the side of the body a turn led with.
type Side string

// The sides. NoSide is for turns without one.
const (
	NoSide Side = ""
	Left   Side = "left"
	Right  Side = "right"
)

// Balance counts the turns that had a side.
type Balance struct {
	Left  int
	Right int
}

// Share is the part (0 to 1) that led with the left; ok is false when no turn had a side.
func (b Balance) Share() (left float64, ok bool) {
	if b.Left+b.Right == 0 {
		return 0, false
	}
	return float64(b.Left) / float64(b.Left+b.Right), true
}

// Words describe the balance and judge nothing.
func (b Balance) Words() string {
	switch {
	case b.Left+b.Right == 0:
		return "No turn of a rung with two sides."
	case b.Left == b.Right:
		return fmt.Sprintf("Left and right led %d turns each.", b.Left)
	case b.Left < b.Right:
		return fmt.Sprintf("Left led %d turns, right %d: %d fewer on the left.", b.Left, b.Right, b.Right-b.Left)
	}
	return fmt.Sprintf("Left led %d turns, right %d: %d fewer on the right.", b.Left, b.Right, b.Left-b.Right)
}

// Counted is how many turns of one rung a child had in one lesson, from those planned and those marked: the greater of the two, since a
// mark is of a turn that the plan may already hold. It never counts a turn twice, nor one fewer than was seen.
func Counted(planned, marked int) int { return max(planned, marked) }

// CountedSides is Counted for a rung with two sides. Marked turns stay on their side; what was planned beyond them levels the sides out,
// and the odd turn goes to the weaker side (the left when neither is).
func CountedSides(planned int, marked Balance, weaker Side) Balance {
	b := marked
	rest := Counted(planned, marked.Left+marked.Right) - marked.Left - marked.Right
	level := min(rest, max(b.Left, b.Right)-min(b.Left, b.Right))
	if b.Left < b.Right {
		b.Left += level
	} else {
		b.Right += level
	}
	rest -= level
	b.Left, b.Right = b.Left+rest/2, b.Right+rest/2
	switch {
	case rest%2 == 0:
	case weaker == Right:
		b.Right++
	default:
		b.Left++
	}
	return b
}
