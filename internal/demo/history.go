package demo

import (
	"encoding/binary"
	"math/rand/v2"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// seed makes every load of the same day tell the same story.
const seed = 20_240_917

// meeting is a past lesson with who marked at it, by e-mail address.
type meeting struct {
	course  course
	lesson  studio.Lesson
	round   int // which lesson of the term, from 0
	markers []string
}

// seenTurn is a mark before the children have ids. Meeting is -1 for marks from before the term.
type seenTurn struct {
	id      uuid.UUID
	child   string
	meeting int
	rung    string
	side    studio.Side
	outcome studio.Outcome
	faults  []string
	by      string
	at      time.Time
}

// history is what happened up to today: who came to which meeting, and every mark in order of time. Earlier is that of the lessons of
// the term before, whose meetings count by themselves.
type history struct {
	present map[int]map[string]bool // by meeting, by child
	turns   []seenTurn
	earlier *history
}

// story makes the history up.
type story struct {
	history
	skills
	rng      *rand.Rand
	beside   *rand.Rand // of those who mark beside another, so that the story is the same without them
	learners []*learner
	limits   []limit
}

// makeHistory makes up everything before today, of the meetings of the earlier term and of this one. The same arguments give the same
// history.
func makeHistory(s skills, earlier, meetings []meeting, termStart time.Time, limits []limit) history {
	st := &story{skills: s, rng: rand.New(rand.NewPCG(seed, 1)), beside: rand.New(rand.NewPCG(seed, 2)), limits: limits,
		history: history{present: map[int]map[string]bool{}}}
	known := map[string][]learnt{}
	for _, p := range pupils() {
		l := newLearner(p)
		st.learners = append(st.learners, l)
		known[p.fullName()] = st.before(l, termStart)
	}
	gone := st.formerPupils(known, termStart)
	past := st.earlierLessons(earlier, known)
	past.turns = append(past.turns, gone...)
	st.earlier = &past
	slices.SortStableFunc(st.turns, func(a, b seenTurn) int { return a.at.Compare(b.at) })
	for i, m := range meetings {
		st.meet(i, m)
	}
	return st.history
}

// meet lets a class have one lesson.
func (st *story) meet(i int, m meeting) {
	st.present[i] = map[string]bool{}
	for _, l := range st.learners {
		if l.class != m.course.name && l.also != m.course.name {
			continue
		}
		came := st.rng.Float64() < 0.84+0.14*l.gift
		st.present[i][l.fullName()] = came
		if came {
			st.work(i, m, l)
		}
	}
}

// work takes a child through the stations of a lesson. On the way to a new rung it goes once over one that has gone stale.
func (st *story) work(i int, m meeting, l *learner) {
	at := m.lesson.StartsAt.Add(20 * time.Minute)
	done := map[string]bool{}
	for station, ladder := range m.course.programme[m.round%len(m.course.programme)] {
		by := m.markersAt(station)
		for _, task := range []struct {
			rung  string
			turns int
		}{{l.stale(st.skills, ladder, at, 30), 1}, {l.next(st.skills, ladder), 3 + st.rng.IntN(2)}} {
			if task.rung == "" || done[task.rung] || st.forbidden(l, task.rung, at) {
				continue
			}
			done[task.rung] = true
			at = st.turnsAt(i, l, task.rung, task.turns, by, at)
		}
		at = at.Add(3 * time.Minute)
	}
}

// turnsAt marks so many turns; a two-sided rung gets them on each side in turn, the weak side first.
func (st *story) turnsAt(meeting int, l *learner, rung string, turns int, by []string, at time.Time) time.Time {
	sides := st.sides(rung)
	if len(sides) == 2 {
		sides = []studio.Side{l.weakSide(), opposite(l.weakSide())}
		turns++
	}
	for n := range turns {
		side := sides[n%len(sides)]
		outcome, faults := l.tries(st.rungs[rung], side, st.rng)
		st.mark(l, seenTurn{meeting: meeting, rung: rung, side: side, outcome: outcome, faults: faults, by: by[0], at: at}, by[1:])
		at = at.Add(50 * time.Second)
	}
	return at
}

// mark writes a turn down, also as those saw it who stand beside, and lets the rule count it once, as the less good of what was seen.
func (st *story) mark(l *learner, t seenTurn, beside []string) {
	t.id, t.child = st.newID(t.at), l.fullName()
	st.turns = append(st.turns, t)
	clean := t.outcome == studio.Clean
	for _, by := range beside {
		second := st.seenBeside(t, by)
		st.turns = append(st.turns, second)
		clean = clean && second.outcome == studio.Clean
	}
	l.note(st.skills, spot{t.rung, t.side}, turn{day: t.at.Unix() / 86400, clean: clean, safety: st.canHurt(t)}, t.at)
}

func (st *story) canHurt(t seenTurn) bool {
	return slices.ContainsFunc(st.rungs[t.rung].Faults, func(f studio.Fault) bool { return f.Safety && slices.Contains(t.faults, f.Key) })
}

func (st *story) forbidden(l *learner, rung string, at time.Time) bool {
	return slices.ContainsFunc(st.limits, func(c limit) bool {
		return c.child == l.fullName() && !at.Before(c.from) && c.forbids(st.rungs[rung])
	})
}

// newID is a UUID of version 7 for a moment, from the story's own dice so that it is the same at every load.
func (st *story) newID(at time.Time) uuid.UUID { return st.newIDFrom(st.rng, at) }

func (st *story) newIDFrom(dice *rand.Rand, at time.Time) uuid.UUID {
	var id uuid.UUID
	binary.BigEndian.PutUint16(id[6:8], uint16(7<<12|dice.Uint64()&0xfff))
	binary.BigEndian.PutUint64(id[8:], 2<<62|dice.Uint64()>>2)
	return stamped(id, at)
}

// stamped is the id at another moment.
func stamped(id uuid.UUID, at time.Time) uuid.UUID {
	binary.BigEndian.PutUint64(id[:8], uint64(at.UnixMilli())<<16|uint64(binary.BigEndian.Uint16(id[6:8])))
	return id
}
