package web_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// world is the sample studio behind a real site. Whatever a request does to it is seen and undone.
type world struct {
	site   http.Handler
	use    *app.App
	pool   *postgres.DB
	log    *bytes.Buffer
	owner  *pgx.Conn // bound by no row-level security
	tables []string
	before map[string]string // a digest of each table's rows
	asked  int
	now    time.Time

	letters letters
	opened  map[[sha256.Size]byte][]testkit.Heard
	scanned scanned
}

// scanned counts what was searched for canaries.
type scanned struct{ answers, readings, letters, lines int }

func (s scanned) String() string {
	return fmt.Sprintf("searched for canaries: %d answers (%d different readings of them, packed parts opened), %d letters, %d log lines", s.answers, s.readings, s.letters, s.lines)
}

// sampleWords is everybody's passphrase in the matrix.
const sampleWords = "nine copper kettles sing"

// line is which of the two lines of defence serve a site.
type line struct {
	policy    app.Policy
	bypassRLS bool
}

func openWorld(t *testing.T, l line) *world {
	t.Helper()
	db := testkit.Fill(t)
	w := &world{log: &bytes.Buffer{}, now: testkit.SampleNow(), opened: map[[sha256.Size]byte][]testkit.Heard{}}
	var err error
	if w.owner, err = pgx.Connect(t.Context(), db.Owner); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.owner.Close(context.Background()) })
	serving := db.App
	if l.bypassRLS {
		serving = bypassing(t, w.owner, db.App)
	}
	pool, err := postgres.Open(t.Context(), serving, func() time.Time { return w.now }, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	hasher, err := auth.NewHasher(auth.Params{Memory: 8, Time: 1, Threads: 1}, 4)
	if err != nil {
		t.Fatal(err)
	}
	hash, err := hasher.Hash(t.Context(), sampleWords)
	if err != nil {
		t.Fatal(err)
	}
	w.exec(t, `update account_secret set password_hash = $1`, hash)
	seal, err := auth.NewSealer(strings.Repeat("A", 43) + "=")
	if err != nil {
		t.Fatal(err)
	}
	log := slog.New(slog.NewTextHandler(w.log, nil))
	w.use = app.New(pool, l.policy, hasher, app.Settings{StudioName: "Sample", BaseURL: "http://sample.example", TimeZone: "UTC", Sealer: seal, Send: w.letters.take, Log: log})
	w.site = web.New(w.use, web.Options{Log: log})
	w.pool = pool
	w.remember(t)
	return w
}

// bypassing makes a serving role that row-level security does not bind, and gives its address.
func bypassing(t *testing.T, conn *pgx.Conn, address string) string {
	t.Helper()
	role, words := "rungbook_bypass_"+strings.ToLower(rand.Text()), rand.Text()
	if _, err := conn.Exec(t.Context(), fmt.Sprintf("create role %s login bypassrls password '%s' in role rungbook_app", role, words)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		admin, err := pgx.Connect(context.Background(), conn.Config().ConnString())
		if err != nil {
			t.Error(err)
			return
		}
		defer admin.Close(context.Background())
		if _, err := admin.Exec(context.Background(), "drop role "+role); err != nil {
			t.Error(err)
		}
	})
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	u.User = url.UserPassword(role, words)
	return u.String()
}

func (w *world) exec(t *testing.T, sql string, args ...any) {
	t.Helper()
	if _, err := w.owner.Exec(t.Context(), sql, args...); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
}

// remember keeps a copy of every table.
func (w *world) remember(t *testing.T) {
	t.Helper()
	rows, err := w.owner.Query(t.Context(), `select relname::text from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r' and relname <> 'schema_migrations' order by 1`)
	if err != nil {
		t.Fatal(err)
	}
	if w.tables, err = pgx.CollectRows(rows, pgx.RowTo[string]); err != nil {
		t.Fatal(err)
	}
	w.exec(t, `create schema kept`)
	for _, name := range w.tables {
		w.exec(t, `create table kept.`+name+` as table public.`+name)
	}
	w.exec(t, `set session_replication_role = replica`) // undoing runs no trigger and checks no foreign key
	w.before = w.digest(t)
}

func (w *world) digest(t *testing.T) map[string]string {
	t.Helper()
	var parts []string
	for _, name := range w.tables {
		parts = append(parts, fmt.Sprintf(`select '%s' as name, coalesce(string_agg(md5(r::text), '' order by md5(r::text)), '') as digest from public.%[1]s r`, name))
	}
	rows, err := w.owner.Query(t.Context(), strings.Join(parts, " union all "))
	if err != nil {
		t.Fatal(err)
	}
	sums := map[string]string{}
	var name, sum string
	if _, err := pgx.ForEachRow(rows, []any{&name, &sum}, func() error { sums[name] = sum; return nil }); err != nil {
		t.Fatal(err)
	}
	return sums
}

// changed names the tables whose rows are not as they were, and puts them back.
func (w *world) changed(t *testing.T) []string {
	t.Helper()
	var names []string
	now := w.digest(t)
	for _, name := range w.tables {
		if now[name] == w.before[name] {
			continue
		}
		names = append(names, name)
		w.exec(t, `delete from public.`+name)
		w.exec(t, `insert into public.`+name+` select * from kept.`+name)
	}
	return names
}

// answer is what a request got.
type answer struct {
	status int
	header http.Header
	body   string
}

// everything is the whole answer as one text, without what names the request itself.
func (a answer) everything(path string) string { return a.head(path) + a.text(path) }

// head is the status and the headers.
func (a answer) head(path string) string {
	var b strings.Builder
	fmt.Fprintln(&b, a.status)
	for _, name := range slices.Sorted(mapKeys(a.header)) {
		fmt.Fprintln(&b, name, a.header[name])
	}
	return unnamed(b.String(), path)
}

// text is the body.
func (a answer) text(path string) string { return unnamed(a.body, path) }

func unnamed(text, path string) string {
	if path == "" {
		return text
	}
	return strings.ReplaceAll(strings.ReplaceAll(text, url.QueryEscape(path), "PATH"), path, "PATH")
}

func mapKeys(h http.Header) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range h {
			if !yield(k) {
				return
			}
		}
	}
}

// ask sends a request of the actor to the site, without a network.
func (w *world) ask(as who, method, path string, form *sent) answer {
	var body io.Reader
	if form != nil {
		body = strings.NewReader(form.body)
	}
	r := httptest.NewRequest(method, path, body)
	w.asked++
	r.RemoteAddr = fmt.Sprintf("10.%d.%d.%d:7", w.asked>>16&255, w.asked>>8&255, w.asked&255) // guesses are limited by address
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	if form != nil {
		r.Header.Set("Content-Type", form.kind)
	}
	if as != nobody {
		r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + as.account})
	}
	rec := httptest.NewRecorder()
	w.site.ServeHTTP(rec, r)
	return answer{status: rec.Code, header: rec.Header(), body: rec.Body.String()}
}
