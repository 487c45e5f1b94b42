package boot

import (
	"io"
	"log/slog"
	"mime/quotedprintable"
	"net/http"
	"net/http/httptest"
	"net/mail"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"rungbook/internal/testkit"
)

var joinPath = regexp.MustCompile(`https://studio\.example(/join/[A-Za-z0-9_-]+)`)

// From the sign-in page through a mail server to a new passphrase: the whole program, and the answer is the same for nobody.
func TestForgottenPassphraseByMail(t *testing.T) {
	port, taken := relay(t)
	config := Config{DatabaseURL: testkit.Fill(t).App, BaseURL: "https://studio.example", StudioName: "Sample", TimeZone: "UTC", Insecure: true,
		SMTP: SMTP{Host: "127.0.0.1", Port: port, From: "Sample studio <office@studio.example>", Plain: true}}
	house, err := New(t.Context(), config, slog.New(slog.DiscardHandler), testkit.SampleNow)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(house.Close)
	post := func(path string, form url.Values) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		house.Site.ServeHTTP(w, r)
		return w
	}
	const nobody, somebody = "no-one-at-all@sample.example", "parentmail-a@sample.example"
	none := post("/forgotten", url.Values{"email": {nobody}})
	one := post("/forgotten", url.Values{"email": {somebody}})
	if none.Code != http.StatusOK || one.Code != none.Code || strings.ReplaceAll(none.Body.String(), nobody, "") != strings.ReplaceAll(one.Body.String(), somebody, "") {
		t.Errorf("the answers differ: %d, %d", none.Code, one.Code)
	}
	message, err := mail.ReadMessage(strings.NewReader(<-taken)) // RFC 5322 as net/mail reads it
	if err != nil {
		t.Fatal(err)
	}
	if to := message.Header.Get("To"); !strings.Contains(to, somebody) {
		t.Errorf("to %s", to)
	}
	text, err := io.ReadAll(quotedprintable.NewReader(message.Body)) // RFC 2045
	link := joinPath.FindSubmatch(text)
	if err != nil || link == nil {
		t.Fatalf("no link in %q, %v", text, err)
	}
	const words = "seven herons over wet sand"
	if w := post(string(link[1]), url.Values{"passphrase": {words}}); w.Code != http.StatusSeeOther {
		t.Fatalf("the link answers %d", w.Code)
	}
	if w := post("/sign-in", url.Values{"email": {somebody}, "passphrase": {words}}); w.Code != http.StatusSeeOther {
		t.Errorf("signing in answers %d", w.Code)
	}
	if w := post(string(link[1]), url.Values{"passphrase": {words}}); w.Code != http.StatusNotFound {
		t.Errorf("the link works twice: %d", w.Code)
	}
}
