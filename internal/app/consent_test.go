package app

import (
	"context"
	"strings"
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestOnlyGuardiansAnswerForTheirChild(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	for name, c := range map[string]struct {
		actor studio.Actor
		child uuid.UUID
	}{
		"parent of another child":   {d.actor(t, "ac07"), own},
		"guardian removed long ago": {d.parent, testkit.SampleID("c1b1")},
		"teacher":                   {d.teacher, own},
		"assistant":                 {d.assistant, own},
		"owner":                     {d.owner, own},
	} {
		wantCode(t, name+" answers", d.AnswerConsent(t.Context(), c.actor, c.child, studio.Photos, true), studio.NotFound)
		_, err := d.ConsentsOf(t.Context(), c.actor, c.child)
		wantCode(t, name+" reads", err, studio.NotFound)
	}
	wantCode(t, "a purpose that is not there", d.AnswerConsent(t.Context(), d.parent, own, "selling", true), studio.NotFound)
	for name, actor := range map[string]studio.Actor{"teacher": d.teacher, "assistant": d.assistant, "parent": d.parent} {
		wantCode(t, name+" changes the words", d.AskConsent(t.Context(), actor, studio.Photos, "May we?"), studio.NotFound)
		_, err := d.StudioConsents(t.Context(), actor)
		wantCode(t, name+" reads all answers", err, studio.NotFound)
	}
}

// answers makes the consent line of a purpose as the parent sees it.
func (d *desk) consent(t *testing.T, p studio.Purpose) ConsentLine {
	t.Helper()
	view, err := d.ConsentsOf(t.Context(), d.parent, testkit.SampleID("c1a1"))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range view.Lines {
		if l.Purpose == p {
			return l
		}
	}
	t.Fatalf("no line for %s", p)
	return ConsentLine{}
}

func TestTheLastAnswerToThePresentWordsCounts(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	if d.consent(t, studio.Photos).Holds {
		t.Error("nobody answered and it counts as yes")
	}
	for _, yes := range []bool{true, false, true} {
		if err := d.AnswerConsent(t.Context(), d.parent, own, studio.Photos, yes); err != nil {
			t.Fatal(err)
		}
		if l := d.consent(t, studio.Photos); l.Holds != yes || l.Mine == nil || *l.Mine != yes {
			t.Errorf("after %v the line is %+v", yes, l)
		}
	}
	if err := d.AskConsent(t.Context(), d.owner, studio.Photos, "Photos, and short films?"); err != nil {
		t.Fatal(err)
	}
	l := d.consent(t, studio.Photos)
	if l.Holds || l.Mine != nil || l.Version != 2 || len(l.History) != 3 || l.History[0].Version != 1 {
		t.Errorf("other words, and the old yes counts, or the ledger is cut: %+v", l)
	}
	_, err := ownerConn(t).Exec(t.Context(), `update consent_answer set given = true`)
	if err == nil || !strings.Contains(err.Error(), "append-only") {
		t.Errorf("the ledger may be rewritten: %v", err)
	}
}

// Of two guardians one no is enough, and one who was removed has no say any more.
func TestTwoGuardiansAndOneNo(t *testing.T) {
	d := openDesk(t)
	own, other := testkit.SampleID("c1a1"), d.actor(t, "ac07")
	if _, err := ownerConn(t).Exec(t.Context(), `insert into guardian (account_id, child_id) values ($1, $2)`, other.ID, own); err != nil {
		t.Fatal(err)
	}
	other = d.actor(t, "ac07")
	for _, a := range []struct {
		who studio.Actor
		yes bool
	}{{d.parent, true}, {other, false}} {
		if err := d.AnswerConsent(t.Context(), a.who, own, studio.Photos, a.yes); err != nil {
			t.Fatal(err)
		}
	}
	if d.consent(t, studio.Photos).Holds {
		t.Error("one guardian says no and the child has consent")
	}
	if _, err := ownerConn(t).Exec(t.Context(), `update guardian set removed_at = now() where (account_id, child_id) = ($1, $2)`, other.ID, own); err != nil {
		t.Fatal(err)
	}
	if !d.consent(t, studio.Photos).Holds {
		t.Error("a guardian who was removed still says no")
	}
}

// What the answer gates: a drill that needs an adult goes home only with it, and is taken back when it is withdrawn.
func TestAdultDrillsNeedConsent(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	if _, err := ownerConn(t).Exec(t.Context(), `update drill set home_adult = true where key in ('d-dish', 'd-press')`); err != nil {
		t.Fatal(err)
	}
	if err := d.AnswerConsent(t.Context(), d.parent, own, studio.AdultDrills, false); err != nil {
		t.Fatal(err)
	}
	out := func() int {
		t.Helper()
		view, err := d.FamilyChildOf(t.Context(), d.parent, own)
		if err != nil {
			t.Fatal(err)
		}
		return len(view.Drills)
	}
	if n := out(); n != 0 {
		t.Errorf("%d drills that need an adult are still at home", n)
	}
	err := d.SendHome(t.Context(), d.teacher, aDrill("d-dish"))
	if !strings.Contains(problem(err, "drill"), "has not agreed") {
		t.Errorf("without consent: %v", err)
	}
	if err := d.AnswerConsent(t.Context(), d.parent, own, studio.AdultDrills, true); err != nil {
		t.Fatal(err)
	}
	if err := d.SendHome(t.Context(), d.teacher, aDrill("d-dish")); err != nil {
		t.Errorf("with consent: %v", err)
	}
	if n := out(); n != 1 {
		t.Errorf("%d drills at home, want the one sent", n)
	}
}

// What the answer gates: no e-mail about messages without the guardian's own yes, and none of the message in it.
func TestLettersNeedConsent(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	var sent []Letter
	d.settings.Send = func(_ context.Context, l Letter) error { sent = append(sent, l); return nil }
	write := func(to To) []Letter {
		t.Helper()
		sent = nil
		if err := d.WriteFamilies(t.Context(), d.teacher, to, "Bring warm socks on Wednesday."); err != nil {
			t.Fatal(err)
		}
		return sent
	}
	class := To{Class: testkit.SampleID("c0a0")}
	if got := write(class); len(got) != 0 {
		t.Errorf("letters without consent: %+v", got)
	}
	if err := d.AnswerConsent(t.Context(), d.parent, own, studio.Letters, true); err != nil {
		t.Fatal(err)
	}
	for _, to := range []To{class, {Child: own}} {
		got := write(to)
		if len(got) != 1 || got[0].To != d.parent.Email || strings.Contains(got[0].Text, "socks") || strings.Contains(got[0].Text, "Aliquot") {
			t.Errorf("letters are %+v, want one that says nothing", got)
		}
	}
	if err := d.AnswerConsent(t.Context(), d.parent, own, studio.Letters, false); err != nil {
		t.Fatal(err)
	}
	if got := write(class); len(got) != 0 {
		t.Errorf("letters after withdrawal: %+v", got)
	}
}
