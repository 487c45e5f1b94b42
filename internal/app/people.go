package app

import (
	"context"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// within runs fn in a transaction of the actor, who must be allowed the action wherever it is done.
func (a *App) within(ctx context.Context, actor studio.Actor, action studio.Action, fn func(*postgres.Tx) error) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, action, Target{}); err != nil {
			return err
		}
		return fn(t)
	})
}

// keepingPeople is within for whoever keeps people. Whom fn adds notes for is told.
func (a *App) keepingPeople(ctx context.Context, actor studio.Actor, fn func(*postgres.Tx, *notes) error) error {
	var told notes
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if err := fn(t, &told); err != nil {
			return err
		}
		return told.keep(ctx, t)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return err
}

// Day is the moment and day of what was read.
type Day = postgres.Day

// People is everybody whom the studio knows.
type People struct {
	Accounts    []studio.Account
	Staff       []studio.StaffDetail
	Children    []studio.ChildDetail
	Invitations []studio.Invitation // not used yet; some may have run out
	Day         Day
}

// People lists accounts, staff, children and open links.
func (a *App) People(ctx context.Context, actor studio.Actor) (People, error) {
	var p People
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		var err error
		p.Day = t.Day()
		if p.Accounts, err = t.Accounts(ctx); err != nil {
			return err
		}
		if p.Staff, err = t.StaffDetails(ctx); err != nil {
			return err
		}
		if p.Children, err = t.ChildDetails(ctx); err != nil {
			return err
		}
		p.Invitations, err = t.OpenInvitations(ctx)
		return err
	})
	return p, err
}

// Person is an account with the staff record and the children that belong to it.
type Person struct {
	studio.Account
	Staff    *studio.Staff // nil when it has none
	Children []studio.Guardian
}

// Person reads one account.
func (a *App) Person(ctx context.Context, actor studio.Actor, account uuid.UUID) (Person, error) {
	var p Person
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		var err error
		if p.Account, err = t.Account(ctx, account); err != nil {
			return err
		}
		if p.Children, err = t.ChildrenOfGuardian(ctx, account); err != nil {
			return err
		}
		staff, err := t.StaffOfAccount(ctx, account)
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		p.Staff = &staff
		return err
	})
	return p, err
}

// SetRoles makes the roles of an account these and no others. The studio always keeps an owner who can sign in.
func (a *App) SetRoles(ctx context.Context, actor studio.Actor, account uuid.UUID, roles []studio.Role) error {
	return a.keepingPeople(ctx, actor, func(t *postgres.Tx, told *notes) error {
		if err := studio.Refuse("Nothing was changed.", studio.ValidateRoles(roles)); err != nil {
			return err
		}
		return a.changeAccount(ctx, t, account, "changed roles", map[string]any{"roles": roles}, func() error {
			if err := t.SetRoles(ctx, account, roles); err != nil {
				return err
			}
			who, err := t.Account(ctx, account)
			told.add(ctx, t, studio.Actor{ID: account, Name: who.Name, Email: who.Email, Language: who.Language}, studio.NoteRoles, "")
			return err
		})
	})
}

// DisableAccount locks an account out from its next request on. What it wrote stays.
func (a *App) DisableAccount(ctx context.Context, actor studio.Actor, account uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if account == actor.ID {
			return &studio.Error{Code: studio.Conflict, Text: "That is your own account. Another owner can lock it; you cannot lock yourself out."}
		}
		return a.changeAccount(ctx, t, account, "locked the account", nil, func() error { return t.SetDisabled(ctx, account, &t.Now) })
	})
}

// EnableAccount lets an account in again.
func (a *App) EnableAccount(ctx context.Context, actor studio.Actor, account uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		return a.changeAccount(ctx, t, account, "unlocked the account", nil, func() error { return t.SetDisabled(ctx, account, nil) })
	})
}

// changeAccount makes a change after which the studio must still have an owner.
func (a *App) changeAccount(ctx context.Context, t *postgres.Tx, account uuid.UUID, what string, detail map[string]any, change func() error) error {
	if err := t.LockOwners(ctx); err != nil {
		return err
	}
	if _, err := t.Account(ctx, account); err != nil {
		return err
	}
	before, err := t.Owners(ctx)
	if err != nil {
		return err
	}
	if err := change(); err != nil {
		return err
	}
	after, err := t.Owners(ctx)
	if err != nil {
		return err
	}
	if before > 0 && after == 0 {
		return &studio.Error{Code: studio.Conflict, Text: "That is the last owner. Nothing was changed; make somebody else an owner first."}
	}
	return t.Audit(ctx, what, "account "+account.String(), detail)
}

// LinkStaff makes an account the one of a staff record; uuid.Nil takes it off whatever record it belongs to.
func (a *App) LinkStaff(ctx context.Context, actor studio.Actor, account, staff uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if _, err := t.Account(ctx, account); err != nil {
			return err
		}
		link := func() error { return t.LinkStaff(ctx, staff, account) }
		if staff == uuid.Nil {
			link = func() error { return t.UnlinkStaff(ctx, account) }
		}
		if err := link(); err != nil {
			return err
		}
		return t.Audit(ctx, "changed the staff record", "account "+account.String(), map[string]any{"staff": staff})
	})
}

// AddGuardian makes an account a guardian of a child. relation is a word such as "parent".
func (a *App) AddGuardian(ctx context.Context, actor studio.Actor, account, child uuid.UUID, relation string) error {
	return a.keepingPeople(ctx, actor, func(t *postgres.Tx, told *notes) error {
		if _, err := t.Account(ctx, account); err != nil {
			return err
		}
		if exists, err := t.ChildExists(ctx, child); err != nil || !exists {
			return orMissing(err)
		}
		if relation = strings.TrimSpace(relation); relation == "" {
			relation = "parent"
		}
		news, err := t.AddGuardian(ctx, account, child, relation)
		if err != nil || !news {
			return err
		}
		if err := told.guardians(ctx, t, child, account, studio.NoteMadeGuardian, studio.NoteGuardian); err != nil {
			return err
		}
		return t.Audit(ctx, "made a guardian", "child "+child.String(), map[string]any{"account": account})
	})
}

// RemoveGuardian ends it from the account's next request on.
func (a *App) RemoveGuardian(ctx context.Context, actor studio.Actor, account, child uuid.UUID) error {
	return a.keepingPeople(ctx, actor, func(t *postgres.Tx, told *notes) error {
		if err := t.RemoveGuardian(ctx, account, child); err != nil {
			return err
		}
		if err := told.guardians(ctx, t, child, account, studio.NoteNoGuardian, studio.NoteGuardianGone); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a guardian", "child "+child.String(), map[string]any{"account": account})
	})
}

func orMissing(err error) error {
	if err == nil {
		return studio.Missing()
	}
	return err
}
