package app

import (
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// Beside is who else is a guardian of one's own child, as a guardian sees it who may invite others.
type Beside struct {
	Child     uuid.UUID
	ChildName string
	Guardians []studio.Guardian   // the actor among them
	Open      []studio.Invitation // the actor's own, not used yet
	Day       Day
}

// OwnGuardianships lists the actor's own children.
func (a *App) OwnGuardianships(ctx context.Context, actor studio.Actor) ([]studio.Guardian, error) {
	var own []studio.Guardian
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		var err error
		own, err = t.ChildrenOfGuardian(ctx, actor.ID)
		return err
	})
	return own, err
}

// GuardiansOf shows who else is a guardian of one's own child.
func (a *App) GuardiansOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (Beside, error) {
	b := Beside{Child: child}
	err := a.inviting(ctx, actor, child, func(t *postgres.Tx, _ *notes) error {
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		b.ChildName, b.Day = head.GivenName, t.Day()
		if b.Guardians, err = t.GuardiansBeside(ctx, child); err != nil {
			return err
		}
		b.Open, err = t.OpenInvitationsTo(ctx, child)
		b.Open = slices.DeleteFunc(b.Open, func(i studio.Invitation) bool { return i.CreatedBy == nil || *i.CreatedBy != actor.ID })
		return err
	})
	return b, err
}

// inviting runs fn as a guardian of the child who may let others in. Whom fn adds notes for is told.
func (a *App) inviting(ctx context.Context, actor studio.Actor, child uuid.UUID, fn func(*postgres.Tx, *notes) error) error {
	var told notes
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepGuardians, Target{Child: child}); err != nil {
			return err
		}
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

// InviteGuardian makes a link by which somebody becomes a guardian of one's own child too, with the rights given. It says nothing about
// whether the address has an account: whoever has one accepts the link after signing in.
func (a *App) InviteGuardian(ctx context.Context, actor studio.Actor, child uuid.UUID, name, email string, rights []studio.GuardianRight) (Link, error) {
	i := studio.Invitation{Kind: studio.JoinLink, Email: lowerEmail(email), Name: strings.TrimSpace(name), ChildIDs: []uuid.UUID{child}, Rights: given(rights)}
	var link Link
	err := a.inviting(ctx, actor, child, func(t *postgres.Tx, _ *notes) error {
		b := words.Of(ctx)
		if err := studio.Refuse(b.Say("guardian.nobody"), said(b, i.Validate(), i.Name, studio.AccountNameLength)); err != nil {
			return err
		}
		if i.Email == actor.Email {
			return studio.Refuse(b.Say("guardian.nobody"), []studio.FieldError{{Field: "email", Problem: b.Say("guardian.own-address")}})
		}
		var err error
		if link, err = a.makeLink(ctx, t, i, joinWithin); err != nil {
			return err
		}
		return t.Audit(ctx, "invited a guardian", "child "+child.String(), map[string]any{"rights": i.Rights})
	})
	if err == nil {
		a.send(ctx, &link)
	}
	return link, err
}

// given are the rights that a guardian can give: all but that to invite others.
func given(rights []studio.GuardianRight) []studio.GuardianRight {
	chosen := []studio.GuardianRight{}
	for _, r := range []studio.GuardianRight{studio.RightToReport, studio.RightToRead} {
		if slices.Contains(rights, r) {
			chosen = append(chosen, r)
		}
	}
	return chosen
}

// ChangeGuardian changes what a guardian may whom the actor let in.
func (a *App) ChangeGuardian(ctx context.Context, actor studio.Actor, child, account uuid.UUID, rights []studio.GuardianRight) error {
	return a.inviting(ctx, actor, child, func(t *postgres.Tx, told *notes) error {
		if err := letInBy(ctx, t, actor, child, account); err != nil {
			return err
		}
		if err := t.SetGuardianRights(ctx, account, child, given(rights)); err != nil {
			return err
		}
		if err := told.guardians(ctx, t, child, account, studio.NoteRights, ""); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a guardian's rights", "child "+child.String(), map[string]any{"account": account, "rights": given(rights)})
	})
}

// EndGuardian ends, from the next request on, that an account is a guardian of one's own child; only for whom the actor let in.
func (a *App) EndGuardian(ctx context.Context, actor studio.Actor, child, account uuid.UUID) error {
	return a.inviting(ctx, actor, child, func(t *postgres.Tx, told *notes) error {
		if err := letInBy(ctx, t, actor, child, account); err != nil {
			return err
		}
		if err := t.RemoveGuardian(ctx, account, child); err != nil {
			return err
		}
		if err := told.guardians(ctx, t, child, account, studio.NoteNoGuardian, studio.NoteGuardianGone); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a guardian", "child "+child.String(), map[string]any{"account": account})
	})
}

// letInBy is studio.Missing unless the account is a guardian of the child whom the actor let in.
func letInBy(ctx context.Context, t *postgres.Tx, actor studio.Actor, child, account uuid.UUID) error {
	beside, err := t.GuardiansBeside(ctx, child)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(beside, func(g studio.Guardian) bool {
		return g.AccountID == account && g.InvitedBy != nil && *g.InvitedBy == actor.ID
	}) {
		return studio.Missing()
	}
	return nil
}

// WithdrawGuardian ends an open link that the actor made for one's own child.
func (a *App) WithdrawGuardian(ctx context.Context, actor studio.Actor, child, invitation uuid.UUID) error {
	return a.inviting(ctx, actor, child, func(t *postgres.Tx, _ *notes) error {
		open, err := t.OpenInvitationsTo(ctx, child)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(open, func(i studio.Invitation) bool {
			return i.ID == invitation && i.CreatedBy != nil && *i.CreatedBy == actor.ID
		}) {
			return studio.Missing()
		}
		if _, err := t.WithdrawInvitation(ctx, invitation); err != nil {
			return err
		}
		return t.Audit(ctx, "withdrew a guardian's link", "child "+child.String(), nil)
	})
}

// SetGuardianRights makes the rights of a guardian these and no others.
func (a *App) SetGuardianRights(ctx context.Context, actor studio.Actor, account, child uuid.UUID, rights []studio.GuardianRight) error {
	return a.keepingPeople(ctx, actor, func(t *postgres.Tx, told *notes) error {
		if err := t.SetGuardianRights(ctx, account, child, rights); err != nil {
			return err
		}
		if err := told.guardians(ctx, t, child, account, studio.NoteRights, ""); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a guardian's rights", "child "+child.String(), map[string]any{"account": account, "rights": rights})
	})
}

// errHasAccount is for a link whose address has an account already.
func errHasAccount(ctx context.Context) error {
	return &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("join.has-account")}
}

// LinkHasAccount reports whether the address of a link has an account already, which then accepts it by AcceptLink.
func (a *App) LinkHasAccount(ctx context.Context, token string) (bool, error) {
	has := false
	err := a.withLink(ctx, token, func(t *postgres.Tx, i studio.Invitation) error {
		_, err := t.AccountByEmail(ctx, i.Email)
		has = err == nil && i.Kind == studio.JoinLink
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		return err
	})
	return has, err
}

// AcceptLink makes the actor, whose address the link is for, a guardian of its children. The link works once.
func (a *App) AcceptLink(ctx context.Context, actor studio.Actor, token string) error {
	var told notes
	err := a.withLink(ctx, token, func(t *postgres.Tx, i studio.Invitation) error {
		account, err := t.AccountByEmail(ctx, i.Email)
		if err != nil || account != actor.ID || i.Kind != studio.JoinLink || len(i.Roles) > 0 || i.StaffID != nil {
			return errHasAccount(ctx)
		}
		if err := letIn(ctx, t, account, i, studio.NoteMadeGuardian, &told); err != nil {
			return err
		}
		if err := t.UseInvitation(ctx, i.ID); err != nil {
			return err
		}
		if err := told.keep(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "accepted an invitation", "account "+account.String(), map[string]any{"children": i.ChildIDs})
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return err
}
