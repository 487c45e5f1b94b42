package web

import (
	"net/http"
	"time"

	"github.com/go-chi/chi/v5/middleware"
	"github.com/go-chi/httprate"
	"rungbook/web/kit"
)

// Requests that may guess at a secret, from one address (an IPv6 client is its /64): 30 a minute. Guesses at one account are counted
// in the database as well, across all running copies.
const (
	guessesFromAddress = 30
	guessWindow        = time.Minute
)

// clientAddress finds the client's address: that of the connection, or, when it comes from a proxy that is trusted, what the proxy says.
func clientAddress(trustedProxies []string) func(http.Handler) http.Handler {
	if len(trustedProxies) == 0 {
		return middleware.ClientIPFromRemoteAddr
	}
	return middleware.ClientIPFromXFF(trustedProxies...)
}

// limitGuesses slows down whoever tries secrets.
func limitGuesses(k *kit.Kit) func(http.Handler) http.Handler {
	return httprate.LimitBy(guessesFromAddress, guessWindow,
		func(r *http.Request) (string, error) {
			return httprate.CanonicalizeIP(middleware.GetClientIP(r.Context())), nil
		},
		httprate.WithLimitHandler(k.TooMany))
}
