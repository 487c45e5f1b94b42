package app

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestFamiliesReadReleasedReportsOnly(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	class, child := testkit.SampleID("c0a0"), testkit.SampleID("c1a1")
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.actor(t, "ac03"), "assistant": d.assistant, "the parent": d.parent} {
		_, err := d.ReleaseReports(ctx, actor, class, []uuid.UUID{child})
		wantCode(t, name, err, studio.NotFound)
		wantCode(t, name+" takes back", d.TakeBackReport(ctx, actor, class, child), studio.NotFound)
	}
	_, err := d.ReleaseReports(ctx, d.teacher, class, []uuid.UUID{testkit.SampleID("c1b1")})
	wantCode(t, "a child of another class", err, studio.NotFound)
	for name, who := range map[string]struct {
		actor        studio.Actor
		class, child uuid.UUID
	}{
		"parent of another child":  {d.actor(t, "ac07"), class, child},
		"a class not the child's":  {d.parent, testkit.SampleID("c0b0"), child},
		"teacher":                  {d.teacher, class, child},
		"a child not yet released": {d.parent, class, testkit.SampleID("c1a2")},
	} {
		_, err := d.ReleasedReport(ctx, who.actor, who.class, who.child)
		wantCode(t, name, err, studio.NotFound)
	}
	read := func() []byte {
		t.Helper()
		file, err := d.ReleasedReport(ctx, d.parent, class, child)
		if err != nil {
			t.Fatal(err)
		}
		return file.Body
	}
	if string(read()) != "reportleak-a1" {
		t.Error("the released file is another one")
	}
	if n, err := d.ReleaseReports(ctx, d.teacher, class, nil); err != nil || n != 2 {
		t.Fatalf("%d released, %v, want both children", n, err)
	}
	first := read()
	if !bytes.HasPrefix(first, []byte("%PDF-")) {
		t.Error("what was released is no PDF")
	}
	if _, err := ownerConn(t).Exec(ctx, `update child set given_name = 'Renamed' where id = $1`, child); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, read()) {
		t.Error("a released report changed by itself")
	}
	if err := d.TakeBackReport(ctx, d.teacher, class, child); err != nil {
		t.Fatal(err)
	}
	_, err = d.ReleasedReport(ctx, d.parent, class, child)
	wantCode(t, "taken back", err, studio.NotFound)
	wantCode(t, "taken back twice", d.TakeBackReport(ctx, d.teacher, class, child), studio.NotFound)
}

// A report says whether a teacher or an assistant saw the clean turns of the last ones on each side, and names nobody.
func TestReportSaysWhoSaw(t *testing.T) {
	mark := func(by string, outcome standing.Outcome, side standing.Side) standing.Mark {
		return standing.Mark{RungID: "r", By: by, Outcome: outcome, Side: side}
	}
	old, other := mark("an assistant", standing.Clean, standing.Left), standing.Mark{RungID: "s", By: "an assistant", Outcome: standing.Clean}
	for want, marks := range map[string][]standing.Mark{
		"": {other, mark("", standing.Clean, standing.NoSide)},
		" Seen by a teacher.": {old, mark("a teacher", standing.Clean, standing.Left), mark("a teacher", standing.Clean, standing.Left),
			mark("an assistant", standing.Missed, standing.Right), mark("", standing.Clean, standing.Right)},
		" Seen by a teacher and an assistant.": {old, mark("a teacher", standing.Clean, standing.Left), mark("a teacher", standing.Clean, standing.Right)},
	} {
		if got := seenBy(marks, "r", 2); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What goes home says nothing that is kept from families: no note of staff, no care limit nor its reason, no soreness, no other child. The
// sample holds a text of its own in each of these.
func TestReportOfAChildKeepsToTheChild(t *testing.T) {
	d := openDesk(t)
	var said string
	err := d.db.InTx(t.Context(), d.owner, func(tx *postgres.Tx) error {
		r, err := d.readReport(t.Context(), tx, testkit.SampleID("c0a0"), testkit.SampleID("c1a1"))
		said = fmt.Sprintf("%+v", r.TermReport)
		return err
	})
	if err != nil || !strings.Contains(said, "parentnote-a1") || !strings.Contains(said, "Aliquot") {
		t.Fatalf("%v: %s", err, said)
	}
	for _, kept := range []string{"aboutleak", "reasonleak", "limitdo", "soreleak", "hallleak", "noteleak", "waitleak", "changeleak", "homewhy", "messageleak", "whatleak", "Azimuth", "Bolide", "Tove", "Hanne"} {
		if strings.Contains(said, kept) {
			t.Errorf("it says %q: %s", kept, said)
		}
	}
}
