package cues

// MaxCues is the greatest number of cues a studio may set.
const MaxCues = 4

// MaxLinked is how many causes may hang together through faults seen. Enumeration visits 2 to this power of states.
const MaxLinked = 16

// Settings are a studio's own. All but the number of cues are guesses to start from, without a source.
type Settings struct {
	// Most is how many cues to give, 1 to MaxCues.
	Most int
	// Leak is the chance that a fault shows without any listed cause, 0 to 0.9.
	Leak float64
	// Prior is how likely a cause is before anything is seen, above 0 and below 1.
	Prior float64
	// Least is the posterior (0 to 1) below which a cause gets no cue and no check.
	Least float64
	// Likely is the posterior (0 to 1) from which a cause must be corrected before those it leads to.
	Likely float64
	// SafetyWeight is how many faults seen at every turn weigh as much as one that can hurt, 1 to 1000.
	SafetyWeight float64
	// AbsentAfter is the turns (at least 1) after which a fault looked for and never seen speaks against its causes.
	AbsentAfter int
}

// Defaults gives two cues at most (common practice of the trade, no source).
func Defaults() Settings {
	return Settings{Most: 2, Leak: 0.05, Prior: 0.2, Least: 0.1, Likely: 0.5, SafetyWeight: 10, AbsentAfter: 3}
}

func (s Settings) validate() error {
	switch {
	case s.Most < 1 || s.Most > MaxCues:
		return wrong("Settings.Most", "is %d, want 1 to %d", s.Most, MaxCues)
	case !within(s.Leak, 0, 0.9):
		return wrong("Settings.Leak", "is %g, want 0 to 0.9", s.Leak)
	case !between(s.Prior):
		return wrong("Settings.Prior", "is %g, want above 0 and below 1", s.Prior)
	case !within(s.Least, 0, 1):
		return wrong("Settings.Least", "is %g, want 0 to 1", s.Least)
	case !within(s.Likely, 0, 1):
		return wrong("Settings.Likely", "is %g, want 0 to 1", s.Likely)
	case !within(s.SafetyWeight, 1, 1000):
		return wrong("Settings.SafetyWeight", "is %g, want 1 to 1000", s.SafetyWeight)
	case s.AbsentAfter < 1:
		return wrong("Settings.AbsentAfter", "is %d, want at least 1", s.AbsentAfter)
	}
	return nil
}
