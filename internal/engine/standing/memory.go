package standing

import "math"

// Recall is the chance 2^(-days/halfLife) that a skill is still there after days unseen; halfLife, in days, is above 0.
func Recall(days, halfLife float64) float64 { return math.Exp2(-days / halfLife) }

// trace is what memory keeps of one side: the half-life, and the days of the last clean mark and the last one that counted.
type trace struct {
	halfLife float64
	counted  int
	last     int
}

func (t *trace) success(day int, m Memory) {
	switch {
	case t.halfLife == 0:
		t.halfLife, t.counted = m.First, day
	case day-t.counted >= m.Gap:
		t.halfLife, t.counted = math.Min(t.halfLife*m.Growth, m.Most), day
	}
	t.last = day
}

func (t *trace) recall(today int) float64 { return Recall(float64(today-t.last), t.halfLife) }
