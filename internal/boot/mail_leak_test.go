package boot

import (
	"bytes"
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
	"rungbook/internal/testkit"
)

// told are texts that no letter may hold: of the sample's children, and what families and teachers write below.
var told = testkit.NewEar([]testkit.Canary{{Text: "Aliquot"}, {Text: "Alderleak"}, {Text: "Azimuth"}, {Text: "Amberclass"}, {Text: "2015-05-17"}, {Text: "17 May 2015"},
	{Text: "Wrist or hand"}, {Text: "doingtyped"}, {Text: "messagetyped"}, {Text: "parentmail-a@"}, {Text: "teachmail-a@"}})

// posting is the whole program over the sample studio with a mail server, and a log to read.
func posting(t *testing.T, port int) (post func(account, path string, form url.Values) int, log *bytes.Buffer, house *House) {
	t.Helper()
	db := testkit.Fill(t)
	conn, err := pgx.Connect(t.Context(), db.Owner)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	if _, err := conn.Exec(t.Context(), `insert into consent_answer (child_id, account_id, purpose, version, nth, given, answered_at)
		select child_id, account_id, 'letters', 1, 1, true, '2026-03-01' from guardian where account_id = $1 and child_id = $2`, testkit.SampleID("ac06"), testkit.SampleID("c1a1")); err != nil {
		t.Fatal(err)
	}
	log = &bytes.Buffer{}
	config := Config{DatabaseURL: db.App, BaseURL: "http://localhost:8080", StudioName: "Sample", TimeZone: "UTC", Insecure: true,
		SMTP: SMTP{Host: "127.0.0.1", Port: port, From: "Sample studio <office@studio.example>", Plain: true}}
	if house, err = New(t.Context(), config, slog.New(slog.NewTextHandler(log, nil)), testkit.SampleNow); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(house.Close)
	return func(account, path string, form url.Values) int {
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + account})
		w := httptest.NewRecorder()
		house.Site.ServeHTTP(w, r)
		return w.Code
	}, log, house
}

// reportAndWrite: a family reports that something hurts, and a teacher writes to the family; each sends a letter.
func reportAndWrite(t *testing.T, post func(account, path string, form url.Values) int) {
	t.Helper()
	child := testkit.SampleID("c1a1").String()
	hurt := url.Values{"place": {"Wrist or hand"}, "how-much": {"3"}, "doing": {"doingtyped"}, "since": {"2026-03-03"}}
	if code := post("ac06", "/home/"+child+"/hurt", hurt); code != http.StatusSeeOther {
		t.Errorf("a report answers %d", code)
	}
	if code := post("ac02", "/children/"+child+"/messages", url.Values{"note": {"messagetyped"}}); code != http.StatusSeeOther {
		t.Errorf("a message answers %d", code)
	}
}

// What goes over the wire about a child says nothing of it: neither the subject, another header nor the text, decoded.
func TestLettersAboutAChildTellNothing(t *testing.T) {
	port, taken := relay(t)
	post, log, house := posting(t, port)
	reportAndWrite(t, post)
	house.App.Finish()
	for _, to := range []string{"parentmail-a@", "teachmail-a@"} {
		message := arrives(t, taken)
		heard, n := told.Listen(message)
		for _, h := range heard {
			if !slices.Contains([]string{"parentmail-a@", "teachmail-a@"}, h.Text) || h.From != "" && !strings.Contains(h.From, "header To") {
				t.Errorf("a letter tells %q (%s)", h.Text, h.From)
			}
		}
		if n < 5 || len(heard) != 1 {
			t.Errorf("the letter, one of them to %s, was read in %d ways and names %v", to, n, heard)
		}
	}
	if heard, _ := told.Listen(log.String()); len(heard) > 0 {
		t.Errorf("the log holds %v", heard)
	}
}

// A letter that tells is heard on the wire, where its lines are folded and its letters encoded.
func TestTellingLetterIsHeard(t *testing.T) {
	port, taken := relay(t)
	send, err := mailer(SMTP{Host: "127.0.0.1", Port: port, From: "office@studio.example", Plain: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, letter := range []app.Letter{
		{To: "a@b.example", Subject: "Über Aliquot", Text: "Hello"},
		{To: "a@b.example", Name: "Näme of Aliquot", Subject: "S", Text: "Hello"},
		{To: "a@b.example", Subject: "S", Text: strings.Repeat("é", 20) + " " + strings.Repeat("x", 12) + "Aliquot " + strings.Repeat("y", 80)},
	} {
		if err := send(t.Context(), letter); err != nil {
			t.Fatal(err)
		}
		message := arrives(t, taken)
		if heard, _ := told.Listen(message); len(heard) != 1 || heard[0].Text != "Aliquot" {
			t.Errorf("heard %v in %q", heard, message)
		}
	}
}

// A server that refuses a letter repeats the address it is for; the log does not.
func TestRefusedLetterNamesNobody(t *testing.T) {
	port, _ := relayThat(t, "550 5.1.1 nobody here: %s")
	post, log, house := posting(t, port)
	reportAndWrite(t, post)
	if code := post("ac01", "/studio/people/invite", url.Values{"name": {"Aliquot Comer"}, "email": {"teachmail-a@other.example"}, "roles": {"assistant"}}); code != http.StatusOK {
		t.Errorf("an invitation answers %d", code)
	}
	house.App.Finish()
	if text := log.String(); !strings.Contains(text, "RCPT TO command (550)") {
		t.Errorf("the log does not say why letters were not sent: %s", text)
	}
	if heard, _ := told.Listen(log.String()); len(heard) > 0 {
		t.Errorf("the log holds %v: %s", heard, log.String())
	}
}

// arrives is the next message at the relay.
func arrives(t *testing.T, taken chan string) string {
	t.Helper()
	select {
	case message := <-taken:
		return message
	case <-time.After(20 * time.Second):
		t.Fatal("no letter arrives")
		return ""
	}
}
