package app

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// do runs SQL as the owner of the database, each line with the same arguments.
func do(t *testing.T, conn *pgx.Conn, lines []string, args ...any) {
	t.Helper()
	for _, sql := range lines {
		if _, err := conn.Exec(t.Context(), sql, args...); err != nil {
			t.Fatal(err)
		}
	}
}

// alsoInB puts a child of class A into class B too, with a turn of the handstand planned so often there.
func alsoInB(t *testing.T, child uuid.UUID, turns int) {
	t.Helper()
	conn := ownerConn(t)
	do(t, conn, []string{`insert into enrolment (class_id, child_id, from_on) values ($2, $1, '2026-01-05')`}, child, testkit.SampleID("c0b0"))
	do(t, conn, []string{`insert into plan_member (plan_id, child_id, group_no) values ($2, $1, 1)`}, child, testkit.SampleID("b1b0"))
	do(t, conn, []string{`insert into plan_entry (plan_id, rotation, child_id, rung_key, turns, wait_share) values ($2, 1, $1, 'hs-return', $3, 0)`},
		child, testkit.SampleID("b1b0"), turns)
}

func thisWeek(t *testing.T, d *desk, actor studio.Actor, child uuid.UUID) LoadWeek {
	t.Helper()
	view, err := d.LoadOf(t.Context(), actor, child)
	if err != nil {
		t.Fatal(err)
	}
	return view.Weeks[len(view.Weeks)-1]
}

// A turn of the sample's rung loads the wrists by 2. Sums by hand: 9 planned are 18; 9 more in a class that the teacher does not take, and
// that is still to come, make 36.
func TestLoadCountsEveryClass(t *testing.T) {
	d, child := openDesk(t), testkit.SampleID("c1a1")
	if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != 18 || w.Ahead.Wrists != 0 || w.Turns != 9 {
		t.Errorf("one class: %+v, want 18 on the wrists", w)
	}
	alsoInB(t, child, 9)
	if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != 36 || w.Ahead.Wrists != 18 {
		t.Errorf("two classes: %+v, want 36 on the wrists, 18 of them ahead", w)
	}
	_, err := d.Lesson(t.Context(), d.teacher, testkit.SampleID("1eb0"))
	wantCode(t, "the lesson behind the sum", err, studio.NotFound)
	do(t, ownerConn(t), []string{`update attendance set present = false where child_id = $1`}, child)
	if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != 18 {
		t.Errorf("%+v, want 18: the child was away from one of the two", w)
	}
	do(t, ownerConn(t), []string{`update lesson set cancelled_at = now() where id = $1`}, testkit.SampleID("1eb0"))
	if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != 0 {
		t.Errorf("%+v, want 0: the other was cancelled", w)
	}
}

// Sums by hand: the sample's warm-up is 10 minutes of one drill of 20 seconds a turn, half of it working: 15 turns. With a second drill
// in the same minutes each has 7 (150 seconds of work), and no drill has less than one.
func TestLoadCountsTheDrillsOfBlocks(t *testing.T) {
	d, child, conn := openDesk(t), testkit.SampleID("c1a1"), ownerConn(t)
	do(t, conn, []string{`update drill set load_wrists = 1 where key = 'd-warm'`})
	if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != 18+15 || w.Ahead.Wrists != 0 {
		t.Errorf("%+v, want 33 on the wrists", w)
	}
	openEvening(t, d, "1ea0", func(e *evening, _ *studio.Plan) {
		c := e.Children[slices.IndexFunc(e.Children, func(c postgres.EveningChild) bool { return c.ID == child })]
		if full, left := e.caps(c), e.capsLeft(c); e.week[child].blocks != (load.Load{Wrists: 15}) || left.Wrists != full.Lesson.Wrists-15 {
			t.Errorf("of %+v are left %+v, want 15 less on the wrists", full.Lesson, left)
		}
		if got := e.blockWords(c); got != " Of what a lesson may ask, the drills of warm-up, conditioning and cool-down take 15 for the wrists." {
			t.Errorf("words: %q", got)
		}
	})
	for _, c := range []struct {
		change string
		wrists int
	}{
		{`update lesson_block set drills = '{d-warm,d-cool}' where kind = 'warm-up'`, 18 + 7},
		{`update lesson_block set minutes = 1 where kind = 'warm-up'`, 18 + 1},
		{`update lesson_block set minutes = 0 where kind = 'warm-up'`, 18},
	} {
		do(t, conn, []string{c.change})
		if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != c.wrists {
			t.Errorf("%s: %d on the wrists, want %d", c.change, w.Load.Wrists, c.wrists)
		}
	}
	do(t, conn, []string{`update lesson_block set minutes = 10 where kind = 'warm-up'`})
	do(t, conn, []string{`update attendance set present = false where child_id = $1`}, child)
	if w := thisWeek(t, d, d.teacher, child); w.Load.Wrists != 0 {
		t.Errorf("%d on the wrists, want none: the child was away", w.Load.Wrists)
	}
}

func TestLoadCountsATurnOnce(t *testing.T) {
	d, child := openDesk(t), testkit.SampleID("c1a1")
	mark := func(n int) {
		t.Helper()
		for range n {
			if err := d.WriteMark(t.Context(), d.teacher, NewMark{Child: child, Rung: "hs-return", Lesson: testkit.SampleID("1ea0"), Outcome: studio.Missed, Side: studio.NoSide}); err != nil {
				t.Fatal(err)
			}
		}
	}
	mark(4)
	if w := thisWeek(t, d, d.teacher, child); w.Turns != 9 {
		t.Errorf("%d turns, want the 9 planned: 4 of them are marked", w.Turns)
	}
	mark(7)
	if w := thisWeek(t, d, d.teacher, child); w.Turns != 11 {
		t.Errorf("%d turns, want the 11 marked", w.Turns)
	}
	do(t, ownerConn(t), []string{`update attendance set present = false where child_id = $1`}, child)
	if w := thisWeek(t, d, d.teacher, child); w.Turns != 11 {
		t.Errorf("%d turns, want 11: what was marked was seen, whoever was noted away", w.Turns)
	}
	view, err := d.LoadOf(t.Context(), d.teacher, child)
	if err != nil {
		t.Fatal(err)
	}
	if last := view.Weeks[len(view.Weeks)-2]; last.Turns != 1 { // one mark, no plan
		t.Errorf("last week %+v, want one turn", last)
	}
}

func TestBothSidesAreCounted(t *testing.T) {
	d, child := openDesk(t), testkit.SampleID("c1a1")
	do(t, ownerConn(t), []string{`update rung set two_sided = true where key = 'hs-return'`})
	for _, side := range []studio.Side{studio.Left, studio.Left, studio.Right} {
		err := d.WriteMark(t.Context(), d.teacher, NewMark{Child: child, Rung: "hs-return", Lesson: testkit.SampleID("1ea0"), Side: side, Outcome: outcomeOf(side)})
		if err != nil {
			t.Fatal(err)
		}
	}
	view, err := d.LoadOf(t.Context(), d.teacher, child)
	if err != nil {
		t.Fatal(err)
	}
	// 9 planned, 2 left and 1 right marked: the right is levelled out, then half each: 5 and 4; the odd one to the weaker side, the right.
	w := view.Weeks[len(view.Weeks)-1]
	if w.Left != 4 || w.Right != 5 {
		t.Errorf("left %d, right %d, want 4 and 5", w.Left, w.Right)
	}
	if len(view.Weaker) != 1 || !strings.Contains(view.Weaker[0], "the right side is weaker") {
		t.Errorf("weaker: %q", view.Weaker)
	}
}

func outcomeOf(side studio.Side) studio.Outcome {
	if side == studio.Left {
		return studio.Clean
	}
	return studio.Missed
}

// Foster et al. 2001, J Strength Cond Res 15:109-115: session load is effort times minutes. The lesson of last week lasted 60 minutes; the
// class found it 5 hard, this child 8.
func TestSessionLoad(t *testing.T) {
	d, child, lesson := openDesk(t), testkit.SampleID("c1a1"), testkit.SampleID("1ea9")
	lastWeek := func() LoadWeek {
		t.Helper()
		view, err := d.LoadOf(t.Context(), d.teacher, child)
		if err != nil {
			t.Fatal(err)
		}
		return view.Weeks[len(view.Weeks)-2]
	}
	if w := lastWeek(); w.SessionLoad != 480 || w.Sessions != 1 || !w.Spread {
		t.Errorf("%+v, want 8 x 60", w)
	}
	if err := d.NoteEffort(t.Context(), d.teacher, lesson, nil, map[uuid.UUID]*int{child: nil}); err != nil {
		t.Fatal(err)
	}
	if w := lastWeek(); w.SessionLoad != 300 {
		t.Errorf("%+v, want the class's 5 x 60", w)
	}
	do(t, ownerConn(t), []string{`delete from lesson_effort where lesson_id = $1`}, lesson)
	if w := lastWeek(); w.SessionLoad != 0 || w.NoEffort != 1 || w.Spread {
		t.Errorf("%+v, want nothing known and no monotony", w)
	}
}

func TestWhoNotesEffort(t *testing.T) {
	d := openDesk(t)
	five := 5
	note := func(actor studio.Actor, lesson, child string) error {
		return d.NoteEffort(t.Context(), actor, testkit.SampleID(lesson), &five, map[uuid.UUID]*int{testkit.SampleID(child): &five})
	}
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.actor(t, "ac03"), "assistant": d.assistant, "parent": d.parent, "nobody": {}} {
		wantCode(t, name, note(actor, "1ea0", "c1a1"), studio.NotFound)
	}
	wantCode(t, "a child of another class", note(d.owner, "1ea0", "c1b1"), studio.NotFound)
	wantCode(t, "a lesson to come", note(d.owner, "1eb0", "c1b1"), studio.Invalid)
	if err := note(d.teacher, "1ea0", "c1a1"); err != nil {
		t.Error(err)
	}
	sheet, err := d.Lesson(t.Context(), d.teacher, testkit.SampleID("1ea0"))
	if err != nil || sheet.Effort.Class == nil || *sheet.Effort.Class != 5 || sheet.Effort.Children[testkit.SampleID("c1a1")] != 5 {
		t.Errorf("noted %+v, %v", sheet.Effort, err)
	}
}

func TestWhoSeesLoad(t *testing.T) {
	d := openDesk(t)
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.actor(t, "ac03"), "assistant": d.assistant, "parent": d.parent, "nobody": {}} {
		_, err := d.LoadOf(t.Context(), actor, testkit.SampleID("c1a1"))
		wantCode(t, name, err, studio.NotFound)
	}
}

func openEvening(t *testing.T, d *desk, end string, use func(*evening, *studio.Plan)) {
	t.Helper()
	err := d.db.InTx(t.Context(), d.owner, func(tx *postgres.Tx) error {
		e, plan, err := readEvening(t.Context(), tx, testkit.SampleID(end))
		if err == nil {
			use(e, plan)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The caps are those of the studio at the child's age; of the week they leave what the other lessons and the drills at home do not take.
func TestThePlannerGoesByTheCapsOfTheStudio(t *testing.T) {
	d, child := openDesk(t), testkit.SampleID("c1a1")
	alsoInB(t, child, 9)
	do(t, ownerConn(t), []string{`update drill set load_wrists = 1 where key = 'd-press'`})
	setCaps(t, d, studio.Load{Back: 10, Wrists: 40, Landing: 40}, studio.Load{Back: 20, Wrists: 80, Landing: 80})
	openEvening(t, d, "1ea0", func(e *evening, _ *studio.Plan) {
		c := e.Children[slices.IndexFunc(e.Children, func(c postgres.EveningChild) bool { return c.ID == child })]
		// In the other class 9 x 2; at home 2 sets of 6 on the sample's 4 days, 1 a turn: 80 - 18 - 48 leaves 14, less than a lesson may ask.
		if got, want := e.capsLeft(c), (load.Load{Back: 10, Wrists: 14, Landing: 40}); got != want {
			t.Errorf("left %+v, want %+v", got, want)
		}
		if got := e.weekWords(c); got != " Of 80 a week for the wrists, 18 are in other lessons and 48 in drills at home." {
			t.Errorf("words: %q", got)
		}
		if in := e.input(nil); in.AllowBackInRow || in.AllowWristsInRow {
			t.Error("hard stations in a row are allowed by default")
		}
	})
	if err := d.ChangeSettings(t.Context(), d.owner, func(s *studio.Settings) { s.HardInRow, s.HomeDays = true, 1 }); err != nil {
		t.Fatal(err)
	}
	openEvening(t, d, "1ea0", func(e *evening, _ *studio.Plan) {
		if in := e.input(nil); !in.AllowBackInRow || !in.AllowWristsInRow {
			t.Error("the setting does not reach the planner")
		}
		if got := e.week[child].home.Wrists; got != 12 {
			t.Errorf("at home %d, want 12 on one day a week", got)
		}
	})
}

func setCaps(t *testing.T, d *desk, lesson, week studio.Load) {
	t.Helper()
	err := d.ChangeSettings(t.Context(), d.owner, func(s *studio.Settings) { s.Caps = []studio.AgeCaps{{Lesson: lesson, Week: week}} })
	if err != nil {
		t.Fatal(err)
	}
}

func TestThePlanSaysWhereACapHolds(t *testing.T) {
	d := openDesk(t)
	do(t, ownerConn(t), []string{`update care_limit set cleared_at = now() where child_id = $1`}, testkit.SampleID("c1a1"))
	held := func() []string {
		t.Helper()
		sheet, err := d.Lesson(t.Context(), d.teacher, testkit.SampleID("1ea0"))
		if err != nil {
			t.Fatal(err)
		}
		return sheet.Plan.Held
	}
	if got := held(); len(got) != 0 {
		t.Errorf("the defaults hold nobody: %q", got)
	}
	wide := studio.Load{Back: 100, Wrists: 100, Landing: 100}
	setCaps(t, d, studio.Load{Back: 100, Wrists: 7, Landing: 100}, wide) // three turns of 2 on the wrists
	if got := held(); !slices.ContainsFunc(got, func(s string) bool {
		return strings.HasPrefix(s, "Aliquot A. rests after 3 of ") && strings.HasSuffix(s, "the cap for the wrists is reached.")
	}) {
		t.Errorf("held: %q", got)
	}
	setCaps(t, d, studio.Load{Back: 100, Wrists: 1, Landing: 100}, wide) // not one turn
	if got := held(); !slices.ContainsFunc(got, func(s string) bool {
		return strings.HasPrefix(s, "Azimuth C. does not do Small kick and return in rotation 1: not one turn is left of the cap for the wrists.")
	}) {
		t.Errorf("held: %q", got)
	}
}

func TestSettings(t *testing.T) {
	d, ctx := openDesk(t), context.Background()
	change := func(s *studio.Settings) { s.Secure.Clean = 3 }
	for name, actor := range map[string]studio.Actor{"teacher": d.teacher, "assistant": d.assistant, "parent": d.parent, "nobody": {}} {
		wantCode(t, name+" changes", d.ChangeSettings(ctx, actor, change), studio.NotFound)
		_, err := d.StudioSettings(ctx, actor)
		wantCode(t, name+" reads", err, studio.NotFound)
	}
	if err := d.ChangeSettings(ctx, d.owner, change); err != nil {
		t.Fatal(err)
	}
	if action, subject, detail := lastAudit(t, d.App); action != "changed the settings" || subject != "settings" || !strings.Contains(detail, "secure") || strings.Contains(detail, "caps") {
		t.Errorf("the trail says %q of %q: %s", action, subject, detail)
	}
	wantCode(t, "nonsense", d.ChangeSettings(ctx, d.owner, func(s *studio.Settings) { s.Caps[0].FromAge = 3 }), studio.Invalid)
	s, err := d.StudioSettings(ctx, d.owner)
	if err != nil || s.Secure.Clean != 3 || s.Caps[0].FromAge != 0 {
		t.Errorf("kept %+v, %v", s, err)
	}
}
