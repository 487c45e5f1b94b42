package e2e

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The accounts of the invented studio, by the name in their e-mail address.
const (
	ownerName     = "marit"
	teacherName   = "zoe"
	assistantName = "lucja"
	parentName    = "elspeth.pascoe"
)

// Each role does its evening's work in the real program; then every page that it can reach by links is visited.
func TestJourneys(t *testing.T) {
	axe, browser := readAxe(t), openBrowser(t)
	h, seen := openHouse(t), newJudged()
	tabOf := func(t *testing.T) *tab {
		b := newTab(t, browser, h.url, axe)
		b.judged = seen
		return b
	}
	visit := func(name string, journey func(*tab)) func(*testing.T) {
		return func(t *testing.T) {
			t.Parallel()
			b := tabOf(t)
			b.signIn(h.as(t, name))
			journey(b)
			t.Run("crawl", func(t *testing.T) { crawl(t, b) })
		}
	}
	// The teacher changes the plan that the assistant reads, so it comes later.
	t.Run("readers", func(t *testing.T) {
		t.Run("signed out", func(t *testing.T) {
			t.Parallel()
			signedOut(tabOf(t))
		})
		t.Run("assistant", visit(assistantName, assistantJourney))
		t.Run("passkey", func(t *testing.T) {
			t.Parallel()
			passkeyJourney(tabOf(t), h.as(t, passkeyName))
		})
		t.Run("parent", visit(parentName, func(b *tab) { parentJourney(b, h) }))
	})
	t.Run("writers", func(t *testing.T) {
		t.Run("owner", visit(ownerName, func(b *tab) { ownerJourney(b, tabOf(b.T)) }))
		t.Run("teacher", visit(teacherName, teacherJourney))
	})
	t.Run("guard", func(t *testing.T) {
		b := tabOf(t)
		b.signIn(h.as(t, ownerName))
		guardJourney(b, tabOf(t), h.as(t, ownerName), h.as(t, teacherName))
	})
	if only := flag.Lookup("test.run").Value.String(); !strings.Contains(only, "/") { // a part alone judges a part
		seen.hold(t)
	}
}

func (h *house) as(t *testing.T, name string) signIn {
	t.Helper()
	s, ok := h.words[name]
	if !ok {
		t.Fatalf("the program announced no sign-in for %s, only %v", name, h.words)
	}
	return s
}

func signedOut(b *tab) {
	b.open("/children") // sends to sign in, and back
	b.heading("Sign in")
	b.look("sign-in")
	b.fill("E-mail", "nobody@tidebell.example")
	b.fill("Passphrase", "surely not this one")
	b.refuses(func() {
		b.press("button", "Sign in")
		b.see("do not belong together")
	})
	b.look("sign-in-refused")
	b.open("/forgotten")
	b.look("forgotten")
}

// ownerJourney looks after the studio: reads a roster in, after a look at what it would do, and takes the term report away.
func ownerJourney(b, newcomer *tab) {
	b.press("link", "Studio")
	b.heading("Studio")
	b.look("owner-studio")
	b.press("link", "Import a roster")
	b.heading("Import a roster")
	roster := filepath.Join(b.TempDir(), "roster.csv")
	rows := "ref,given_name,family_name,birth_date,class,guardian_name,guardian_email\n" +
		"T-900,Isolde,Varrow,2018-02-11,Sandpipers,Magnus Varrow,magnus.varrow@post.example\n"
	if err := os.WriteFile(roster, []byte(rows+"T-901,,Varrow,2018-13-11,Nowhere,,\n"), 0o600); err != nil {
		b.Fatal(err)
	}
	b.fill("File", roster)
	b.refuses(func() {
		b.press("button", "Check the file")
		b.see("Nothing was imported")
	})
	b.look("owner-roster-problems")
	if err := os.WriteFile(roster, []byte(rows), 0o600); err != nil {
		b.Fatal(err)
	}
	b.press("link", "Another file")
	b.waitFor("an empty form", "document.querySelector('input[type=file]')")
	b.fill("File", roster)
	b.press("button", "Check the file")
	b.see("Nothing is changed yet")
	b.look("owner-roster-checked")
	b.press("button", "Import it now")
	b.heading("People")
	b.open("/studio/children")
	b.see("Varrow")
	for _, page := range []string{"/studio/people", "/studio/staff", "/studio/terms", "/studio/classes", "/studio/sign-offs", "/studio/equipment", "/studio/trail"} {
		b.open(page)
		b.look("owner" + strings.ReplaceAll(page, "/", "-"))
	}
	ownerInvites(b, newcomer)
	b.open("/reports/all")
	b.press("button", "Make all reports")
	b.waitFor("the page of the file", "location.pathname.length > '/reports/all/'.length")
	b.look("owner-bundle")
	b.press("link", "Reports")
	b.heading("Reports")
	b.look("owner-reports")
	b.press("link", "Terns")
	b.heading("Term report of Terns")
	b.look("owner-report")
	if kind, start := b.downloads("CSV"); !strings.HasPrefix(kind, "text/csv") || !strings.Contains(start, ",") {
		b.Errorf("the table is %s: %q", kind, start)
	}
	if kind, start := b.downloads("PDF for parents"); kind != "application/pdf" || !strings.HasPrefix(start, "%PDF-") {
		b.Errorf("the report is %s: %q", kind, start)
	}
}

// teacherJourney prepares tonight: a plan, one child away, a plan again, one child moved by hand, shared, printed.
func teacherJourney(b *tab) {
	b.heading("Today")
	b.look("teacher-today")
	b.press("link", "Classes")
	b.heading("Classes")
	b.press("link", "Terns")
	b.heading("Terns")
	b.look("teacher-class")
	termJourney(b)
	b.press("link", "Today")
	b.heading("Today")
	b.press("link", "Open the lesson")
	b.heading("Terns")
	lesson := b.where()
	b.press("button", "Propose")
	b.see("Here is a plan for who is here")
	b.look("teacher-plan")
	b.skips()
	b.noTrap()

	b.press("button", "14 of 14 children")
	b.fill("Amara Okonjo", "away")
	b.press("button", "Save who is here")
	b.see("It is noted who is here")
	b.press("button", "Propose again")
	b.see("Here is a plan for who is here")
	b.see("13 of 14 children")
	if on := js[string](b, "document.querySelector('#plan .board').innerText"); strings.Contains(on, "Amara O.") {
		b.Error("the plan has the child who is away")
	}

	b.press("link", "Change group 1 in rotation 1")
	b.see("Change rotation 1, group 1")
	b.look("teacher-plan-change")
	b.press("button", "Pin to this group", "Group, for the whole lesson")
	b.see("Pinned: it stays")
	b.fill("Group, for the whole lesson", "2")
	b.press("button", "Move")
	b.see("Moved to group 2")
	b.drag("[data-group='1'] [data-child]", "[data-group='2']")
	b.press("link", "Compare with the plan before")
	b.heading("Two plans side by side")
	b.see("changed: ")
	b.look("teacher-compare")
	b.press("link", "Back to the plan")
	b.heading("Terns")
	b.press("button", "Save for the assistants")
	b.see("The plan is saved")
	b.open(lesson + "/print")
	b.look("teacher-print")
	b.open(lesson + "/blocks")
	b.look("teacher-blocks")
	b.press("link", "Children")
	b.heading("Children")
	b.press("link", "Elowen Pascoe")
	b.heading("Elowen")
	b.look("teacher-child")
	b.press("link", "Ladders")
	b.heading("Ladders")
	b.look("teacher-ladders")
	b.refused("/studio")
	b.refused("/studio/people")
}

// assistantJourney reads the own stations of tonight, and meets nothing else.
func assistantJourney(b *tab) {
	b.heading("Today")
	b.look("assistant-today")
	b.press("link", "Open your stations")
	b.see("You run this station")
	b.look("assistant-tonight")
	b.skips()
	if words := js[string](b, "document.body.innerText"); strings.Contains(words, "Pascoe") || strings.Contains(words, "Okonjo") {
		b.Error("an assistant reads a family name")
	}
	lesson := strings.TrimPrefix(b.where(), "/tonight/")
	for _, path := range []string{"/children", "/classes", "/reports", "/studio", "/studio/sign-offs", "/home", "/lessons/" + lesson, "/lessons/" + lesson + "/print"} {
		b.refused(path)
	}
	b.look("assistant-refused")
}

// parentJourney reads what to do at home and where the own child stands, and cannot find another.
func parentJourney(b *tab, h *house) {
	b.heading("Home")
	b.look("parent-home")
	b.press("link", "Open Elowen")
	b.heading("Elowen")
	b.see("Nothing upside down")
	b.look("parent-child")
	own := b.where()
	b.press("link", "Cartwheel")
	b.see("From a lunge")
	b.look("parent-ladder")
	b.open(own)
	b.press("link", "It hurt")
	b.waitFor("the form", "document.querySelector('form [name=place]')")
	b.look("parent-hurt")
	familyWeight(b.T, h, own)
	familyPhone(b, own)
	familyKeys(b)
	familyGerman(b, own)
	other := h.child(b.T, "Amara Okonjo")
	for _, path := range []string{"/home/" + other, "/home/" + other + "/hurt", "/children/" + other, "/children", "/classes", "/ladders", "/reports", "/studio"} {
		b.refused(path)
	}
}
