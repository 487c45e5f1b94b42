package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// tellTeachers asks those who teach a child, or the owners where nobody does, to look at the program, where there is a mail server. A
// letter may be read by anybody on its way, so it names neither the child nor what happened. It is no failure when it does not arrive:
// the first page of each of them says it all.
func (a *App) tellTeachers(ctx context.Context, child uuid.UUID) {
	if a.settings.Send == nil {
		return
	}
	var people []postgres.Reachable
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		var err error
		people, err = t.TeachersToTell(ctx, child)
		return err
	})
	if err != nil {
		return
	}
	go a.sendAll(context.WithoutCancel(ctx), people) // whoever reports must not wait for a mail server
}

func (a *App) sendAll(ctx context.Context, people []postgres.Reachable) {
	for _, p := range people {
		letter := Letter{To: p.Email, Name: p.Name, Subject: "A family has written to " + a.settings.StudioName}
		letter.Text = fmt.Sprintf("Hello %s,\n\na family has reported something that a teacher should look at before the next lesson. It stands first on your page:\n\n%s/\n",
			p.Name, a.settings.BaseURL)
		_ = a.settings.Send(ctx, letter) // the first page tells it as well
	}
}
