package app

import (
	"cmp"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// GapLine counts the lessons of a class that lacked people. Who was there is what was noted, and whoever was expected where nobody noted
// anything; sign-offs are those of the lesson's day, adults are counted by the studio's rule of today. The rungs of a lesson are those
// marked in it and those in its plan. Lessons ahead are judged by who is expected and by their plans.
type GapLine struct {
	TermClass
	Held     int
	Few      int // too few adults, before anybody spots
	Spotted  int // worked at a rung that needs a spotter
	Thin     int // of those: enough adults, but too few left to watch while one of the rungs was spotted
	Unsigned int // of those: one of the rungs had too few people signed off for it
	Rungs    []string
	Ahead    int
	AheadFew int
	AheadGap int // of those ahead with adults enough: a rung of the plan has too few people signed off or leaves too few to watch
}

// lessonGap is what one lesson lacked.
type lessonGap struct {
	few, spotted, thin bool
	unsigned           []string // rungs
}

func (b *termsBook) gaps() []GapLine {
	c := b.newCover()
	found := map[uuid.UUID]lessonGap{}
	var lines []GapLine
	for _, g := range b.groups {
		line := GapLine{TermClass: g.TermClass}
		lacked := map[string]int{}
		for _, l := range b.lessonsOf(g) {
			if l.CancelledAt != nil {
				continue
			}
			gap, known := found[l.ID]
			if !known {
				gap = c.gap(l)
				found[l.ID] = gap
			}
			if b.held(l) {
				line.count(gap, lacked)
			} else {
				line.Ahead++
				line.AheadFew += one(gap.few)
				line.AheadGap += one(!gap.few && (gap.thin || len(gap.unsigned) > 0))
			}
		}
		line.Rungs = b.mostOf(lacked)
		lines = append(lines, line)
	}
	return lines
}

func (g *GapLine) count(gap lessonGap, lacked map[string]int) {
	g.Held++
	g.Few += one(gap.few)
	g.Spotted += one(gap.spotted)
	g.Thin += one(gap.thin)
	g.Unsigned += one(len(gap.unsigned) > 0)
	for _, rung := range gap.unsigned {
		lacked[rung]++
	}
}

// mostOf names the rungs that were without a spotter, the most often first.
func (b *termsBook) mostOf(lacked map[string]int) []string {
	keys := make([]string, 0, len(lacked))
	for key := range lacked {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(x, y string) int { return cmp.Or(cmp.Compare(lacked[y], lacked[x]), cmp.Compare(x, y)) })
	var names []string
	for _, key := range keys {
		names = append(names, b.rungs[key].Name)
	}
	return names
}

// termCover is what the gaps are judged by.
type termCover struct {
	*termsBook
	ratios  cover.Ratios
	people  map[uuid.UUID][]postgres.NightPerson // by lesson
	planned map[uuid.UUID][]string
	held    map[uuid.UUID][]postgres.HeldSignOff // by person
}

func (b *termsBook) newCover() termCover {
	c := termCover{termsBook: b, ratios: ratios(b.settings.Cover), people: map[uuid.UUID][]postgres.NightPerson{}, planned: map[uuid.UUID][]string{}, held: map[uuid.UUID][]postgres.HeldSignOff{}}
	for _, p := range b.People {
		c.people[p.LessonID] = append(c.people[p.LessonID], p)
	}
	for _, p := range b.Planned {
		c.planned[p.LessonID] = append(c.planned[p.LessonID], p.RungKey)
	}
	for _, s := range b.SignOffs {
		c.held[s.StaffID] = append(c.held[s.StaffID], s)
	}
	return c
}

func (c termCover) gap(l postgres.TermLesson) lessonGap {
	rungs := c.spottedIn(l)
	n := c.night(l, rungs)
	gap := lessonGap{few: !verdict(n).Enough, spotted: len(rungs) > 0}
	for i, run := range n.Runnable(rungs) {
		switch {
		case run.OK:
		case len(run.May) < rungs[i].Spotters:
			gap.unsigned = append(gap.unsigned, run.Rung)
		case !gap.few:
			gap.thin = true
		}
	}
	return gap
}

// spottedIn are the rungs of a lesson that need a spotter.
func (c termCover) spottedIn(l postgres.TermLesson) []cover.Rung {
	keys := slices.Clone(c.planned[l.ID])
	for key := range c.turns[l.ID] {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	var rungs []cover.Rung
	for _, key := range slices.Compact(keys) {
		if r := c.rungs[key]; r.Spotting.People > 0 && c.asked(key) {
			rungs = append(rungs, cover.Rung{ID: key, Name: r.Name, Spotters: r.Spotting.People})
		}
	}
	return rungs
}

// night puts a lesson into the engine's words. The rule asks for the youngest age and the number of children, so all count as the youngest.
func (c termCover) night(l postgres.TermLesson, rungs []cover.Rung) cover.Night {
	n := cover.Night{Date: l.HeldOn, Ratios: c.ratios}
	if l.Youngest != nil {
		n.Ages = slices.Repeat([]int{studio.AgeOn(*l.Youngest, l.HeldOn)}, l.Expected-l.Noted+l.Came)
	}
	for _, p := range c.people[l.ID] {
		if p.Away || p.Trainee {
			continue
		}
		n.Present = append(n.Present, cover.Person{ID: p.StaffID.String(), Name: p.Name, Age: studio.AgeOn(p.BirthDate, l.HeldOn)})
		if p.Roams {
			continue
		}
		for _, s := range c.held[p.StaffID] {
			if slices.ContainsFunc(rungs, func(r cover.Rung) bool { return r.ID == s.RungKey }) {
				n.SignOffs = append(n.SignOffs, cover.SignOff{Person: p.StaffID.String(), Rungs: []string{s.RungKey}, From: s.GrantedOn, Until: c.until(s)})
			}
		}
	}
	return n
}

// until is the last day of a sign-off: the day before it was revoked, if that comes first.
func (c termCover) until(s postgres.HeldSignOff) time.Time {
	if s.RevokedAt == nil {
		return s.ExpiresOn
	}
	return earlier(s.ExpiresOn, c.dayOf(*s.RevokedAt).AddDate(0, 0, -1))
}

// EndingLine is the sign-offs of one person that end on one day, from today to the end of the next term. ChildRungs counts the children of
// the classes of today by the rungs among these that they are ready for: open, in work, or due another look. Alone counts the rungs
// for which nobody else is signed off beyond that day, and AloneChildRungs what they carry.
type EndingLine struct {
	Person                 string
	Staff                  uuid.UUID
	Until                  time.Time
	Term                   string // in which it ends; "" between terms
	Rungs, ChildRungs      int
	Alone, AloneChildRungs int
}

// afterTerms is how far sign-offs are looked at, in days from today, where no term is on or ahead.
const afterTerms = 90

func (b *termsBook) ending() []EndingLine {
	last := b.horizon()
	ready := b.readyNow()
	var lines []EndingLine
	for _, s := range b.SignOffs {
		if s.Gone || s.RevokedAt != nil || s.ExpiresOn.Before(b.today) || s.ExpiresOn.After(last) || !b.asked(s.RungKey) || b.renewed(s) {
			continue
		}
		i := slices.IndexFunc(lines, func(l EndingLine) bool { return l.Staff == s.StaffID && l.Until.Equal(s.ExpiresOn) })
		if i < 0 {
			i, lines = len(lines), append(lines, EndingLine{Person: s.StaffName, Staff: s.StaffID, Until: s.ExpiresOn, Term: b.termOn(s.ExpiresOn)})
		}
		lines[i].Rungs++
		lines[i].ChildRungs += ready[s.RungKey]
		if !b.heldBeyond(s) {
			lines[i].Alone++
			lines[i].AloneChildRungs += ready[s.RungKey]
		}
	}
	slices.SortStableFunc(lines, func(x, y EndingLine) int { return cmp.Or(x.Until.Compare(y.Until), cmp.Compare(x.Person, y.Person)) })
	return lines
}

// horizon is the last day of the next term, or of the one that is on, or some days ahead.
func (b *termsBook) horizon() time.Time {
	var ahead []studio.Term // on or to come, in order
	for _, t := range b.Terms {
		if !t.EndsOn.Before(b.today) {
			ahead = append(ahead, t)
		}
	}
	if len(ahead) == 0 {
		return b.today.AddDate(0, 0, afterTerms)
	}
	next := min(1, len(ahead)-1)
	if ahead[0].StartsOn.After(b.today) {
		next = 0
	}
	return ahead[next].EndsOn
}

func (b *termsBook) termOn(day time.Time) string {
	for _, t := range b.Terms {
		if !day.Before(t.StartsOn) && !day.After(t.EndsOn) {
			return t.Name
		}
	}
	return ""
}

// renewed reports whether the same person holds another sign-off for the rung that ends later.
func (b *termsBook) renewed(s postgres.HeldSignOff) bool {
	return slices.ContainsFunc(b.SignOffs, func(o postgres.HeldSignOff) bool {
		return o.StaffID == s.StaffID && o.RungKey == s.RungKey && o.RevokedAt == nil && o.ExpiresOn.After(s.ExpiresOn)
	})
}

// heldBeyond reports whether somebody else is signed off for the rung the day after a sign-off ends.
func (b *termsBook) heldBeyond(s postgres.HeldSignOff) bool {
	return slices.ContainsFunc(b.SignOffs, func(o postgres.HeldSignOff) bool {
		return o.StaffID != s.StaffID && o.RungKey == s.RungKey && o.RevokedAt == nil && !o.Gone && o.ExpiresOn.After(s.ExpiresOn) && !o.GrantedOn.After(s.ExpiresOn.AddDate(0, 0, 1))
	})
}

// readyNow counts, by rung, the children of the classes of today who may work at it: all that it needs was once secure, and it is not
// secure now.
func (b *termsBook) readyNow() map[string]int {
	now := slices.Index(b.days, b.today)
	ready := map[string]int{}
	for _, child := range b.childrenNow() {
		met, secure := map[string]bool{}, map[string]bool{}
		for _, c := range b.courses[child] {
			if b.dayOf(c.Since).After(b.today) {
				continue
			}
			met[c.RungID], secure[c.RungID] = true, !c.Due[now]
		}
		for _, r := range b.graph.Rungs() {
			if !secure[r.ID] && (met[r.ID] || !slices.ContainsFunc(r.Needs, func(need string) bool { return !met[need] })) {
				ready[r.ID]++
			}
		}
	}
	return ready
}
