package kit

import (
	"log/slog"
	"net/http"

	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// Kit serves the areas. Allowed reports whether an actor may ask for an action at all; internal/app decides on the record.
type Kit struct {
	Log        *slog.Logger
	StudioName string
	Sessions   *SessionStore
	Allowed    func(actor studio.Actor, action studio.Action) bool
	Open       func(action studio.Action) bool
	Words      *words.Catalogue
}

// HandlerFunc is a handler that returns its error; Kit.Handle turns it into a page.
type HandlerFunc func(w http.ResponseWriter, r *http.Request) error

// Route is one row of the route table.
type Route struct {
	Method  string // GET or POST
	Pattern string // chi's pattern
	Action  studio.Action
	Handler HandlerFunc
	JSON    bool // errors are answered as JSON
	Spoken  bool // the page is in the language of whoever reads it; other pages are in English
}

type actorKey struct{}

// Actor is who asks; the zero Actor when nobody is signed in.
func Actor(r *http.Request) studio.Actor {
	actor, _ := r.Context().Value(actorKey{}).(studio.Actor)
	return actor
}
