package app

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestHistoryNamesWhoDidWhatAndWhy(t *testing.T) {
	d := openDesk(t)
	child, old := testkit.SampleID("c1a1"), testkit.SampleID("a0a1")
	if err := d.WriteMark(t.Context(), d.teacher, NewMark{Child: child, Side: studio.NoSide, Outcome: studio.Clean, Replaces: old, Why: " Typed on the wrong row "}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.LimitReason(t.Context(), d.owner, child, testkit.SampleID("ca01")); err != nil {
		t.Fatal(err)
	}
	view, err := d.HistoryOf(t.Context(), d.teacher, child)
	if err != nil || len(view.Lines) < 3 {
		t.Fatalf("%d lines, %v, want at least the correction, the reading and the limit", len(view.Lines), err)
	}
	found := map[string]HistoryLine{}
	for _, l := range view.Lines {
		found[l.Did] = l
	}
	want := HistoryLine{By: "Tove Arkle", Did: "corrected a mark", About: "Small kick and return", Change: "clean instead of missed", Why: "Typed on the wrong row"}
	got := found["corrected a mark"]
	got.At = want.At
	if got != want {
		t.Errorf("the correction is %+v, want %+v", got, want)
	}
	if by := found["read the reason of a care limit"].By; by != "Orla Quist" {
		t.Errorf("the reason was read by %q, want the owner by name", by)
	}
}

// The trail of a child is the one part of the trail that its teachers read; the second line holds alone.
func TestTeacherCannotReadTheRestOfTheTrail(t *testing.T) {
	d := openDesk(t)
	err := d.db.InTx(t.Context(), d.teacher, func(tx *postgres.Tx) error {
		entries, err := tx.Trail(t.Context(), tx.Now, testkit.SampleID("ffff"), 100)
		for _, e := range entries {
			if e.Kind != "child" || e.Key == testkit.SampleID("c1b1").String() {
				t.Errorf("a teacher reads %s of %s %s", e.Action, e.Kind, e.Key)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = d.Trail(t.Context(), d.teacher, TrailPlace{}, 10)
	wantCode(t, "a teacher asks for the whole trail", err, studio.NotFound)
}

func TestNotesAreKeptAndNeverChanged(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	wantCode(t, "an empty note", d.WriteNote(t.Context(), d.teacher, child, "  "), studio.Invalid)
	wantCode(t, "a note without end", d.WriteNote(t.Context(), d.teacher, child, strings.Repeat("é", 2001)), studio.Invalid)
	if err := d.WriteNote(t.Context(), d.teacher, child, strings.Repeat("é", 2000)); err != nil {
		t.Fatal(err)
	}
	view, err := d.NotesOf(t.Context(), d.owner, child)
	if err != nil || len(view.Notes) != 2 || view.Notes[0].By != "Tove Arkle" {
		t.Errorf("%+v, %v, want the new note first, by the teacher", view.Notes, err)
	}
	if _, err := ownerConn(t).Exec(t.Context(), `update child_note set note = 'x'`); err == nil {
		t.Error("a note was changed, by the owner of the schema at that")
	}
}

func TestTurnsAreMarkedTogetherOrNotAtAll(t *testing.T) {
	d := openDesk(t)
	child, lesson := testkit.SampleID("c1a2"), testkit.SampleID("1ea0")
	clean, missed := Turn{studio.NoSide, studio.Clean}, Turn{studio.NoSide, studio.Missed}
	err := d.WriteTurns(t.Context(), d.teacher, NewTurns{Child: child, Rung: "hs-return", Turns: []Turn{clean, {studio.Left, studio.Clean}}})
	if e, ok := err.(*studio.Error); !ok || e.Problem("side-2") == "" {
		t.Errorf("a side that the rung has not: %v, want the second turn's field named", err)
	}
	wantCode(t, "no turns", d.WriteTurns(t.Context(), d.teacher, NewTurns{Child: child, Rung: "hs-return"}), studio.Invalid)
	before, err := d.MarksOfChild(t.Context(), d.teacher, child, "", testkit.SampleID("a0a2"))
	if err != nil || len(before.Marks) != 1 {
		t.Fatalf("%d marks, %v, want the one that was there: nothing was half-written", len(before.Marks), err)
	}
	if err := d.WriteTurns(t.Context(), d.teacher, NewTurns{Child: child, Rung: "hs-return", Lesson: lesson, Turns: []Turn{clean, missed, clean}, Faults: []string{"arms-bend"}}); err != nil {
		t.Fatal(err)
	}
	marks := marksOf(t, d, child)
	var got []string
	for _, m := range marks[len(marks)-3:] {
		got = append(got, string(m.Outcome)+strings.Join(m.Faults, ""))
	}
	if strings.Join(got, " ") != "clean missedarms-bend clean" {
		t.Errorf("marks are %v, want them in the order seen, the fault on the turn that was not clean", got)
	}
}

func marksOf(t *testing.T, d *desk, child uuid.UUID) []postgres.SeenMark {
	t.Helper()
	var marks []postgres.SeenMark
	err := d.db.InTx(t.Context(), d.owner, func(tx *postgres.Tx) error {
		page, err := tx.ChildPage(t.Context(), child)
		marks = page.Marks
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return marks
}

func TestClassIsMarkedTogether(t *testing.T) {
	d := openDesk(t)
	class, one, two, other := testkit.SampleID("c0a0"), testkit.SampleID("c1a1"), testkit.SampleID("c1a2"), testkit.SampleID("c1b1")
	seen := func(child uuid.UUID) ClassTurns {
		return ClassTurns{Child: child, Turns: []Turn{{studio.NoSide, studio.Clean}}}
	}
	for name, actor := range map[string]studio.Actor{"teacher of another class marks no class of hers": d.actor(t, "ac03"), "assistant marks no whole class": d.assistant, "parent": d.parent} {
		wantCode(t, name, d.MarkClass(t.Context(), actor, class, "hs-return", testkit.SampleID("1ea0"), []ClassTurns{seen(one)}), studio.NotFound)
		_, err := d.MarksOfClass(t.Context(), actor, class, "")
		wantCode(t, name, err, studio.NotFound)
	}
	mark := func(all ...ClassTurns) error {
		return d.MarkClass(t.Context(), d.teacher, class, "hs-return", testkit.SampleID("1ea0"), all)
	}
	wantCode(t, "nobody marked", mark(), studio.Invalid)
	wantCode(t, "a child of another class", mark(seen(one), seen(other)), studio.NotFound)
	wantCode(t, "no outcome", mark(ClassTurns{Child: one, Turns: []Turn{{studio.NoSide, "splendid"}}}), studio.Invalid)
	clean, missed := []Turn{{studio.NoSide, studio.Clean}}, []Turn{{studio.NoSide, studio.Missed}}
	for name, wrong := range map[string]ClassTurns{
		"a fault on a clean turn":   {Child: two, Turns: clean, Faults: []string{"arms-bend"}},
		"a fault without a turn":    {Child: two, Faults: []string{"arms-bend"}},
		"more than two faults":      {Child: two, Turns: missed, Faults: []string{"arms-bend", "b", "c"}},
		"a fault that is no rung's": {Child: two, Turns: missed, Faults: []string{"knees-bend"}},
	} {
		wantCode(t, name, mark(seen(one), wrong), studio.Invalid)
	}
	if n := len(marksOf(t, d, one)); n != 1 {
		t.Fatalf("%d marks, want the one that was there: all or none", n)
	}
	if err := mark(seen(one), ClassTurns{Child: two, Turns: missed, Faults: []string{"arms-bend"}}); err != nil {
		t.Fatal(err)
	}
	if a, b := len(marksOf(t, d, one)), len(marksOf(t, d, two)); a != 2 || b != 2 {
		t.Errorf("%d and %d marks, want one more each", a, b)
	}
	marks := marksOf(t, d, two)
	if last := marks[len(marks)-1]; !slices.Equal(last.Faults, []string{"arms-bend"}) || !last.SafetyFault {
		t.Errorf("the mark is %+v, want it with its fault", last)
	}
}
