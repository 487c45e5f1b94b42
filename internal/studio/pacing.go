package studio

import (
	"slices"
	"time"

	"github.com/google/uuid"
)

// Pacing lays rungs over the weeks of a class's term. Weeks are named by their Monday, midnight UTC.
type Pacing struct {
	ClassID uuid.UUID
	Version int // 0 before the first save
	MostNew int // most rungs that are new in one week, 1 to 6
	Lag     int // weeks, at least, between a rung and one that needs it, 1 to 6
	SavedAt time.Time
	Rungs   []PacedRung `db:"-"`
}

// PacedRung is a rung of a term. A date of nil means none.
type PacedRung struct {
	RungKey   string
	WeekOf    *time.Time // in which it is new
	Earliest  *time.Time
	Latest    *time.Time
	Pinned    bool // to its week
	Focus     bool // sooner is better, and by the showcase
	SeenAgain []time.Time
}

// WeekRung is a rung that a class's term has in a week: new in it, else seen again.
type WeekRung struct {
	RungKey string
	New     bool
}

// NewPacing is an empty term with the usual limits: two new rungs a week, and a week between a rung and one that needs it (common
// practice, no source).
func NewPacing(class uuid.UUID) Pacing { return Pacing{ClassID: class, MostNew: 2, Lag: 1} }

// Rung is the rung of a key, nil when it is not of this term.
func (p *Pacing) Rung(key string) *PacedRung {
	i := slices.IndexFunc(p.Rungs, func(r PacedRung) bool { return r.RungKey == key })
	if i < 0 {
		return nil
	}
	return &p.Rungs[i]
}

// Keys are the rungs of the term.
func (p *Pacing) Keys() []string {
	keys := make([]string, len(p.Rungs))
	for i, r := range p.Rungs {
		keys[i] = r.RungKey
	}
	return keys
}

// longestPacing bounds the rungs of a term.
const longestPacing = 60

// Validate checks a term by itself.
func (p Pacing) Validate() []FieldError {
	var c checks
	c.between("most_new", p.MostNew, 1, 6)
	c.between("lag", p.Lag, 1, 6)
	if len(p.Rungs) > longestPacing {
		c.refuse("rung", "at most 60 in a term")
	}
	for _, r := range p.Rungs {
		if r.Earliest != nil && r.Latest != nil && r.Latest.Before(*r.Earliest) {
			c.refuse("latest", "not before the earliest")
		}
	}
	return c.errors
}

// MondayOf is the Monday of the week of a day.
func MondayOf(day time.Time) time.Time { return day.AddDate(0, 0, -(int(day.Weekday())+6)%7) }
