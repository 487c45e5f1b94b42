package app

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// StaffMember is a staff record with the sign-offs that it holds or held.
type StaffMember struct {
	studio.StaffDetail
	SignOffs []studio.SignOff
	Day      Day
}

// StaffMember reads one staff record.
func (a *App) StaffMember(ctx context.Context, actor studio.Actor, id uuid.UUID) (StaffMember, error) {
	var m StaffMember
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		var err error
		m.Day = t.Day()
		if m.StaffDetail, err = t.StaffDetail(ctx, id); err != nil {
			return err
		}
		m.SignOffs, err = t.SignOffsOf(ctx, id)
		return err
	})
	return m, err
}

// AddStaff writes somebody who takes or helps at classes and returns the id.
func (a *App) AddStaff(ctx context.Context, actor studio.Actor, s studio.StaffDetail) (uuid.UUID, error) {
	var id uuid.UUID
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", s.Validate(t.Today)); err != nil {
			return err
		}
		var err error
		if id, err = t.AddStaff(ctx, s); err != nil {
			return err
		}
		return t.Audit(ctx, "added staff", "staff "+id.String(), nil)
	})
	return id, err
}

// SaveStaff changes a staff record; the account that it belongs to stays.
func (a *App) SaveStaff(ctx context.Context, actor studio.Actor, s studio.StaffDetail) error {
	return a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", s.Validate(t.Today)); err != nil {
			return err
		}
		if err := t.SaveStaff(ctx, s); err != nil {
			return err
		}
		return t.Audit(ctx, "changed staff", "staff "+s.ID.String(), nil)
	})
}
