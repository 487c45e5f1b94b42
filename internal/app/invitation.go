package app

import (
	"context"
	"encoding/hex"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// How long a one-time link works.
const (
	joinWithin  = 7 * 24 * time.Hour
	resetWithin = 24 * time.Hour
)

// Link is a one-time link, shown once to whoever asked for it: the program keeps only a hash.
type Link struct {
	URL       string
	Name      string
	Email     string
	ExpiresAt time.Time
	Day       Day
	Subject   string // of an e-mail that carries the link
	Text      string // of it; both in the language of the account, where there is one, else in the studio's
	Sent      bool   // it was handed over to the mail server
	SendError error  // why it was not, where there is a mail server
}

// Invite makes a link by which somebody makes an account with the roles, the staff record and the children of the invitation.
// An earlier open link for the same address ends.
func (a *App) Invite(ctx context.Context, actor studio.Actor, i studio.Invitation) (Link, error) {
	i.Kind, i.Email, i.Name = studio.JoinLink, lowerEmail(i.Email), strings.TrimSpace(i.Name)
	var link Link
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nobody was invited.", i.Validate()); err != nil {
			return err
		}
		_, err := t.AccountByEmail(ctx, i.Email)
		if err == nil {
			return studio.Refuse("Nobody was invited.", []studio.FieldError{{Field: "email",
				Problem: "There is an account with this address. Open it to change roles, children or passphrase."}})
		}
		if studio.CodeOf(err) != studio.NotFound {
			return err
		}
		if err := invitable(ctx, t, i); err != nil {
			return err
		}
		link, err = a.makeLink(ctx, t, i, joinWithin)
		if err != nil {
			return err
		}
		return t.Audit(ctx, "invited", "invitation "+i.Email, map[string]any{"roles": i.Roles, "children": i.ChildIDs})
	})
	if err == nil {
		a.send(ctx, &link)
	}
	return link, err
}

// invitable checks that what an invitation names is there.
func invitable(ctx context.Context, t *postgres.Tx, i studio.Invitation) error {
	for _, child := range i.ChildIDs {
		if exists, err := t.ChildExists(ctx, child); err != nil || !exists {
			return orMissing(err)
		}
	}
	if i.StaffID == nil {
		return nil
	}
	staff, err := t.StaffDetail(ctx, *i.StaffID)
	if err == nil && staff.AccountID != nil {
		err = studio.Refuse("Nobody was invited.", []studio.FieldError{{Field: "staff", Problem: "This record belongs to an account already."}})
	}
	return err
}

// ResetLink makes a link by which the holder of an account chooses a new passphrase. An earlier one ends.
func (a *App) ResetLink(ctx context.Context, actor studio.Actor, account uuid.UUID) (Link, error) {
	var link Link
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		found, err := t.Account(ctx, account)
		if err != nil {
			return err
		}
		if found.DisabledAt != nil {
			return &studio.Error{Code: studio.Conflict, Text: "The account is locked. Unlock it first, then make a link."}
		}
		i := studio.Invitation{Kind: studio.ResetLink, Email: found.Email, Name: found.Name}
		within := resetWithin
		if found.JoinedAt == nil { // a first passphrase is as patient as an invitation
			within = joinWithin
		}
		if link, err = a.makeLink(ctx, t, i, within); err != nil {
			return err
		}
		return t.Audit(ctx, "made a link for a new passphrase", "account "+account.String(), nil)
	})
	if err == nil {
		a.send(ctx, &link)
	}
	return link, err
}

func (a *App) makeLink(ctx context.Context, t *postgres.Tx, i studio.Invitation, within time.Duration) (Link, error) {
	secret := auth.NewSecret()
	i.ExpiresAt = t.Now.Add(within)
	if _, err := t.AddInvitation(ctx, secret.Hash(), i); err != nil {
		return Link{}, err
	}
	link := Link{URL: a.settings.BaseURL + "/join/" + secret.Text(), Name: i.Name, Email: i.Email, ExpiresAt: i.ExpiresAt, Day: t.Day()}
	language := ""
	err := t.AsProgram(ctx, func() error {
		var err error
		language, err = t.LanguageOf(ctx, i.Email)
		return err
	})
	b, until := words.Of(ctx).For(language, t.Settings.Language), i.ExpiresAt.In(link.Day.Zone)
	link.Subject = b.Say("mail.link.subject", "Studio", a.settings.StudioName)
	link.Text = b.Say("mail.link.text", "Name", i.Name, "Studio", a.settings.StudioName, "Until", b.At(b.Date(until), until), "Link", link.URL) + "\n"
	return link, err
}

// send hands the link over to the mail server, where there is one. It is no failure when that does not work: the link is there to be
// handed over otherwise.
func (a *App) send(ctx context.Context, link *Link) {
	if a.settings.Send == nil {
		return
	}
	link.SendError = a.settings.Send(ctx, Letter{To: link.Email, Name: link.Name, Subject: link.Subject, Text: link.Text})
	link.Sent = link.SendError == nil
}

// LocalPath is the path of a link within the site.
func (a *App) LocalPath(l Link) string { return strings.TrimPrefix(l.URL, a.settings.BaseURL) }

// WithdrawInvitation ends an open link.
func (a *App) WithdrawInvitation(ctx context.Context, actor studio.Actor, id uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		i, err := t.WithdrawInvitation(ctx, id)
		if err != nil {
			return err
		}
		return t.Audit(ctx, "withdrew a link", "invitation "+i.Email, map[string]any{"kind": i.Kind})
	})
}

// errUsedUp is the one answer to a link that is unknown, used or out of time.
func errUsedUp(ctx context.Context) error {
	return &studio.Error{Code: studio.NotFound, Text: words.Of(ctx).Say("join.spent")}
}

// Invitation reads the link of which token is the secret part, while it works.
func (a *App) Invitation(ctx context.Context, token string) (studio.Invitation, error) {
	var found studio.Invitation
	err := a.withLink(ctx, token, func(t *postgres.Tx, i studio.Invitation) error {
		found = i
		return nil
	})
	return found, err
}

// JoinBy uses the link of which token is the secret part: it makes the account with its roles and children, or gives an account its
// new passphrase and ends its sessions. The link works once. The account's id comes back.
func (a *App) JoinBy(ctx context.Context, token, passphrase string) (uuid.UUID, error) {
	i, err := a.Invitation(ctx, token)
	if err != nil {
		return uuid.Nil, err
	}
	hash, err := a.hashNew(ctx, passphrase, i.Email, "passphrase") // slow by design: outside of the transaction
	if err != nil {
		return uuid.Nil, err
	}
	var account uuid.UUID
	var told notes
	err = a.withLink(ctx, token, func(t *postgres.Tx, i studio.Invitation) error {
		var err error
		if account, err = useLink(ctx, t, i, &told); err != nil {
			return err
		}
		if i.Kind == studio.ResetLink {
			who, err := t.ActorOf(ctx, account)
			if err != nil {
				return err
			}
			told.add(ctx, t, who, studio.NotePassphraseLink, "")
		}
		if err := told.keep(ctx, t); err != nil {
			return err
		}
		if err := t.UseInvitation(ctx, i.ID); err != nil {
			return err
		}
		return t.SetPassword(ctx, account, hash)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return account, err
}

func (a *App) withLink(ctx context.Context, token string, fn func(*postgres.Tx, studio.Invitation) error) error {
	secret, ok := auth.ParseSecret(token)
	if !ok {
		return errUsedUp(ctx)
	}
	return a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(secret.Hash()), func(t *postgres.Tx) error {
		i, err := t.InvitationBySecret(ctx, secret.Hash())
		if studio.CodeOf(err) == studio.NotFound || err == nil && !i.OpenAt(t.Now) {
			return errUsedUp(ctx)
		}
		if err != nil {
			return err
		}
		return fn(t, i)
	})
}

func useLink(ctx context.Context, t *postgres.Tx, i studio.Invitation, told *notes) (uuid.UUID, error) {
	if i.Kind == studio.ResetLink {
		return useReset(ctx, t, i)
	}
	if _, err := t.AccountByEmail(ctx, i.Email); err == nil {
		return uuid.Nil, errHasAccount(ctx)
	}
	account, err := t.AddAccount(ctx, i.Email, i.Name, i.Roles)
	if err != nil {
		return account, err
	}
	if err := letIn(ctx, t, account, i, "", told); err != nil {
		return account, err
	}
	if i.StaffID != nil {
		if err := t.LinkStaff(ctx, *i.StaffID, account); err != nil {
			return account, err
		}
	}
	return account, t.Audit(ctx, "joined by invitation", "account "+account.String(), map[string]any{"roles": i.Roles})
}

// letIn makes an account a guardian of the children of an invitation, with its rights where it names any, and tells those who are already.
func letIn(ctx context.Context, t *postgres.Tx, account uuid.UUID, i studio.Invitation, own studio.NoteKind, told *notes) error {
	for _, child := range i.ChildIDs {
		news, err := t.AddGuardian(ctx, account, child, "parent")
		if err != nil {
			return err
		}
		if !news {
			continue
		}
		if err := told.guardians(ctx, t, child, account, own, studio.NoteGuardian); err != nil {
			return err
		}
		if i.Rights == nil {
			continue
		}
		if err := t.SetGuardianRights(ctx, account, child, i.Rights); err != nil {
			return err
		}
		if err := t.NoteInviter(ctx, account, child, i.CreatedBy); err != nil {
			return err
		}
	}
	return nil
}

// useReset finds the account of a reset link, if it is not locked, and ends its sessions and a change of address that was not confirmed.
// A link that somebody at the studio handed out also switches code and passkeys off: their holder may have lost them. One that was asked
// for on the sign-in page does not.
func useReset(ctx context.Context, t *postgres.Tx, i studio.Invitation) (uuid.UUID, error) {
	account, err := t.AccountByEmail(ctx, i.Email)
	if err != nil {
		return account, err
	}
	if _, err := t.ActorOf(ctx, account); err != nil {
		return account, errUsedUp(ctx)
	}
	if err := t.DeleteSessionsOf(ctx, account); err != nil {
		return account, err
	}
	if err := t.DropOpenEmailChange(ctx, account); err != nil {
		return account, err
	}
	if i.CreatedBy != nil {
		if err := dropGuards(ctx, t, account); err != nil {
			return account, err
		}
	}
	return account, t.Audit(ctx, "chose a new passphrase by link", "account "+account.String(), nil)
}

// dropGuards switches the code and all passkeys of an account off.
func dropGuards(ctx context.Context, t *postgres.Tx, account uuid.UUID) error {
	if err := t.RemoveSecondFactor(ctx, account); err != nil && studio.CodeOf(err) != studio.NotFound {
		return err
	}
	return t.RemovePasskeysOf(ctx, account)
}

func lowerEmail(address string) string { return strings.ToLower(strings.TrimSpace(address)) }
