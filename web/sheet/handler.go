// Package sheet is the class sheet in the hall, what devices send of it, what follows when something goes wrong, and the look back
// after class.
package sheet

import (
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Handler serves the class sheet.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the handlers of the class sheet.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{a, k} }
