package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// trailShown is how much of the trail the overview shows.
const trailShown = 8

// Overview is the studio on one page: how much there is, and what needs somebody.
type Overview struct {
	Day         Day
	Term        *studio.Term // the term that is on, or the next one; nil when there is none
	Children    int          // who have not left
	Enrolled    int          // of them, in a class of that term
	Staff       int          // who have not left
	Families    int          // accounts that are a guardian of somebody
	Classes     []ClassRecord
	Teacherless []studio.Class  // of that term, from today or its first day on
	Lessonless  []studio.Class  // of that term, without any lesson
	Expired     []EndingSignOff // the longest ago first
	Soon        []EndingSignOff // the soonest first
	Links       []studio.Invitation
	Unjoined    []studio.Account // guardians and staff without a passphrase and without a link
	Trail       []studio.TrailEntry
}

// EndingSignOff is what ended or ends soon for one person on one day.
type EndingSignOff struct {
	Staff string
	Rungs int
	Until time.Time
}

// Overview reads the studio's overview.
func (a *App) Overview(ctx context.Context, actor studio.Actor) (Overview, error) {
	var o Overview
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		o.Day = t.Day()
		if err := o.classes(ctx, t); err != nil {
			return err
		}
		if err := o.people(ctx, t); err != nil {
			return err
		}
		if err := o.signOffs(ctx, t); err != nil {
			return err
		}
		var err error
		o.Trail, err = t.Trail(ctx, t.Now.Add(time.Second), uuid.Nil, trailShown)
		return err
	})
	return o, err
}

func (o *Overview) classes(ctx context.Context, t *postgres.Tx) error {
	terms, err := t.Terms(ctx)
	if err != nil {
		return err
	}
	for _, term := range terms { // the newest first: the last that is not over is the one
		if !term.EndsOn.Before(t.Today) {
			o.Term = &term
		}
	}
	if o.Term == nil {
		return nil
	}
	all, err := classRecords(ctx, t)
	if err != nil {
		return err
	}
	without, err := t.ClassesWithoutLessons(ctx, o.Term.ID)
	if err != nil {
		return err
	}
	day := t.Today
	if o.Term.StartsOn.After(day) {
		day = o.Term.StartsOn
	}
	enrolled := map[string]bool{}
	for _, r := range all {
		if r.TermID != o.Term.ID {
			continue
		}
		o.Classes = append(o.Classes, r)
		if !r.TaughtOn(day) {
			o.Teacherless = append(o.Teacherless, r.Class)
		}
		for _, id := range without {
			if id == r.ID {
				o.Lessonless = append(o.Lessonless, r.Class)
			}
		}
		for _, e := range r.Enrolments {
			enrolled[e.ChildID.String()] = enrolled[e.ChildID.String()] || e.HoldsOn(day)
		}
	}
	for _, here := range enrolled {
		if here {
			o.Enrolled++
		}
	}
	return nil
}

func (o *Overview) people(ctx context.Context, t *postgres.Tx) error {
	children, err := t.ChildDetails(ctx)
	if err != nil {
		return err
	}
	for _, c := range children {
		if c.LeftOn == nil || c.LeftOn.After(t.Today) {
			o.Children++
		}
	}
	staff, err := t.StaffDetails(ctx)
	if err != nil {
		return err
	}
	for _, s := range staff {
		if s.LeftOn == nil || s.LeftOn.After(t.Today) {
			o.Staff++
		}
	}
	if o.Links, err = t.OpenInvitations(ctx); err != nil {
		return err
	}
	accounts, err := t.Accounts(ctx)
	linked := map[string]bool{}
	for _, l := range o.Links {
		linked[l.Email] = l.OpenAt(t.Now)
	}
	for _, account := range accounts {
		if account.Children > 0 {
			o.Families++
		}
		if account.JoinedAt == nil && account.DisabledAt == nil && !linked[account.Email] {
			o.Unjoined = append(o.Unjoined, account)
		}
	}
	return err
}

func (o *Overview) signOffs(ctx context.Context, t *postgres.Tx) error {
	signOffs, err := t.SignOffs(ctx)
	if err != nil {
		return err
	}
	names := map[string]string{}
	for _, s := range signOffs {
		names[s.StaffID.String()] = s.StaffName
	}
	for _, e := range ending(signOffs, t.Today) {
		list := &o.Soon
		if e.Status == cover.Expired {
			list = &o.Expired
		}
		i := slices.IndexFunc(*list, func(s EndingSignOff) bool { return s.Staff == names[e.Person] && s.Until.Equal(e.Until) })
		if i < 0 {
			*list, i = append(*list, EndingSignOff{Staff: names[e.Person], Until: e.Until}), len(*list)
		}
		(*list)[i].Rungs++
	}
	return nil
}
