package app

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// tellTeachers asks those who teach a child, or the owners where nobody does, to look at the program, where there is a mail server. A
// letter may be read by anybody on its way, so it names neither the child nor what happened. It is no failure when it does not arrive:
// the first page of each of them says it all.
func (a *App) tellTeachers(ctx context.Context, child uuid.UUID) {
	if a.settings.Send == nil {
		return
	}
	var letters []Letter
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		people, err := t.TeachersToTell(ctx, child)
		for _, p := range people {
			b := words.Of(ctx).For(p.Language, t.Settings.Language)
			letters = append(letters, Letter{To: p.Email, Name: p.Name, Subject: b.Say("mail.report.subject", "Studio", a.settings.StudioName),
				Text: b.Say("mail.report.text", "Name", p.Name, "Link", a.settings.BaseURL+"/") + "\n"})
		}
		return err
	})
	if err != nil {
		return
	}
	for _, letter := range letters { // whoever reports must not wait for a mail server
		a.afterwards(ctx, func(ctx context.Context) error { return a.settings.Send(ctx, letter) })
	}
}
