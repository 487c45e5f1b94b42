package standing

import "fmt"

// Rule says when a rung is secure: Clean of the last Window marks clean, in at least Lessons lessons, on each side when
// two-sided, and no safety fault within the last Window marks. A studio setting; no published rule for acro was found.
type Rule struct {
	Clean   int
	Window  int
	Lessons int
}

// Memory says how long a secure rung is trusted unseen: the chance of recall is 2^(-days/h). h starts at First days with
// the first clean mark and grows by the factor Growth, up to Most days, with each clean mark at least Gap days after the
// one before that counted. Below Recheck the rung is due another look. Studio settings: no published rate for acro exists;
// only the shape is published (half-life regression, Settles and Meeder 2016).
type Memory struct {
	First   float64
	Growth  float64
	Most    float64
	Gap     int
	Recheck float64
}

// Settings are the studio's. Recent is how many of the last marks the clean rate is taken from; with fewer than Few of
// them the rate is called one from few marks.
type Settings struct {
	Rule   Rule
	Memory Memory
	Recent int
	Few    int
}

// Defaults are a start for a studio to change: 4 of 5 clean in 2 lessons; a half-life of 21 days that grows by 1.7 up to a
// year, counting clean marks 3 days apart; recheck below one half; rate from 12 marks, few below 8.
func Defaults() Settings {
	return Settings{
		Rule:   Rule{Clean: 4, Window: 5, Lessons: 2},
		Memory: Memory{First: 21, Growth: 1.7, Most: 365, Gap: 3, Recheck: 0.5},
		Recent: 12,
		Few:    8,
	}
}

// Validate reports the first setting that makes no sense.
func (s Settings) Validate() error {
	r, m := s.Rule, s.Memory
	switch {
	case r.Clean < 1 || r.Clean > r.Window:
		return fmt.Errorf("standing: %d clean of the last %d marks, want at least 1 and no more than all", r.Clean, r.Window)
	case r.Lessons < 1 || r.Lessons > r.Clean:
		return fmt.Errorf("standing: %d clean marks in %d lessons, want 1 to %d lessons", r.Clean, r.Lessons, r.Clean)
	case !(m.First > 0 && m.Most >= m.First):
		return fmt.Errorf("standing: half-life from %g to %g days, want above 0 and rising", m.First, m.Most)
	case !(m.Growth >= 1):
		return fmt.Errorf("standing: half-life grows by %g, want 1 or more", m.Growth)
	case m.Gap < 1:
		return fmt.Errorf("standing: %d days between successes that count, want at least 1", m.Gap)
	case !(m.Recheck >= 0 && m.Recheck < 1):
		return fmt.Errorf("standing: recheck below a recall of %g, want 0 to below 1", m.Recheck)
	case s.Recent < 1 || s.Few < 0:
		return fmt.Errorf("standing: rate from %d marks, few below %d, want at least 1 and 0", s.Recent, s.Few)
	}
	return nil
}
