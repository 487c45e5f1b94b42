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

// SoonDays is how many days before its end a sign-off is said to expire soon. A studio's setting; common practice, no source.
const SoonDays = 30

// longestSignOff bounds a sign-off: nobody is signed off for ever.
const longestSignOff = 3 * 366 * 24 * time.Hour

// SignOffBook is who may spot what, with what is about to end.
type SignOffBook struct {
	Staff    []studio.StaffDetail // who has not left
	SignOffs []studio.SignOff     // not revoked, expired ones too
	Ending   []cover.Expiry       // expired or soon to expire, where nothing newer took its place; Person is the staff id
	Ladders  []studio.Ladder
	Day      Day
}

// SignOffs reads the book of sign-offs.
func (a *App) SignOffs(ctx context.Context, actor studio.Actor) (SignOffBook, error) {
	var b SignOffBook
	err := a.within(ctx, actor, studio.KeepSignOffs, func(t *postgres.Tx) error {
		staff, err := t.StaffDetails(ctx)
		if err != nil {
			return err
		}
		b.Day = t.Day()
		b.Staff = slices.DeleteFunc(staff, func(s studio.StaffDetail) bool { return s.LeftOn != nil && !s.LeftOn.After(t.Today) })
		if b.SignOffs, err = t.SignOffs(ctx); err != nil {
			return err
		}
		b.Ending = ending(b.SignOffs, t.Today)
		library, err := t.Library(ctx)
		b.Ladders = library.Ladders
		return err
	})
	return b, err
}

// ending lists what has expired or expires soon and was not renewed.
func ending(signOffs []studio.SignOff, today time.Time) []cover.Expiry {
	var held []cover.SignOff
	for _, s := range signOffs {
		held = append(held, cover.SignOff{ID: s.ID.String(), Person: s.StaffID.String(), Rungs: []string{s.RungKey}, From: s.GrantedOn, Until: s.ExpiresOn})
	}
	return cover.Expiring(held, today, SoonDays)
}

// SignOffGrant is the sign-off of one person for rungs, from today until a day; From may name an earlier first day.
type SignOffGrant struct {
	StaffID uuid.UUID
	Rungs   []string
	From    time.Time // zero: today
	Until   time.Time
}

// GrantSignOff signs a person off for rungs and returns the ids, in the order of the rungs.
func (a *App) GrantSignOff(ctx context.Context, actor studio.Actor, g SignOffGrant) ([]uuid.UUID, error) {
	var ids []uuid.UUID
	err := a.within(ctx, actor, studio.KeepSignOffs, func(t *postgres.Tx) (err error) {
		ids, err = grant(ctx, t, g)
		return err
	})
	return ids, err
}

// grant signs off; the actor may.
func grant(ctx context.Context, t *postgres.Tx, g SignOffGrant) ([]uuid.UUID, error) {
	if g.From.IsZero() {
		g.From = t.Today
	}
	staff, err := t.StaffDetail(ctx, g.StaffID)
	if err != nil {
		return nil, err
	}
	if err := studio.Refuse("Nobody was signed off.", g.problems(staff, t.Today)); err != nil {
		return nil, err
	}
	var ids []uuid.UUID
	var rows []studio.SignOff
	for _, rung := range g.Rungs {
		id := uuid.New()
		ids = append(ids, id)
		rows = append(rows, studio.SignOff{ID: id, StaffID: g.StaffID, RungKey: rung, GrantedOn: g.From, ExpiresOn: g.Until})
	}
	if err := t.AddSignOffs(ctx, rows); err != nil {
		return nil, err
	}
	return ids, t.Audit(ctx, "signed off", "staff "+g.StaffID.String(), map[string]any{"rungs": g.Rungs, "until": g.Until.Format(time.DateOnly)})
}

func (g SignOffGrant) problems(staff studio.StaffDetail, today time.Time) []studio.FieldError {
	var problems []studio.FieldError
	refuse := func(field, problem string) {
		problems = append(problems, studio.FieldError{Field: field, Problem: problem})
	}
	if len(g.Rungs) == 0 {
		refuse("rungs", "Choose at least one rung.")
	}
	switch {
	case g.Until.Before(g.From):
		refuse("until", "Not before the first day.")
	case g.Until.Sub(g.From) > longestSignOff:
		refuse("until", "At most three years: look again at somebody's spotting from time to time.")
	}
	if staff.Trainee {
		refuse("staff", "A trainee does not spot. Change the staff record first, once that is no longer so.")
	}
	if age := studio.AgeOn(staff.BirthDate, today); age < cover.DefaultSpotterAge {
		refuse("staff", "Too young to spot by the studio's setting.")
	}
	return problems
}

// RevokeSignOff ends a sign-off at once.
func (a *App) RevokeSignOff(ctx context.Context, actor studio.Actor, id uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepSignOffs, func(t *postgres.Tx) error {
		s, err := t.RevokeSignOff(ctx, id)
		if err != nil {
			return err
		}
		return t.Audit(ctx, "revoked a sign-off", "staff "+s.StaffID.String(), map[string]any{"rung": s.RungKey})
	})
}
