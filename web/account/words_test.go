package account_test

import (
	"context"
	"crypto/sha256"
	"encoding/base32"
	"encoding/base64"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
	"rungbook/internal/words"
	"rungbook/web/sitetest"
)

const phrase = "gravel teapot seven owls"

// sampleNames are data of the sample studio that no language changes: the studio, people, a child, addresses, keys, kinds of browsers.
var sampleNames = []string{"Rungbook", "Sample", "Petra Alder", "Tove Arkle", "Orla Quist", "Pia Cedar", "Aliquot", "Alderleak", "Mireille Roux", "Una Alder", "Piet Birch", "Bolide", "Birchleak", "calledleak-08", "keynameleak-06",
	"keynameleak-07", "browserleak-06", "browserleak-07", "invitemail-a@sample.example",
	"parentmail-a@sample.example", "parentmail-b@sample.example", "teachmail-a@sample.example", "fourth@sample.example", "moved@sample.example"}

// spoken is the sample studio in the pseudo-language, which is common practice, no source, with a mail server that keeps what is sent.
type spoken struct {
	sitetest.Site
	book *words.Book
	one  *sync.Mutex
	sent *[]app.Letter
}

func inPseudo(t *testing.T, mail bool) spoken {
	all := sitetest.Pseudo(t)
	s := spoken{book: all.Match(sitetest.PseudoTag, ""), one: &sync.Mutex{}, sent: &[]app.Letter{}}
	passkeys, err := auth.NewPasskeys("https://studio.example", "Sample")
	if err != nil {
		t.Fatal(err)
	}
	s.Site = sitetest.OpenIn(t, all, func(settings *app.Settings) {
		settings.Passkeys = passkeys
		if mail {
			settings.Send = s.keep
		}
	})
	s.Language = sitetest.PseudoTag
	return s
}

func (s spoken) keep(_ context.Context, l app.Letter) error {
	s.one.Lock()
	defer s.one.Unlock()
	*s.sent = append(*s.sent, l)
	return nil
}

// letters are those that were sent since it was last asked, each of them in the catalogue.
func (s spoken) letters() []app.Letter {
	s.Helper()
	s.Use.Finish()
	sent := slices.Clone(*s.sent)
	*s.sent = nil
	for _, l := range sent {
		body, err := goquery.NewDocumentFromReader(strings.NewReader("<p>" + l.Subject + "</p><p>" + l.Text + "</p>"))
		if err != nil {
			s.Fatal(err)
		}
		for _, said := range sitetest.Unspoken(body, sampleNames...) {
			s.Errorf("a letter to %s says outside the catalogue: %s", l.To, said)
		}
	}
	return sent
}

var inLetter = regexp.MustCompile(`http://sample\.example(/[\w/-]+)`)

// link is the path of the one link to an address among letters.
func (s spoken) link(letters []app.Letter, to, begin string) string {
	s.Helper()
	for _, l := range letters {
		if path := inLetter.FindStringSubmatch(l.Text); l.To == to && path != nil && strings.HasPrefix(path[1], begin) {
			return path[1]
		}
	}
	s.Fatalf("no letter to %s leads to %s", to, begin)
	return ""
}

// check finds what a page says outside the catalogue.
func (s spoken) check(name string, p sitetest.Page, status int) sitetest.Page {
	s.Helper()
	s.Must(p, status)
	if got := p.Find("html").AttrOr("lang", ""); got != sitetest.PseudoTag {
		s.Errorf("%s: the page is in %q", name, got)
	}
	for _, said := range sitetest.Unspoken(p.Document, sampleNames...) {
		s.Errorf("%s says outside the catalogue: %s", name, said)
	}
	return p
}

// does sends a form that works, and checks the page that tells of it.
func (s spoken) does(who, path string, form url.Values) {
	s.Helper()
	to := s.Must(s.Post(who, path, form), 303).To
	to, _, _ = strings.Cut(to, "#")
	s.check("after "+path, s.Get(who, to), 200)
}

// enter gives the cookie of who a session of an account, or one of nobody that holds a value.
func (s spoken) enter(who string, account *uuid.UUID, data string) {
	s.Helper()
	hash := sha256.Sum256([]byte("sample-session-" + who))
	if err := s.Use.KeepSession(words.With(s.Context(), s.book), hash[:], app.KeptSession{Account: account, Browser: "browserleak-06", Data: []byte(data), New: true}); err != nil {
		s.Fatal(err)
	}
}

// knows makes phrase the passphrase of an account, by a letter and the page that it leads to, and signs its cookie in again.
func (s spoken) knows(who, email string) {
	s.Helper()
	s.Must(s.Post(who, "/account/language", url.Values{"language": {sitetest.PseudoTag}}), 303)
	s.check("asked for a link", s.Post(nobody, "/forgotten", url.Values{"email": {email}}), 200)
	at := s.link(s.letters(), email, "/join/")
	s.check("a link for a new passphrase", s.Get(nobody, at), 200)
	for _, weak := range []string{"short", strings.Repeat("owl gravel ", 40), email, "aaaaaaaaaaaaaaaaaaaa", "abcdefghijklmnopq", "correct horse battery staple"} {
		s.check("a weak passphrase", s.Post(nobody, at, url.Values{"passphrase": {weak}}), 422)
	}
	s.Must(s.Post(nobody, at, url.Values{"passphrase": {phrase}}), 303)
	s.check("a used link", s.Get(nobody, at), 404)
	id := testkit.SampleID(who)
	s.enter(who, &id, "{}")
	s.letters()
}

func TestEveryWordAtTheDoorIsInTheCatalogue(t *testing.T) {
	t.Parallel()
	for name, mail := range map[string]bool{"without mail": false, "with mail": true} {
		t.Run(name, func(t *testing.T) { atTheDoor(inPseudo(t, mail)) })
	}
}

func atTheDoor(s spoken) {
	s.check("sign-in", s.Get(nobody, "/sign-in"), 200)
	s.check("a wrong passphrase", s.Post(nobody, "/sign-in", url.Values{"email": {"nobody"}, "passphrase": {"x"}}), 422)
	s.check("a wrong passkey", s.Post(nobody, "/sign-in/passkey", url.Values{"answer": {"{}"}}), 422)
	s.check("forgotten", s.Get(nobody, "/forgotten"), 200)
	for _, path := range []string{"/join/nonsense", "/address/confirm/nonsense", "/address/stop/nonsense"} {
		s.check(path, s.Get(nobody, path), 404)
	}
	for s.Post(nobody, "/sign-in", url.Values{"email": {"nobody"}, "passphrase": {"x"}}).Status == 422 {
	}
	s.check("too many tries for one account", s.Post(nobody, "/sign-in", url.Values{"email": {"nobody"}, "passphrase": {"x"}}), 429)
	for range 30 {
		s.Post(nobody, "/sign-in", nil)
	}
	s.check("too many tries from one address", s.Post(nobody, "/sign-in", nil), 429)
}

func TestEveryWordOfAnAccountIsInTheCatalogue(t *testing.T) {
	t.Parallel()
	s := inPseudo(t, true)
	s.knows(parentA, "parentmail-a@sample.example")
	s.check("the account", s.Get(parentA, "/account"), 200)
	s.check("a wrong passphrase", s.Post(parentA, "/account/passphrase", url.Values{"present": {"x"}, "next": {phrase}}), 422)
	s.check("a weak passphrase", s.Post(parentA, "/account/passphrase", url.Values{"present": {phrase}, "next": {"short"}}), 422)
	s.check("a wrong language", s.Post(parentA, "/account/language", url.Values{"language": {"xx"}}), 422)
	s.check("a wrong passkey", s.Post(parentA, "/account/passkeys", url.Values{"answer": {"{}"}}), 422)
	s.check("a long name", s.Post(parentA, "/account/passkeys", url.Values{"name": {strings.Repeat("1", 61)}}), 422)
	key := "/account/passkeys/" + testkit.SampleID("ae06").String()
	s.check("no name", s.Post(parentA, key+"/name", nil), 422)
	s.does(parentA, key+"/name", url.Values{"name": {"7"}})
	s.does(parentA, key+"/remove", nil)
	other := "other"
	id := testkit.SampleID(parentA)
	s.enter(other, &id, "{}")
	s.does(parentA, "/account/sessions/end-others", nil)
	s.letters()

	for _, wrong := range []string{"nowhere", "parentmail-a@sample.example", "moved@sample.example"} {
		s.check("a wrong address", s.Post(parentA, "/account/email", url.Values{"email": {wrong}, "email-present": {"x"}}), 422)
	}
	s.does(parentA, "/account/email", url.Values{"email": {"moved@sample.example"}, "email-present": {phrase}})
	sent := s.letters()
	confirm, stop := s.link(sent, "moved@sample.example", "/address/confirm/"), s.link(sent, "parentmail-a@sample.example", "/address/stop/")
	s.check("a change to confirm", s.Get(nobody, confirm), 200)
	s.check("a change to stop", s.Get(nobody, stop), 200)
	s.does(parentA, confirm, nil)
	s.check("a change to take back", s.Get(nobody, stop), 200)
	s.check("a change too many", s.Post(parentA, "/account/email", url.Values{"email": {"fourth@sample.example"}, "email-present": {phrase}}), 422)
	s.Must(s.Post(nobody, stop, nil), 303)
	s.letters()
}

func TestEveryWordAboutGuardiansIsInTheCatalogue(t *testing.T) {
	t.Parallel()
	s := inPseudo(t, true)
	at := "/account/children/" + testkit.SampleID("c1a1").String()
	s.check("guardians", s.Get(parentA, at), 200)
	s.check("a wrong invitation", s.Post(parentA, at, url.Values{"email": {"nowhere"}}), 422)
	s.check("an invitation to oneself", s.Post(parentA, at, url.Values{"name": {"7"}, "email": {"parentmail-a@sample.example"}}), 422)
	s.Must(s.Post(parentB, "/account/language", url.Values{"language": {sitetest.PseudoTag}}), 303)
	invite := func(name, email string) string {
		page := s.Must(s.Post(parentA, at, url.Values{"name": {name}, "email": {email}, "rights": {"hurt"}}), 200)
		page.Find("textarea").Remove() // the link itself
		s.check("an invitation", page, 200)
		for _, l := range *s.sent {
			if path := inLetter.FindStringSubmatch(l.Text); path != nil {
				*s.sent = nil
				return path[1]
			}
		}
		t.Fatal("no letter has a link")
		return ""
	}
	link := invite("Mireille Roux", "fourth@sample.example") // of whose language nothing is known: the letter is in the studio's
	s.check("an open link", s.Get(parentA, at), 200)
	s.check("a new guardian", s.Get(nobody, link), 200)
	link = invite("Mireille Roux", "parentmail-b@sample.example")
	s.check("a guardian with an account", s.Get(nobody, link), 200)
	s.check("a link for another", s.Post(parentA, link, nil), 409)
	s.check("one's own link", s.Get(parentB, link), 200)
	s.does(parentB, link, nil)
	guardian := at + "/guardians/" + testkit.SampleID(parentB).String()
	s.check("a guardian", s.Get(parentA, at), 200)
	s.does(parentA, guardian+"/rights", nil)
	s.does(parentA, guardian+"/remove", nil)
	s.check("what happened", s.Get(parentB, "/account"), 200)
}

func TestEveryWordAboutCodesIsInTheCatalogue(t *testing.T) {
	t.Parallel()
	s := inPseudo(t, true)
	s.knows(teacher, "teachmail-a@sample.example")
	owner, err := s.Use.RescueOwner(t.Context(), "ownmail@sample.example") // its letter is in the studio's language: nothing was chosen
	if err != nil {
		t.Fatal(err)
	}
	s.check("the owner's link", s.Get(nobody, strings.TrimPrefix(owner.URL, "http://sample.example")), 200)
	s.Use.Finish()
	*s.sent = nil
	if err := s.Use.ChangeSettings(t.Context(), studio.ProgramActor(), func(c *studio.Settings) { c.Guarded = true }); err != nil {
		t.Fatal(err)
	}
	s.check("a code is asked for", s.Get(teacher, "/account/guard"), 200)
	s.check("a wrong passphrase", s.Post(teacher, "/account/codes", url.Values{"codes-present": {"x"}}), 422)
	s.Must(s.Post(teacher, "/account/codes", url.Values{"codes-present": {phrase}}), 303)
	page := s.Get(teacher, "/account/codes")
	secret, err := base32.StdEncoding.WithPadding(base32.NoPadding).DecodeString(strings.ReplaceAll(page.Find("main code").Text(), " ", ""))
	if err != nil {
		t.Fatal(err)
	}
	page.Find("main code").Remove()
	s.check("a secret", page, 200)
	page = s.Post(teacher, "/account/codes/confirm", url.Values{"code": {"000"}})
	page.Find("main code").Remove()
	s.check("a wrong code", page, 422)
	page = s.Must(s.Post(teacher, "/account/codes/confirm", url.Values{"code": {auth.CodeAt(secret, testkit.SampleNow())}}), 200)
	page.Find("ol code").Remove() // the codes themselves
	s.check("recovery codes", page, 200)
	s.letters()
	s.check("with a code", s.Get(teacher, "/account"), 200)
	s.check("the last guard", s.Post(teacher, "/account/codes/end", url.Values{"codes-present": {phrase}}), 409)
	pending, err := s.Use.NeedsCode(t.Context(), testkit.SampleID(teacher))
	if err != nil {
		t.Fatal(err)
	}
	s.enter("pending", nil, `{"pending": "`+pending+`"}`)
	s.check("a code at sign-in", s.Get("pending", "/sign-in/code"), 200)
	s.check("a wrong code at sign-in", s.Post("pending", "/sign-in/code", url.Values{"code": {"000"}}), 422)
}

func TestLettersAreInTheLanguageOfTheirReader(t *testing.T) {
	t.Parallel()
	s := inPseudo(t, true)
	child := testkit.SampleID("c1a1")
	for _, who := range []string{parentA, teacher} {
		s.Must(s.Post(who, "/account/language", url.Values{"language": {sitetest.PseudoTag}}), 303)
	}
	s.Must(s.Post(parentA, "/home/"+child.String()+"/consents/letters", url.Values{"answer": {"yes"}}), 303)
	s.Must(s.Post(parentA, "/home/"+child.String()+"/hurt", url.Values{"place": {"Back"}, "how-much": {"3"}, "since": {"2026-03-03"}}), 303)
	if sent := s.letters(); len(sent) != 1 || sent[0].To != "teachmail-a@sample.example" {
		t.Errorf("the teacher is not told: %+v", sent)
	}
	who := studio.Actor{ID: testkit.SampleID(teacher), Name: "Tove Arkle", Roles: []studio.Role{studio.TeacherRole}}
	if err := s.Use.WriteFamilies(words.With(t.Context(), s.book), who, app.To{Child: child}, "Words"); err != nil {
		t.Fatal(err)
	}
	if sent := s.letters(); len(sent) != 1 || sent[0].To != "parentmail-a@sample.example" {
		t.Errorf("the family is not told: %+v", sent)
	}
}

// Of the studio's language where nothing else is known, as in the letter to somebody who is invited.
func TestAnInvitationIsInTheStudiosLanguage(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	owner := studio.Actor{ID: testkit.SampleID("ac01"), Name: "Orla Quist", Roles: []studio.Role{studio.OwnerRole}}
	invite := func() app.Link {
		link, err := s.Use.Invite(t.Context(), owner, studio.Invitation{Email: "fifth@sample.example", Name: "Mireille Roux", ChildIDs: []uuid.UUID{testkit.SampleID("c1a1")}})
		if err != nil {
			t.Fatal(err)
		}
		return link
	}
	if link := invite(); link.Subject != "Your link to Sample" || !strings.Contains(link.Text, "until 11 March 2026, 17:00:\n\nhttp://sample.example/join/") {
		t.Errorf("in English: %q, %q", link.Subject, link.Text)
	}
	if err := s.Use.ChangeSettings(t.Context(), owner, func(c *studio.Settings) { c.Language = "de-AT" }); err != nil {
		t.Fatal(err)
	}
	if link := invite(); link.Subject != "Ihr Link zu Sample" || !strings.Contains(link.Text, "bis 11. März 2026, 17:00 Uhr:\n\nhttp://sample.example/join/") {
		t.Errorf("in German: %q, %q", link.Subject, link.Text)
	}
}

func TestTheDoorSpeaksGerman(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	s.Language = "de-CH,de;q=0.9"
	s.Says(s.Must(s.Get(nobody, "/sign-in"), 200), "main", "Bitten Sie das Studio um einen Link.")
	s.Says(s.Must(s.Post(nobody, "/sign-in", url.Values{"email": {"x"}}), 422), ".notice-error", "E-Mail-Adresse und Passphrase gehören nicht zusammen.")
	s.Says(s.Must(s.Get(nobody, "/address/stop/"+base64.RawURLEncoding.EncodeToString([]byte("stop-of-an-address-32-long---06."))), 200), "h1", "Halten Sie die Änderung Ihrer Adresse auf")
	page := s.Must(s.Get(parentA, "/account"), 200)
	s.Says(page, "#lately li", "Jemand hat sich an Ihrem Konto mit einem Browser angemeldet, der dort neu ist: toldleak-06.")
	s.Says(page, "#browsers", "Seit 4. März 2026, 16:59 Uhr, zuletzt benutzt 4. März 2026, 16:59 Uhr")
	s.Says(page, "#children", "Darf die Seite „Zu Hause“ sehen, Schmerzen melden, Berichte lesen und weitere Sorgeberechtigte einladen.")
}
