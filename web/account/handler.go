// Package account is signing in and out, joining by invitation, and one's own account.
package account

import (
	"errors"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

// Handler serves the area.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the area.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{app: a, kit: k} }

// moment is a moment in the studio's time zone, for people.
func moment(b *words.Book, at time.Time, day app.Day) string {
	at = at.In(day.Zone)
	return b.At(b.Date(at), at)
}

// refusal is what is wrong with what was typed; nil when the error is another one.
func refusal(err error) *studio.Error {
	var e *studio.Error
	if errors.As(err, &e) && (e.Code == studio.Invalid || e.Code == studio.TooMany) {
		return e
	}
	return nil
}
