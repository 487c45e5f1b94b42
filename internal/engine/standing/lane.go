package standing

import (
	"math/bits"
	"slices"
)

// lane is one side of a rung on its way to the rule: the window of its last marks, newest first.
type lane struct {
	rule    Rule
	known   float64
	good    uint32 // a bit for each place of the window, the newest lowest; a place without a mark is not good
	lessons []int  // the lesson of each place: below 0 for past ones, 0 for none, above for those to come
	blocked int    // turns until the last fault that can hurt has left the window
}

// newLanes are the sides of a rung, the one to begin with first.
func newLanes(marks []Mark, twoSided bool, first Side, l Learning, s Settings) []lane {
	sides := []Side{NoSide}
	if twoSided {
		sides = []Side{Left, Right}
	}
	if first == Right {
		slices.Reverse(sides)
	}
	lanes := make([]lane, len(sides))
	for i, side := range sides {
		lanes[i] = newLane(marks, side, l, s)
	}
	return lanes
}

func newLane(marks []Mark, side Side, l Learning, s Settings) lane {
	w := newWindow(side, s.Rule)
	out := lane{rule: s.Rule, known: l.Known, lessons: make([]int, s.Rule.Window)}
	for _, m := range marks {
		w.see(m, s)
		if w.takes(m) {
			out.known = l.next(l.after(out.known, m.Look()))
		}
	}
	for place, m := range slices.Backward(w.marks) {
		at := len(w.marks) - 1 - place
		if m.good() {
			out.good |= 1 << at
		}
		out.lessons[at] = -1 - firstIn(w.marks, place)
	}
	out.blocked = max(0, s.Rule.Window-w.sinceFault)
	return out
}

// firstIn is the first mark that belongs to the same lesson.
func firstIn(marks []Mark, at int) int {
	return slices.IndexFunc(marks, func(m Mark) bool { return m.sameLesson(marks[at]) })
}

func (l lane) clone() lane {
	l.lessons = slices.Clone(l.lessons)
	return l
}

// after is the window once another turn came in.
func (r Rule) after(good uint32, clean bool) uint32 {
	good <<= 1
	if clean {
		good |= 1
	}
	return good & (1<<r.Window - 1)
}

// turn takes in one turn of a lesson.
func (l *lane) turn(lesson int, clean bool) {
	l.good = l.rule.after(l.good, clean)
	copy(l.lessons[1:], l.lessons)
	l.lessons[0] = lesson
	l.blocked = max(0, l.blocked-1)
}

// met is the rule for a window of these good marks.
func (l lane) met(good uint32) bool {
	if l.blocked > 0 || bits.OnesCount32(good) < l.rule.Clean {
		return false
	}
	lessons := 0
	for left := good; left != 0; left &= left - 1 {
		if at := bits.TrailingZeros32(left); !l.sameBefore(good, at) {
			lessons++
		}
	}
	return lessons >= l.rule.Lessons
}

// sameBefore reports whether a newer good mark is of the same lesson as the one in a place.
func (l lane) sameBefore(good uint32, place int) bool {
	for at, lesson := range l.lessons[:place] {
		if lesson == l.lessons[place] && good&(1<<at) != 0 {
			return true
		}
	}
	return false
}
