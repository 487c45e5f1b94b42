package web_test

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// The pages that a teacher opens most cost the database three round trips: who asks; the transaction, with what the actor may reach;
// everything that is shown, with the transaction's end. Counted on the wire, with connections and statements that are known already.
func TestPagesTakeThreeRoundTrips(t *testing.T) {
	address, trips := testkit.CountTrips(t, testkit.Fill(t).App)
	db, err := postgres.Open(t.Context(), address, testkit.SampleNow, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	hasher, err := auth.NewHasher(auth.Params{Memory: 8, Time: 1, Threads: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	site := web.New(app.New(db, app.StudioPolicy(), hasher, app.Settings{StudioName: "Sample"}), web.Options{Log: slog.New(slog.DiscardHandler)})
	ask := func(as who, path string) int {
		r := httptest.NewRequest("GET", path, nil)
		r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + as.account})
		w := httptest.NewRecorder()
		site.ServeHTTP(w, r)
		return w.Code
	}
	class, child := "/classes/"+id("c0a0"), "/children/"+id("c1a1")
	for _, path := range []string{class, class + "?ladders=all&sort=ready", class + "/marks?rung=hs-return", child, child + "/marks", child + "/ahead", child + "/notes", child + "/history", "/ladders/handstand", "/ladders/handstand?map=whole"} {
		for _, as := range []who{teacherA, owner} {
			for range 2 { // the first time makes the statements known
				trips.Taken()
				if status := ask(as, path); status != http.StatusOK {
					t.Fatalf("%s as %s: %d", path, as.name, status)
				}
			}
			if n := trips.Taken(); n > 3 {
				t.Errorf("%s as %s takes %d round trips", path, as.name, n)
			}
		}
	}
}
