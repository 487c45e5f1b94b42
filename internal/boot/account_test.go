package boot

import (
	"bytes"
	"context"
	"encoding/base64"
	"io"
	"log/slog"
	"mime/quotedprintable"
	"net/http"
	"net/http/httptest"
	"net/mail"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/testkit"
)

var addressPath = regexp.MustCompile(`https://studio\.example(/address/(?:confirm|stop)/[A-Za-z0-9_-]+)`)

// browser asks the whole program as somebody with a cookie.
type browser struct {
	*testing.T
	house  *House
	cookie *http.Cookie
}

func (b *browser) ask(method, path string, form url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if b.cookie != nil {
		r.AddCookie(b.cookie)
	}
	w := httptest.NewRecorder()
	b.house.Site.ServeHTTP(w, r)
	for _, c := range w.Result().Cookies() {
		b.cookie = c
	}
	return w
}

func (b *browser) must(status int, method, path string, form url.Values) *httptest.ResponseRecorder {
	b.Helper()
	w := b.ask(method, path, form)
	if w.Code != status {
		b.Fatalf("%s %s answers %d, want %d: %s", method, path, w.Code, status, w.Body)
	}
	return w
}

// read is who a message is for and what it says.
func read(t *testing.T, raw string) (to, text string) {
	t.Helper()
	message, err := mail.ReadMessage(strings.NewReader(raw)) // RFC 5322 as net/mail reads it
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(quotedprintable.NewReader(message.Body)) // RFC 2045
	if err != nil {
		t.Fatal(err)
	}
	return message.Header.Get("To"), string(body)
}

// next are the messages for each of the addresses, in whatever order they come.
func next(t *testing.T, taken chan string, addresses ...string) map[string]string {
	t.Helper()
	found := map[string]string{}
	for range addresses {
		select {
		case raw := <-taken:
			to, text := read(t, raw)
			for _, a := range addresses {
				if strings.Contains(to, a) {
					found[a] += text
				}
			}
		case <-time.After(20 * time.Second): // the relay never answers: no message came
			t.Fatalf("came: %v, want one for each of %v", found, addresses)
		}
	}
	return found
}

// A change of address through a mail server, and the way back; every other change of the account is told by e-mail too.
func TestChangesOfAnAccountByMail(t *testing.T) {
	port, taken := relay(t)
	config := Config{DatabaseURL: testkit.Fill(t).App, BaseURL: "https://studio.example", StudioName: "Sample", TimeZone: "UTC", Insecure: true,
		SMTP: SMTP{Host: "127.0.0.1", Port: port, From: "Sample studio <office@studio.example>", Plain: true}}
	house, err := New(t.Context(), config, slog.New(slog.DiscardHandler), testkit.SampleNow)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(house.Close)
	const was, moved, words = "parentmail-a@sample.example", "moved@sample.example", "seven herons over wet sand"
	b := &browser{T: t, house: house}
	b.must(http.StatusOK, "POST", "/forgotten", url.Values{"email": {was}})
	link := joinPath.FindStringSubmatch(next(t, taken, was)[was])
	b.must(http.StatusSeeOther, "POST", link[1], url.Values{"passphrase": {words}})
	told := next(t, taken, was, was)[was] // in any order: that one was chosen, and that a browser is new
	if !strings.Contains(told, "new passphrase was chosen") || !strings.Contains(told, "new to it") {
		t.Errorf("told %q", told)
	}

	b.must(http.StatusSeeOther, "POST", "/account/email", url.Values{"email": {moved}, "email-present": {words}})
	letters := next(t, taken, was, moved)
	confirm, stop := addressPath.FindStringSubmatch(letters[moved]), addressPath.FindStringSubmatch(letters[was])
	if confirm == nil || stop == nil || strings.Contains(letters[was], "/confirm/") || strings.Contains(letters[moved], "/stop/") {
		t.Fatalf("letters %q", letters)
	}
	if page := b.must(http.StatusOK, "GET", "/account", nil).Body.String(); !strings.Contains(page, "A link was sent to "+moved) || !strings.Contains(page, "that your e-mail address become") {
		t.Error("the page does not say that it waits")
	}
	other := &browser{T: t, house: house} // the link is opened on a telephone
	other.must(http.StatusOK, "GET", confirm[1], nil)
	other.must(http.StatusSeeOther, "POST", confirm[1], nil)
	other.must(http.StatusNotFound, "POST", confirm[1], nil)
	for to, text := range next(t, taken, was, moved) {
		if !strings.Contains(text, "was changed to "+moved) {
			t.Errorf("%s is told %q", to, text)
		}
	}
	other.must(http.StatusUnprocessableEntity, "POST", "/sign-in", url.Values{"email": {was}, "passphrase": {words}})

	b.must(http.StatusSeeOther, "POST", "/account/passphrase", url.Values{"present": {words}, "next": {words + " again"}})
	if text := next(t, taken, moved)[moved]; !strings.Contains(text, "passphrase of your account was changed") {
		t.Errorf("told %q", text)
	}

	other.must(http.StatusOK, "GET", stop[1], nil)
	to := other.must(http.StatusSeeOther, "POST", stop[1], nil).Header().Get("Location")
	if text := next(t, taken, was)[was]; !strings.Contains(text, "was stopped") {
		t.Errorf("told %q", text)
	}
	b.must(http.StatusSeeOther, "GET", "/account", nil) // signed out
	other.must(http.StatusSeeOther, "POST", to, url.Values{"passphrase": {words + " anew"}})
	other.must(http.StatusOK, "GET", "/account", nil)
}

// A browser gets a new id at each sign-in, and the one of before opens nothing.
func TestSessionIDIsNewAtSignIn(t *testing.T) {
	addresses := testkit.Fill(t)
	house, err := New(t.Context(), Config{DatabaseURL: addresses.App, BaseURL: "https://studio.example", StudioName: "Sample", TimeZone: "UTC", Insecure: true}, slog.New(slog.DiscardHandler), testkit.SampleNow)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(house.Close)
	const words = "nine copper kettles sing"
	setPassphrase(t, house, addresses.Owner, words)
	signIn := url.Values{"email": {"parentmail-a@sample.example"}, "passphrase": {words}}
	b := &browser{T: t, house: house, cookie: &http.Cookie{Name: "rungbook", Value: "an-id-that-somebody-planted"}}
	b.must(http.StatusSeeOther, "POST", "/sign-in", signIn)
	first := b.cookie
	b.must(http.StatusSeeOther, "POST", "/sign-in", signIn)
	second := b.cookie
	if first.Value == "an-id-that-somebody-planted" || first.Value == second.Value || len(first.Value) != 43 {
		t.Errorf("ids %q, %q", first.Value, second.Value)
	}
	if first.MaxAge != 14*24*3600 || !first.HttpOnly || first.SameSite != http.SameSiteLaxMode {
		t.Errorf("cookie %+v", first)
	}
	for _, id := range []string{"an-id-that-somebody-planted", first.Value} {
		stale := &browser{T: t, house: house, cookie: &http.Cookie{Name: "rungbook", Value: id}}
		stale.must(http.StatusSeeOther, "GET", "/account", nil)
	}
	b.must(http.StatusOK, "GET", "/account", nil)
}

func setPassphrase(t *testing.T, house *House, ownerURL, words string) {
	t.Helper()
	owner, err := pgx.Connect(t.Context(), ownerURL)
	if err != nil {
		t.Fatal(err)
	}
	defer owner.Close(context.Background())
	link, err := house.App.RescueOwner(t.Context(), "ownmail@sample.example") // the one way to a passphrase that needs none
	if err != nil {
		t.Fatal(err)
	}
	at := link.URL[strings.LastIndex(link.URL, "/")+1:]
	if _, err := house.App.JoinBy(t.Context(), at, words); err != nil {
		t.Fatal(err)
	}
	if _, err := owner.Exec(t.Context(), `update account_secret set password_hash = (select password_hash from account_secret s join account a on a.id = s.account_id where a.email = 'ownmail@sample.example')`); err != nil {
		t.Fatal(err)
	}
}

// Where the studio asks for a code or a passkey, whoever has neither reaches the page to set one up, signing out, and nothing else.
func TestUnguardedReachNothingElse(t *testing.T) {
	addresses := testkit.Fill(t)
	key := base64.StdEncoding.EncodeToString(bytes.Repeat([]byte{7}, 32))
	config := Config{DatabaseURL: addresses.App, BaseURL: "https://studio.example", StudioName: "Sample", TimeZone: "UTC", Insecure: true, SecretKey: key}
	house, err := New(t.Context(), config, slog.New(slog.DiscardHandler), testkit.SampleNow)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(house.Close)
	const words = "nine copper kettles sing"
	setPassphrase(t, house, addresses.Owner, words)
	owner, err := pgx.Connect(t.Context(), addresses.Owner)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { owner.Close(context.Background()) })
	if _, err := owner.Exec(t.Context(), `set session_replication_role = replica; insert into studio_settings (chosen, changed_at) values ('{"guarded": true}', now())
		on conflict (one) do update set chosen = studio_settings.chosen || excluded.chosen`); err != nil {
		t.Fatal(err)
	}
	b := &browser{T: t, house: house}
	b.must(http.StatusSeeOther, "POST", "/sign-in", url.Values{"email": {"teachmail-a@sample.example"}, "passphrase": {words}})
	for _, path := range []string{"/", "/account", "/children", "/ladders", "/classes/" + testkit.SampleID("c0a0").String(), "/reports", "/studio/people", "/home"} {
		if to := b.must(http.StatusSeeOther, "GET", path, nil).Header().Get("Location"); to != "/account/guard" {
			t.Errorf("%s leads to %s", path, to)
		}
	}
	for _, path := range []string{"/account/passphrase", "/account/email", "/account/codes/end", "/ladders/add", "/children/" + testkit.SampleID("c1a1").String() + "/marks"} {
		if to := b.must(http.StatusSeeOther, "POST", path, url.Values{"email": {"x@sample.example"}, "email-present": {words}}).Header().Get("Location"); to != "/account/guard" {
			t.Errorf("%s leads to %s", path, to)
		}
	}
	b.must(http.StatusUnauthorized, "POST", "/sheet/items", nil) // a device keeps what it has
	page := b.must(http.StatusOK, "GET", "/account/guard", nil).Body.String()
	for _, name := range []string{`href="/children"`, `href="/account"`, "Aliquot"} {
		if strings.Contains(page, name) {
			t.Errorf("the page holds %s", name)
		}
	}
	if !strings.Contains(page, `action="/sign-out"`) || !strings.Contains(page, `action="/account/passkeys"`) {
		t.Error("the page lacks a way out, or a passkey")
	}
	if page := b.must(http.StatusUnprocessableEntity, "POST", "/account/codes", url.Values{"codes-present": {"wrong"}}).Body.String(); !strings.Contains(page, "One more step") {
		t.Error("a refusal leads elsewhere")
	}
	b.must(http.StatusSeeOther, "POST", "/account/codes", url.Values{"codes-present": {words}})
	b.must(http.StatusOK, "GET", "/account/codes", nil)
	b.must(http.StatusSeeOther, "POST", "/sign-out", nil)
}

// A key that cannot be read is refused at the start, and never repeated in a log.
func TestKeyOfTheConfiguration(t *testing.T) {
	good := base64.StdEncoding.EncodeToString(bytes.Repeat([]byte{1}, 32))
	for name, c := range map[string]Config{"short": {SecretKey: "c2hvcnQ="}, "no base64": {SecretKey: "?"}, "an old one only": {KeysBefore: []string{good}}, "a bad old one": {SecretKey: good, KeysBefore: []string{"x"}}} {
		if _, err := sealer(c); err == nil || !strings.Contains(err.Error(), "RUNGBOOK_SECRET_KEY") || c.SecretKey != "" && len(c.SecretKey) > 20 && strings.Contains(err.Error(), c.SecretKey) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if s, err := sealer(Config{}); s != nil || err != nil {
		t.Errorf("none: %v, %v", s, err)
	}
	if s, err := sealer(Config{SecretKey: good, KeysBefore: []string{good}}); s == nil || err != nil {
		t.Error(err)
	}
}

// A setting that is named and left empty, as docker compose writes it, is none.
func TestEmptyKeysAreNone(t *testing.T) {
	t.Setenv("RUNGBOOK_SECRET_KEY", "")
	t.Setenv("RUNGBOOK_SECRET_KEYS_BEFORE", "")
	config, err := ReadConfig()
	if err != nil {
		t.Fatal(err)
	}
	if s, err := sealer(config); s != nil || err != nil {
		t.Errorf("%v, %v", s, err)
	}
}

func TestDemoKeepsItsKey(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	first, err := keepKey(dir)
	if err != nil {
		t.Fatal(err)
	}
	again, err := keepKey(dir)
	if err != nil || again != first {
		t.Errorf("the key changed: %v", err)
	}
	if _, err := sealer(Config{SecretKey: first}); err != nil {
		t.Error(err)
	}
	info, err := os.Stat(filepath.Join(dir, keyFile))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("others may read the key: %v, %v", info, err)
	}
}
