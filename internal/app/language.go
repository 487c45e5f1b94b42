package app

import (
	"context"
	"slices"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// ChooseLanguage keeps the language that the actor reads in, by its tag; "" lets the browser say.
func (a *App) ChooseLanguage(ctx context.Context, actor studio.Actor, tag string) error {
	return a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		b := words.Of(ctx)
		if tag != "" && !slices.ContainsFunc(b.Books(), func(other *words.Book) bool { return other.Lang() == tag }) {
			return studio.Refuse(b.Say("form.nothing-saved"), []studio.FieldError{{Field: "language", Problem: b.Say("form.choose-one")}})
		}
		if err := t.SetLanguage(ctx, actor.ID, tag); err != nil {
			return err
		}
		return t.Audit(ctx, "chose a language", "account "+actor.ID.String(), map[string]any{"language": tag})
	})
}
