package app

import (
	"bytes"
	"testing"

	"github.com/google/uuid"
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
