package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// save writes what place worked out.
func (i *rosterImport) save(ctx context.Context, rows []RosterRow) error {
	var fresh, changed []studio.ChildDetail
	existing := map[uuid.UUID]studio.ChildDetail{}
	for _, c := range i.strangers {
		existing[c.ID] = c
	}
	for _, c := range i.children {
		existing[c.ID] = c
	}
	for _, row := range rows {
		known, there := existing[row.Child.ID]
		switch {
		case !there:
			fresh = append(fresh, row.Child)
		case !sameChild(row.Child, known):
			changed = append(changed, row.Child)
		}
	}
	if err := i.t.AddChildren(ctx, fresh); err != nil {
		return err
	}
	if err := i.t.SaveChildren(ctx, changed); err != nil {
		return err
	}
	i.result.Enrolled = len(i.wanted)
	if err := i.t.Enrol(ctx, i.wanted); err != nil {
		return err
	}
	if err := i.saveGuardians(ctx, rows); err != nil {
		return err
	}
	return i.warn(ctx)
}

// saveGuardians gives each guardian an account, without a role and without a passphrase, where there is none. Somebody who was
// removed as a guardian is not brought back by a file.
func (i *rosterImport) saveGuardians(ctx context.Context, rows []RosterRow) error {
	removed, err := i.t.RemovedGuardians(ctx)
	if err != nil {
		return err
	}
	for _, row := range rows {
		for _, g := range row.Guardians {
			account, err := i.account(ctx, g)
			if err != nil {
				return err
			}
			if slices.ContainsFunc(removed, func(r studio.Guardian) bool { return r.AccountID == account && r.ChildID == row.Child.ID }) {
				i.result.Warnings = append(i.result.Warnings, fmt.Sprintf("Row %d: %s was removed as a guardian of %s and stays so. Add them again under People if that is wanted.",
					row.Row, g.Email, row.Child.FullName()))
				continue
			}
			news, err := i.t.AddGuardian(ctx, account, row.Child.ID, "parent")
			if err != nil {
				return err
			}
			if news {
				i.result.Guardians++
			}
		}
	}
	return i.noteUnjoined(ctx, rows)
}

func (i *rosterImport) account(ctx context.Context, g RosterGuardian) (uuid.UUID, error) {
	if id, ok := i.accounts[g.Email]; ok {
		return id, nil
	}
	name := g.Name
	if name == "" {
		name, _, _ = strings.Cut(g.Email, "@")
	}
	id, err := i.t.AddAccount(ctx, g.Email, short(name), nil)
	if err == nil {
		i.accounts[g.Email] = id
	}
	return id, err
}

// noteUnjoined lists the guardians of the file who cannot sign in yet.
func (i *rosterImport) noteUnjoined(ctx context.Context, rows []RosterRow) error {
	named := map[string]bool{}
	for _, row := range rows {
		for _, g := range row.Guardians {
			named[g.Email] = true
		}
	}
	if len(named) == 0 {
		return nil
	}
	accounts, err := i.t.Accounts(ctx)
	for _, a := range accounts {
		if named[a.Email] && a.JoinedAt == nil && a.DisabledAt == nil {
			i.result.Accounts = append(i.result.Accounts, a.Email)
		}
	}
	return err
}

// warn names children that look alike and classes that are over-full, of the classes that got somebody new.
func (i *rosterImport) warn(ctx context.Context) error {
	var ids []uuid.UUID
	for _, e := range i.wanted {
		if !slices.Contains(ids, e.ClassID) {
			ids = append(ids, e.ClassID)
		}
	}
	enrolments, err := i.t.EnrolmentsIn(ctx, ids)
	if err != nil {
		return err
	}
	from := len(i.result.Warnings)
	for _, class := range i.classes {
		for _, c := range class {
			i.warnOf(c, enrolments)
		}
	}
	slices.Sort(i.result.Warnings[from:])
	return nil
}

func (i *rosterImport) warnOf(c studio.Class, enrolments []studio.Enrolment) {
	var here []studio.Enrolment
	for _, e := range enrolments {
		if e.ClassID == c.ID && (e.UntilOn == nil || !e.UntilOn.Before(i.t.Today)) {
			here = append(here, e)
		}
	}
	if len(here) > c.Places {
		i.result.Warnings = append(i.result.Warnings, fmt.Sprintf("%s has %d places and would have %s.", c.Name, c.Places, childCount(len(here))))
	}
	for _, pair := range alikeIn(here, i.t.Today) {
		i.result.Warnings = append(i.result.Warnings, fmt.Sprintf("%s: %s and %s look alike on a class sheet. A nickname as first name helps.",
			c.Name, childOf(pair[0]).ShortName(), childOf(pair[1]).ShortName()))
	}
}
