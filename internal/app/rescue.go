package app

import (
	"context"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// RescueOwner lets an owner in again who has lost passphrase, code or passkey: code and passkeys are switched off, every session ends,
// and a link for a new passphrase comes back. It is for whoever runs the program on its own machine.
func (a *App) RescueOwner(ctx context.Context, email string) (Link, error) {
	email = lowerEmail(email)
	var link Link
	var told notes
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		id, err := t.AccountByEmail(ctx, email)
		var who studio.Actor
		if err == nil {
			who, err = t.ActorOf(ctx, id)
		}
		if studio.CodeOf(err) == studio.NotFound || err == nil && !who.Is(studio.OwnerRole) {
			return &studio.Error{Code: studio.NotFound, Text: "No owner who may sign in has this address. Others are let in again by an owner, in the browser, under Studio, People."}
		}
		if err != nil {
			return err
		}
		if err := dropGuards(ctx, t, id); err != nil {
			return err
		}
		if err := t.DeleteSessionsOf(ctx, id); err != nil {
			return err
		}
		if link, err = a.makeLink(ctx, t, studio.Invitation{Kind: studio.ResetLink, Email: who.Email, Name: who.Name}, resetWithin); err != nil {
			return err
		}
		told.add(ctx, t, who, studio.NoteRescued, "")
		if err := told.keep(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "let an owner in again", "account "+id.String(), nil)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return link, err
}
