package app

import (
	"fmt"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
)

// outlook is how well things may go: the share of lessons that a child comes to, and how fast it learns beside the usual.
type outlook struct {
	comes func(present, noted int) float64
	learn float64
}

// The outlooks of a range. The share of lessons is what the child's attendance so far leaves open in 95 of 100 (Jeffreys' interval);
// to learn half as fast, or half as fast again, is ours: no published figure.
const (
	slowLearn = 0.5
	fastLearn = 1.5
)

func attendance(high bool) func(present, noted int) float64 {
	return func(present, noted int) float64 {
		low, most, err := standing.Jeffreys(min(present, noted), noted)
		switch {
		case err != nil:
			return 0
		case high:
			return most
		}
		return low
	}
}

// odds are the chances of one child by rung, as found so far: those to be told, and the two ends of their range.
type odds struct{ told, low, high map[string]float64 }

func newOdds() *odds { return &odds{map[string]float64{}, map[string]float64{}, map[string]float64{}} }

// span is the chance of a child to have a rung secure by the day, with its range.
func (s *stage) span(child uuid.UUID, key string, seen *odds) (chance, low, high float64, err error) {
	if chance, err = s.reach(child, key, outlook{learn: 1}, seen.told); err != nil {
		return 0, 0, 0, err
	}
	if low, err = s.reach(child, key, outlook{attendance(false), slowLearn}, seen.low); err != nil {
		return 0, 0, 0, err
	}
	high, err = s.reach(child, key, outlook{attendance(true), fastLearn}, seen.high)
	return chance, min(low, chance), max(high, chance), err
}

// reach is the chance in one outlook: by the child's marks and the lessons until the day, and no likelier than any rung that it needs. One
// that is due a recheck has to meet the rule again.
func (s *stage) reach(child uuid.UUID, key string, o outlook, seen map[string]float64) (float64, error) {
	if known, ok := seen[key]; ok {
		return known, nil
	}
	board := s.boards[child]
	st, _ := board.On(key)
	if st.State == standing.Secure {
		seen[key] = 1
		return 1, nil
	}
	look := board.Forecast
	if st.State == standing.Recheck {
		look = board.Regain
	}
	f, err := look(key, s.learning(key, o), s.lessonsIn(child, key, o))
	if err != nil {
		return 0, fmt.Errorf("forecast the rung %s: %w", key, err)
	}
	chance := f.Secure
	for _, need := range s.rungs[key].Needs {
		if below, _ := board.On(need); st.Met() || below.Met() {
			continue
		}
		first, err := s.reach(child, need, o, seen)
		if err != nil {
			return 0, err
		}
		chance = min(chance, first)
	}
	seen[key] = chance
	return chance, nil
}

func (s *stage) learning(key string, o outlook) standing.Learning {
	l, fitted := s.own[key]
	if !fitted {
		l = standing.DefaultLearning()
	}
	l.Learn = min(l.Learn*o.learn, 1)
	return l
}

// lessonsIn are the lessons ahead, as likely as the child comes in the outlook.
func (s *stage) lessonsIn(child uuid.UUID, key string, o outlook) standing.Ahead {
	a := s.lessons(child, key, 1)
	if o.comes == nil {
		return a
	}
	present, noted := s.pace.Present[child], s.pace.Noted[child]
	usual := (float64(present) + 0.5) / (float64(noted) + 1)
	for i := range a.Lessons {
		a.Lessons[i] = min(1, a.Lessons[i]*o.comes(present, noted)/usual)
	}
	return a
}
