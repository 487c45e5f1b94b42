package demo

import (
	"math/rand/v2"
	"time"

	"rungbook/internal/studio"
)

// The learning model, invented: no published rate for acro is known. Every turn closes a part of the distance between what a child
// can do on a side of a rung and the most that it will; the other side learns a little with it.
const (
	mostSkill   = 0.96
	plainRate   = 0.07 // part of the distance that a turn closes for a child without gift
	giftedRate  = 0.12 // added for a gifted child
	otherSide   = 0.35 // how much of a turn the other side learns
	habitChance = 0.45 // that a child has the habit behind a fault
)

// spot is one side of one rung.
type spot struct {
	rung string
	side studio.Side
}

// turn is one turn as the rule of "secure" counts it.
type turn struct {
	day    int64
	clean  bool
	safety bool
}

// learner is one child while its term is made up.
type learner struct {
	pupil
	skill  map[spot]float64
	recent map[spot][]turn // at most the last five
	met    map[string]bool // rungs that were secure once
	seen   map[string]time.Time
	habits map[string]bool // by the key of the cause, so that a habit shows at every rung
}

func newLearner(p pupil) *learner {
	return &learner{pupil: p, skill: map[spot]float64{}, recent: map[spot][]turn{}, met: map[string]bool{}, seen: map[string]time.Time{}, habits: map[string]bool{}}
}

// weakSide is the side on which the child lags.
func (l *learner) weakSide() studio.Side {
	if l.weak == weakRight {
		return studio.Right
	}
	return studio.Left
}

// can is the chance of a clean turn; a rung that is new starts low, on the weak side lower.
func (l *learner) can(at spot, rng *rand.Rand) float64 {
	if _, known := l.skill[at]; !known {
		start := 0.12 + 0.25*l.gift + 0.12*rng.Float64()
		if at.side == l.weakSide() {
			start *= 0.7
		}
		l.skill[at] = start
	}
	return l.skill[at]
}

// tries takes one turn and learns from it.
func (l *learner) tries(r studio.Rung, side studio.Side, rng *rand.Rand) (studio.Outcome, []string) {
	at := spot{r.Key, side}
	skill := l.can(at, rng)
	outcome := studio.Missed
	switch luck := rng.Float64(); {
	case luck < skill:
		outcome = studio.Clean
	case luck < skill+(1-skill)*(0.35+0.5*skill):
		outcome = studio.Supported
	}
	faults := l.faults(r, outcome, skill, rng)
	rate := plainRate + giftedRate*l.gift
	l.skill[at] += rate * (mostSkill - skill)
	if other := (spot{r.Key, opposite(side)}); side != studio.NoSide {
		l.skill[other] = l.can(other, rng) + otherSide*rate*(mostSkill-l.can(other, rng))
	}
	return outcome, faults
}

func opposite(s studio.Side) studio.Side {
	if s == studio.Left {
		return studio.Right
	}
	return studio.Left
}

// faults are drawn from the child's habits: each cause of strength s that the child has shows as its fault with chance s, less as
// skill grows. At most two are noted at a turn; a clean turn shows at most a small one, never one that can hurt.
func (l *learner) faults(r studio.Rung, outcome studio.Outcome, skill float64, rng *rand.Rand) []string {
	var shown []string
	for _, f := range r.Faults {
		hidden := 1.0
		for _, c := range f.Causes {
			if l.hasHabit(c.Key, rng) {
				hidden *= 1 - c.Strength
			}
		}
		chance := (1 - hidden) * (1.15 - skill)
		if f.Safety {
			chance *= 0.6
		}
		if outcome == studio.Clean {
			chance *= 0.2
		}
		if rng.Float64() < chance && len(shown) < 2 && !(f.Safety && outcome == studio.Clean) {
			shown = append(shown, f.Key)
		}
		if outcome == studio.Clean && len(shown) == 1 {
			break
		}
	}
	return shown
}

func (l *learner) hasHabit(cause string, rng *rand.Rand) bool {
	has, decided := l.habits[cause]
	if !decided {
		has = rng.Float64() < habitChance
		l.habits[cause] = has
	}
	return has
}

// note keeps a turn for the rule: secure is 4 clean of the last 5 in at least 2 lessons, on each side, and no fault that can hurt
// among the last 5.
func (l *learner) note(s skills, at spot, t turn, when time.Time) {
	kept := append(l.recent[at], t)
	l.recent[at] = kept[max(0, len(kept)-5):]
	l.seen[at.rung] = when
	if l.met[at.rung] {
		return
	}
	for _, side := range s.sides(at.rung) {
		if !secure(l.recent[spot{at.rung, side}]) {
			return
		}
	}
	l.met[at.rung] = true
}

func secure(recent []turn) bool {
	clean, days := 0, map[int64]bool{}
	for _, t := range recent {
		if t.safety {
			return false
		}
		if t.clean {
			clean++
			days[t.day] = true
		}
	}
	return clean >= 4 && len(days) >= 2
}

// next is the rung to work at on a ladder: its first that is not met, or on the way there what that one needs. Empty at the top.
func (l *learner) next(s skills, ladder string) string {
	for _, key := range s.ladders[ladder] {
		if !l.met[key] {
			return l.begin(s, key)
		}
	}
	return ""
}

func (l *learner) begin(s skills, key string) string {
	for _, need := range s.rungs[key].Needs {
		if !l.met[need] {
			return l.begin(s, need)
		}
	}
	return key
}

// stale is the rung of a ladder that was met and has gone unseen the longest, if for more than so many days.
func (l *learner) stale(s skills, ladder string, now time.Time, days int) string {
	oldest, found := now.AddDate(0, 0, -days), ""
	for _, key := range s.ladders[ladder] {
		if l.met[key] && l.seen[key].Before(oldest) {
			oldest, found = l.seen[key], key
		}
	}
	return found
}
