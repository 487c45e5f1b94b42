package standing

// race is the exact distribution over the states of one or two lanes that have not both met the rule; done is the chance that they
// have. A state of a lane is the number of its window x 2 + whether the rung is known.
type race struct {
	sides []racer
	p, q  []float64 // by state of the first side x states of the second + state of the second
	done  float64
}

// racer is one side of a race.
type racer struct {
	lane
	windows
	moves [][]move // by state
	met   []int    // the states that meet the rule now
}

// move is a way out of a state with its chance.
type move struct {
	to int
	p  float64
}

// windows are the windows that a side can come to, each with its number and the numbers that a turn leads to: clean or not.
type windows struct {
	good       []uint32
	clean, not []int
}

// windowsFrom finds them, the first being that of the lane itself.
func (r Rule) windowsFrom(good uint32) windows {
	start := r.plain(good)
	w := windows{good: []uint32{start}}
	number := map[uint32]int{start: 0}
	find := func(good uint32) int {
		good = r.plain(good)
		n, known := number[good]
		if !known {
			n = len(w.good)
			number[good] = n
			w.good = append(w.good, good)
		}
		return n
	}
	for i := 0; i < len(w.good); i++ {
		w.clean = append(w.clean, find(r.after(w.good[i], true)))
		w.not = append(w.not, find(r.after(w.good[i], false)))
	}
	return w
}

// plain forgets what no longer matters. The rule allows Window - Clean marks that are not good; while there is one more, nothing older
// can be part of a window that meets it.
func (r Rule) plain(good uint32) uint32 {
	bad := 0
	for at := range r.Window {
		if good&(1<<at) == 0 {
			bad++
		}
		if bad > r.Window-r.Clean {
			return good | (1<<r.Window-1)&^(1<<(at+1)-1)
		}
	}
	return good
}

// states bounds the number of states of a side, from the ways to place the marks that are not good.
func (r Rule) states() int {
	sum, ways := 0, 1
	for bad := 0; bad <= r.Window-r.Clean+1 && bad <= r.Window; bad++ {
		sum += ways
		ways = ways * (r.Window - bad) / (bad + 1)
	}
	return 2 * sum
}

// movesOf are the ways out of each state.
func (w windows) movesOf(l Learning) [][]move {
	moves, all := make([][]move, 2*len(w.good)), make([]move, 0, 6*len(w.good))
	for i := range w.good {
		clean, not := 2*w.clean[i], 2*w.not[i]
		all = append(all, move{clean, (1 - l.Learn) * l.Not.Clean}, move{clean + 1, l.Learn * l.Not.Clean},
			move{not, (1 - l.Learn) * (1 - l.Not.Clean)}, move{not + 1, l.Learn * (1 - l.Not.Clean)},
			move{clean + 1, l.Yes.Clean}, move{not + 1, 1 - l.Yes.Clean})
		moves[2*i], moves[2*i+1] = all[6*i:6*i+4], all[6*i+4:6*i+6]
	}
	return moves
}

// newRace starts where the lanes stand. A single lane races beside a side that has one state and is there already.
func newRace(lanes []lane, l Learning) *race {
	r := &race{sides: []racer{{moves: [][]move{nil}, met: []int{0}}, {moves: [][]move{nil}, met: []int{0}}}}
	for i, lane := range lanes {
		w := lane.rule.windowsFrom(lane.good)
		r.sides[i] = racer{lane: lane.clone(), windows: w, moves: w.movesOf(l)}
		r.sides[i].judge()
	}
	across := len(r.sides[1].moves)
	r.p, r.q = make([]float64, len(r.sides[0].moves)*across), make([]float64, len(r.sides[0].moves)*across)
	for known := range 2 {
		first := chance(lanes[0].known, known)
		if len(lanes) == 1 {
			r.p[known] = first
			continue
		}
		r.p[known*across], r.p[known*across+1] = first*chance(lanes[1].known, 0), first*chance(lanes[1].known, 1)
	}
	return r
}

func chance(p float64, yes int) float64 {
	if yes == 1 {
		return p
	}
	return 1 - p
}

// judge works out which states meet the rule.
func (s *racer) judge() {
	s.met = s.met[:0]
	for i, good := range s.windows.good {
		if s.lane.met(good) {
			s.met = append(s.met, 2*i, 2*i+1)
		}
	}
}

// lesson lets the lanes take turns, one after the other.
func (r *race) lesson(lesson, turns, lanes int) {
	for turn := range turns {
		i := turn % lanes
		clear(r.q)
		if i == 0 {
			r.first()
		} else {
			r.second()
		}
		r.p, r.q = r.q, r.p
		r.sides[i].turn(lesson, false)
		r.sides[i].judge()
		r.absorb()
	}
}

// first moves the chances along a turn of the first side.
func (r *race) first() {
	across := len(r.sides[1].moves)
	for from, moves := range r.sides[0].moves {
		row := r.p[from*across : (from+1)*across]
		for _, m := range moves {
			to := r.q[m.to*across : (m.to+1)*across]
			for j, p := range row {
				to[j] += p * m.p
			}
		}
	}
}

// second moves the chances along a turn of the second side.
func (r *race) second() {
	across := len(r.sides[1].moves)
	for at := 0; at < len(r.p); at += across {
		row, to := r.p[at:at+across], r.q[at:at+across]
		for from, p := range row {
			if p == 0 {
				continue
			}
			for _, m := range r.sides[1].moves[from] {
				to[m.to] += p * m.p
			}
		}
	}
}

// absorb takes out what has met the rule on every side.
func (r *race) absorb() {
	across := len(r.sides[1].moves)
	for _, first := range r.sides[0].met {
		for _, second := range r.sides[1].met {
			at := first*across + second
			r.done += r.p[at]
			r.p[at] = 0
		}
	}
}
