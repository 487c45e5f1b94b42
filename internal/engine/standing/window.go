package standing

// window is the last marks of one side of a rung as they come in, and what they say against the rule.
type window struct {
	side       Side
	marks      []Mark
	sinceFault int // marks of this side since the last safety fault
	memory     trace
}

func newWindow(side Side, r Rule) *window {
	return &window{side: side, marks: make([]Mark, 0, r.Window), sinceFault: r.Window}
}

// takes reports whether a mark belongs to this side; a window without a side takes all.
func (w *window) takes(m Mark) bool { return w.side == NoSide || w.side == m.Side }

// see takes a mark in. On a two-sided rung a mark without a side counts for no side, but its safety fault counts for both.
func (w *window) see(m Mark, s Settings) {
	if w.takes(m) {
		if len(w.marks) == s.Rule.Window {
			copy(w.marks, w.marks[1:])
			w.marks = w.marks[:len(w.marks)-1]
		}
		w.marks = append(w.marks, m)
		w.sinceFault++
		if m.good() {
			w.memory.success(dayNumber(m.At), s.Memory)
		}
	}
	if m.SafetyFault && (w.takes(m) || m.Side == NoSide) {
		w.sinceFault = 0
	}
}

// tally counts the window: good marks, and the lessons they were seen in.
func (w *window) tally(r Rule) Tally {
	t := Tally{Side: w.side, Of: len(w.marks), SafetyFault: w.sinceFault < r.Window}
	for i, m := range w.marks {
		if !m.good() {
			continue
		}
		t.Clean++
		if w.firstOfLesson(i) {
			t.Lessons++
		}
	}
	t.Met = t.Clean >= r.Clean && t.Lessons >= r.Lessons && !t.SafetyFault
	return t
}

func (w *window) firstOfLesson(i int) bool {
	for _, earlier := range w.marks[:i] {
		if earlier.good() && earlier.sameLesson(w.marks[i]) {
			return false
		}
	}
	return true
}
