package e2e

import (
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
)

// line is the network between a tablet and the program: it can be cut, or lose the answers of what the program did.
type line struct {
	url     string
	cut     atomic.Bool // nothing gets through
	deaf    atomic.Bool // marks get through, their answers do not
	blocked atomic.Bool // marks do not get through, everything else does
}

func newLine(t *testing.T, h *house) *line {
	t.Helper()
	to, err := url.Parse(h.url)
	if err != nil {
		t.Fatal(err)
	}
	l := &line{}
	through := &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) { r.SetURL(to); r.Out.Host = r.In.Host }, ErrorHandler: func(w http.ResponseWriter, _ *http.Request, _ error) { hangUp(w) }}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		marks := strings.HasPrefix(r.URL.Path, "/sheet/items")
		switch {
		case l.cut.Load(), marks && l.blocked.Load():
			hangUp(w)
		case marks && l.deaf.Load():
			through.ServeHTTP(httptest.NewRecorder(), r)
			hangUp(w)
		default:
			through.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(server.Close)
	l.url = server.URL
	return l
}

// hangUp ends the connection without an answer.
func hangUp(w http.ResponseWriter) {
	if conn, _, err := http.NewResponseController(w).Hijack(); err == nil {
		conn.Close()
	}
}
