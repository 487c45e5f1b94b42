// Package web is the site: the route table and the order of middleware.
package web

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"rungbook/internal/app"
	"rungbook/internal/words"
	"rungbook/web/kit"
	"rungbook/web/static"
)

// Options are the site's settings.
type Options struct {
	Secure         bool     // behind TLS: cookies are bound to it
	TrustedProxies []string // CIDRs whose X-Forwarded-For is believed
	Log            *slog.Logger
	Words          *words.Catalogue // the languages; nil for English alone
}

// New is the whole site over the use cases.
func New(a *app.App, o Options) http.Handler {
	k := &kit.Kit{
		Log:        o.Log,
		StudioName: a.Settings().StudioName,
		Sessions:   sessionStore(a, o.Secure),
		Allowed:    a.Policy().Offers,
		Open:       a.Policy().Open,
		Words:      o.Words,
	}
	r := chi.NewRouter()
	r.Use(clientAddress(o.TrustedProxies), k.Recover, logRequests(o.Log), middleware.Compress(5), k.Harden, http.NewCrossOriginProtection().Handler)
	r.Get("/static/*", static.Handler().ServeHTTP)
	r.Get("/sw.js", static.Worker().ServeHTTP)
	r.Get("/healthz", health(a))
	r.Group(func(r chi.Router) {
		r.Use(k.Identify)
		guarded := r.With(limitGuesses(k))
		for _, route := range Routes(a, k) {
			if route.Method == http.MethodPost && k.Open(route.Action) {
				guarded.Method(route.Method, route.Pattern, k.Handle(route))
			} else {
				r.Method(route.Method, route.Pattern, k.Handle(route))
			}
		}
		r.NotFound(k.NotFound)
	})
	return r
}

func health(a *app.App) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if err := a.Ping(r.Context()); err != nil {
			http.Error(w, "the database does not answer", http.StatusServiceUnavailable)
			return
		}
		w.Write([]byte("ok\n"))
	}
}

// logRequests writes a line a request: the route's pattern, never ids or names.
func logRequests(log *slog.Logger) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			start := time.Now()
			answer := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
			next.ServeHTTP(answer, r)
			log.Info("request", "method", r.Method, "route", chi.RouteContext(r.Context()).RoutePattern(),
				"status", answer.Status(), "ms", time.Since(start).Milliseconds())
		})
	}
}
