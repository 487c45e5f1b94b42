package cover

import (
	"cmp"
	"slices"
	"time"
)

// SignOff says that a person may spot these rungs from From (zero: from always) up to and including Until. A sign-off
// without an end counts as expired: nobody is signed off for ever.
type SignOff struct {
	ID     string
	Person string
	Rungs  []string
	From   time.Time
	Until  time.Time
}

// Status is what a sign-off is worth on a day.
type Status string

// The statuses of a sign-off.
const (
	NotYet  Status = "not yet"
	Valid   Status = "valid"
	Soon    Status = "expires soon"
	Expired Status = "expired"
)

// On is the status on a day. Soon means valid, with at most soonDays days left after this one.
func (s SignOff) On(day time.Time, soonDays int) Status {
	left := s.daysLeft(day)
	switch {
	case left < 0:
		return Expired
	case dayNumber(day) < dayNumber(s.From):
		return NotYet
	case left <= soonDays:
		return Soon
	}
	return Valid
}

func (s SignOff) counts(day time.Time) bool {
	st := s.On(day, -1)
	return st == Valid || st == Soon
}

func (s SignOff) daysLeft(day time.Time) int { return dayNumber(s.Until) - dayNumber(day) }

// SignedOff lists, sorted and each once, the people who may spot a rung on a day.
func SignedOff(signOffs []SignOff, rung string, day time.Time) []string {
	var people []string
	for _, s := range signOffs {
		if s.counts(day) && slices.Contains(s.Rungs, rung) {
			people = append(people, s.Person)
		}
	}
	slices.Sort(people)
	return slices.Compact(people)
}

// Expiry is a person's sign-off for one rung that has ended or ends soon. DaysLeft is negative once it has ended.
type Expiry struct {
	Person   string
	Rung     string
	Until    time.Time
	DaysLeft int
	Status   Status
}

// Expiring lists what has expired or expires within soonDays, the earliest end first. Where a person holds several
// sign-offs for a rung, only the one that ends last speaks.
func Expiring(signOffs []SignOff, day time.Time, soonDays int) []Expiry {
	type key struct{ person, rung string }
	last := map[key]SignOff{}
	for _, s := range signOffs {
		for _, rung := range s.Rungs {
			k := key{s.Person, rung}
			if held, ok := last[k]; !ok || dayNumber(s.Until) > dayNumber(held.Until) {
				last[k] = s
			}
		}
	}
	var out []Expiry
	for k, s := range last {
		if st := s.On(day, soonDays); st == Soon || st == Expired {
			out = append(out, Expiry{k.person, k.rung, s.Until, s.daysLeft(day), st})
		}
	}
	slices.SortFunc(out, func(a, b Expiry) int {
		return cmp.Or(cmp.Compare(a.DaysLeft, b.DaysLeft), cmp.Compare(a.Person, b.Person), cmp.Compare(a.Rung, b.Rung))
	})
	return out
}

// dayNumber counts calendar days, so that a difference is a number of days whatever the clock does.
func dayNumber(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Holder is the one person who may spot a rung on a day. Needs is how many people the rung wants.
type Holder struct {
	Rung   string
	Person string
	Needs  int
}

// Sole lists the rungs that need a spotter and that one person alone is signed off for on the day, in the order given.
func Sole(signOffs []SignOff, rungs []Rung, day time.Time) []Holder {
	var out []Holder
	for _, r := range rungs {
		if people := SignedOff(signOffs, r.ID, day); r.Spotters > 0 && len(people) == 1 {
			out = append(out, Holder{r.ID, people[0], r.Spotters})
		}
	}
	return out
}
