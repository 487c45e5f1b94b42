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

func (l lane) mask() uint32 { return 1<<l.rule.Window - 1 }

func (l lane) after(good uint32, clean bool) uint32 {
	good <<= 1
	if clean {
		good |= 1
	}
	return good & l.mask()
}

// turn takes in one turn of a lesson.
func (l *lane) turn(lesson int, clean bool) {
	l.good = l.after(l.good, clean)
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

// race is the exact distribution over the states of one or two lanes that have not both met the rule; done is the chance that they have.
// A state of a lane is its window and whether the rung is known: window x 2 + known.
type race struct {
	lanes []lane
	learn Learning
	met   [2][]bool // by window
	size  [2]int
	p, q  []float64 // by state of the first lane x states of the second + state of the second
	done  float64
}

// newRace starts where the lanes stand. A single lane races beside one that has one state and is there already.
func newRace(lanes []lane, l Learning) *race {
	r := &race{learn: l, size: [2]int{1, 1}, met: [2][]bool{{true}, {true}}}
	for i, lane := range lanes {
		r.lanes = append(r.lanes, lane.clone())
		r.size[i] = 2 << lane.rule.Window
		r.met[i] = make([]bool, 1<<lane.rule.Window)
		r.judge(i)
	}
	r.p, r.q = make([]float64, r.size[0]*r.size[1]), make([]float64, r.size[0]*r.size[1])
	for known := range 2 {
		r.begin(int(lanes[0].good)<<1|known, chance(lanes[0].known, known), lanes)
	}
	return r
}

func (r *race) begin(first int, p float64, lanes []lane) {
	if len(lanes) == 1 {
		r.p[first] = p
		return
	}
	for known := range 2 {
		r.p[first*r.size[1]+int(lanes[1].good)<<1+known] = p * chance(lanes[1].known, known)
	}
}

func chance(p float64, yes int) float64 {
	if yes == 1 {
		return p
	}
	return 1 - p
}

// judge works out which windows of a lane meet the rule.
func (r *race) judge(i int) {
	for good := range r.met[i] {
		r.met[i][good] = r.lanes[i].met(uint32(good))
	}
}

// lesson lets the lanes take turns.
func (r *race) lesson(lesson, turns int) {
	for turn := range turns {
		i := turn % len(r.lanes)
		r.step(i)
		r.lanes[i].turn(lesson, false)
		r.judge(i)
		r.absorb()
	}
}

// step moves the chances along one turn of a lane.
func (r *race) step(i int) {
	clear(r.q)
	across := r.size[1]
	for at, p := range r.p {
		if p == 0 {
			continue
		}
		first, second := at/across, at%across
		state, stride := first, across
		base := second
		if i == 1 {
			state, stride, base = second, 1, first*across
		}
		known, window := state&1, uint32(state>>1)
		looks := r.learn.Not
		if known == 1 {
			looks = r.learn.Yes
		}
		good, bad := int(r.lanes[i].after(window, true))<<1, int(r.lanes[i].after(window, false))<<1
		if known == 1 {
			r.q[base+(good|1)*stride] += p * looks.Clean
			r.q[base+(bad|1)*stride] += p * (1 - looks.Clean)
			continue
		}
		stays, learns := p*(1-r.learn.Learn), p*r.learn.Learn
		r.q[base+good*stride] += stays * looks.Clean
		r.q[base+(good|1)*stride] += learns * looks.Clean
		r.q[base+bad*stride] += stays * (1 - looks.Clean)
		r.q[base+(bad|1)*stride] += learns * (1 - looks.Clean)
	}
	r.p, r.q = r.q, r.p
}

// absorb takes out what has met the rule on every side.
func (r *race) absorb() {
	across := r.size[1]
	for at, p := range r.p {
		if p != 0 && r.met[0][at/across>>1] && r.met[1][at%across>>1] {
			r.done += p
			r.p[at] = 0
		}
	}
}
