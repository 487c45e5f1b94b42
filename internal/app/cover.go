package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// coverDays is how far the cover looks ahead.
const coverDays = 14

// CoverBook is whether the rooms of the next days are covered, and what would help most.
type CoverBook struct {
	Day      Day
	Days     int
	Rule     studio.CoverRule
	Nights   []CoverNight
	Renewals []CoverRenewal // what opens most comes first
	Ending   []CoverEnding  // expired or soon to expire, the earliest first
	Sole     []CoverSole    // what one person alone is signed off for
	Owner    bool
}

// CoverNight is one lesson with who is expected.
type CoverNight struct {
	Lesson   LessonLine
	Children int
	Here     []CoverPerson
	Away     []string
	Verdict  cover.Verdict // before anybody spots
	Spare    int           // adults who may spot while enough are left to watch
	Open     []CoverRung   // rungs that need a spotter, that children are ready for, and that can run
	Closed   []CoverRung   // those that cannot
	Absences []string      // what each person's absence would close, in words; only of those who would be missed
}

// CoverPerson is somebody expected, with what that person counts for.
type CoverPerson struct{ Name, Counts string }

// CoverRung is a rung with how many of the children expected are ready for it, and why it can or cannot run.
type CoverRung struct {
	Key, Name, Ladder string
	Children          int
	Reason            string
}

// CoverRenewal is what renewing one person's ended sign-offs would open over the next days.
type CoverRenewal struct {
	Person string
	Staff  uuid.UUID
	Keys   []string // of the rungs to renew
	Rungs  []string // their names
	Turns  int      // child-rungs: a child counts once for each rung that it is ready for
	Kids   int      // the children behind them
}

// CoverEnding is a person's sign-offs that ended or end on one day.
type CoverEnding struct {
	Person   string
	Staff    uuid.UUID
	Keys     []string
	Rungs    []string
	Until    time.Time
	DaysLeft int
}

// CoverSole is somebody who alone may spot some rungs. Two are wanted for those in Short, so that they cannot run at all.
type CoverSole struct {
	Person string
	Staff  uuid.UUID
	Rungs  []string
	Short  []string
}

// ratios puts the studio's rule into the engine's words.
func ratios(rule studio.CoverRule) cover.Ratios {
	r := cover.Ratios{Floor: rule.Adults}
	for _, band := range rule.Ratios {
		r.Bands = append(r.Bands, cover.Band{FromAge: band.FromAge, Children: band.Children})
	}
	return r
}

// Cover looks at the lessons of the next days: all of them for an owner, those of the own classes for a teacher.
func (a *App) Cover(ctx context.Context, actor studio.Actor) (CoverBook, error) {
	var book CoverBook
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeCover, Target{}); err != nil {
			return err
		}
		c, err := readCover(ctx, t)
		if err != nil {
			return err
		}
		if err := c.readWishes(ctx, t); err != nil {
			return err
		}
		book = c.book(t)
		return nil
	})
	return book, err
}

// coverage is what the cover is worked out from.
type coverage struct {
	*ladders
	lessons  []postgres.LessonLine
	children []postgres.NightChild
	people   []postgres.NightPerson
	signOffs []studio.SignOff
	limits   []postgres.KeptLimit
	boards   map[uuid.UUID]standing.Board
	rule     studio.CoverRule
	dayOf    func(time.Time) time.Time
}

// readCover reads the lessons of the next days with who is expected, which is enough to count adults.
func readCover(ctx context.Context, t *postgres.Tx) (*coverage, error) {
	c := &coverage{rule: t.Settings.Cover, dayOf: t.DayOf}
	lessons, err := t.LessonLines(ctx, t.Now.Add(-24*time.Hour), t.Now.AddDate(0, 0, coverDays))
	if err != nil {
		return nil, fmt.Errorf("read the lessons: %w", err)
	}
	c.lessons = slices.DeleteFunc(lessons, func(l postgres.LessonLine) bool { return l.CancelledAt != nil || l.EndsAt().Before(t.Now) })
	var ids []uuid.UUID
	for _, l := range c.lessons {
		ids = append(ids, l.ID)
	}
	if c.children, c.people, err = t.Nights(ctx, ids); err != nil {
		return nil, fmt.Errorf("read who is expected: %w", err)
	}
	return c, nil
}

// readWishes adds who may spot what, and which rungs the children are ready for.
func (c *coverage) readWishes(ctx context.Context, t *postgres.Tx) error {
	var err error
	if c.ladders, err = readLadders(ctx, t); err != nil {
		return err
	}
	if c.signOffs, err = t.SignOffs(ctx); err != nil {
		return fmt.Errorf("read the sign-offs: %w", err)
	}
	var ids []uuid.UUID
	for _, child := range c.children {
		if !slices.Contains(ids, child.ChildID) {
			ids = append(ids, child.ChildID)
		}
	}
	if c.limits, err = t.CareLimitsOf(ctx, ids); err != nil {
		return fmt.Errorf("read the care limits: %w", err)
	}
	c.boards, err = c.ladders.boards(ctx, t, ids)
	return err
}

// night puts one lesson into the engine's words. Trainees neither watch nor spot, so they are left out.
func (c *coverage) night(l postgres.LessonLine) cover.Night {
	day := c.dayOf(l.StartsAt)
	n := cover.Night{Date: day, Ratios: ratios(c.rule)}
	for _, child := range c.children {
		if child.LessonID == l.ID && !child.Away {
			n.Ages = append(n.Ages, studio.AgeOn(child.BirthDate, day))
		}
	}
	for _, p := range c.people {
		if p.LessonID != l.ID || p.Away || p.Trainee {
			continue
		}
		n.Present = append(n.Present, cover.Person{ID: p.StaffID.String(), Name: p.Name, Age: studio.AgeOn(p.BirthDate, day)})
		if !p.Roams {
			n.SignOffs = append(n.SignOffs, c.heldBy(p.StaffID)...)
		}
	}
	return n
}

// heldBy are a person's sign-offs, those that end on the same day together: they are renewed together.
func (c *coverage) heldBy(person uuid.UUID) []cover.SignOff {
	var held []cover.SignOff
	for _, s := range c.signOffs {
		if s.StaffID != person {
			continue
		}
		id := person.String() + " " + s.ExpiresOn.Format(time.DateOnly)
		i := slices.IndexFunc(held, func(h cover.SignOff) bool { return h.ID == id && h.From.Equal(s.GrantedOn) })
		if i < 0 {
			i = len(held)
			held = append(held, cover.SignOff{ID: id, Person: person.String(), From: s.GrantedOn, Until: s.ExpiresOn})
		}
		held[i].Rungs = append(held[i].Rungs, s.RungKey)
	}
	return held
}

// wishes are the rungs that need a spotter and that the children expected are ready for and allowed to do.
func (c *coverage) wishes(l postgres.LessonLine) (rungs []cover.Rung, wishes []cover.Wish) {
	day := c.dayOf(l.StartsAt)
	for _, ladder := range c.Ladders {
		for _, r := range ladder.Rungs {
			if r.Spotting.People == 0 {
				continue
			}
			before := len(wishes)
			for _, child := range c.children {
				if child.LessonID == l.ID && !child.Away && c.readyFor(child.ChildID, r, day) {
					wishes = append(wishes, cover.Wish{Child: child.ChildID.String(), Rung: r.Key})
				}
			}
			if len(wishes) > before {
				rungs = append(rungs, cover.Rung{ID: r.Key, Name: r.Name, Spotters: r.Spotting.People})
			}
		}
	}
	return rungs, wishes
}

func (c *coverage) readyFor(child uuid.UUID, r studio.Rung, day time.Time) bool {
	s, _ := c.boards[child].On(r.Key)
	if s.State != standing.Open && s.State != standing.Working && s.State != standing.Recheck {
		return false
	}
	return !slices.ContainsFunc(c.limits, func(l postgres.KeptLimit) bool {
		return l.ChildID == child && l.HoldsOn(day) && l.Forbids(r.Load, r.Inverted)
	})
}

func (c *coverage) book(t *postgres.Tx) CoverBook {
	book := CoverBook{Day: t.Day(), Days: coverDays, Rule: c.rule, Owner: t.Scope.Owner}
	renewals := map[string]map[cover.Wish]bool{}
	for _, l := range c.lessons {
		n := c.night(l)
		rungs, wishes := c.wishes(l)
		book.Nights = append(book.Nights, c.shown(l, n, rungs, wishes))
		for _, r := range n.Renewals(rungs, wishes) {
			for _, w := range wishes {
				if slices.Contains(r.Rungs, w.Rung) {
					if renewals[r.SignOff] == nil {
						renewals[r.SignOff] = map[cover.Wish]bool{}
					}
					renewals[r.SignOff][w] = true
				}
			}
		}
	}
	book.Renewals, book.Ending, book.Sole = c.renewals(renewals), c.ending(t.Today), c.sole(t.Today)
	return book
}

// renewals ranks what each renewal opens over all the nights: the most child-rungs first, then by name.
func (c *coverage) renewals(opened map[string]map[cover.Wish]bool) []CoverRenewal {
	var all []CoverRenewal
	for _, s := range c.signOffs {
		id := s.StaffID.String() + " " + s.ExpiresOn.Format(time.DateOnly)
		wishes := opened[id]
		if len(wishes) == 0 {
			continue
		}
		delete(opened, id) // once for all the rungs of that day
		r := CoverRenewal{Person: s.StaffName, Staff: s.StaffID, Turns: len(wishes)}
		kids := map[string]bool{}
		for w := range wishes {
			kids[w.Child] = true
			if !slices.Contains(r.Keys, w.Rung) {
				r.Keys = append(r.Keys, w.Rung)
			}
		}
		slices.Sort(r.Keys)
		r.Rungs, r.Kids = c.namesOf(r.Keys), len(kids)
		all = append(all, r)
	}
	slices.SortStableFunc(all, func(a, b CoverRenewal) int {
		return cmp.Or(cmp.Compare(b.Turns, a.Turns), cmp.Compare(a.Person, b.Person))
	})
	return all
}

func (c *coverage) namesOf(keys []string) []string {
	var names []string
	for _, key := range keys {
		names = append(names, c.rungs[key].Name)
	}
	return names
}
