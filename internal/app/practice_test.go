package app

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestPracticeIsTheFamilysOwn(t *testing.T) {
	d := openDesk(t)
	done := Done{Child: testkit.SampleID("c1a1"), Assignment: testkit.SampleID("40a1")}
	for name, actor := range map[string]studio.Actor{"parent of another child": d.actor(t, "ac07"), "teacher": d.teacher, "owner": d.owner, "assistant": d.assistant, "nobody": {}} {
		wantCode(t, name, d.NotePractice(t.Context(), actor, done), studio.NotFound)
		wantCode(t, name+", taking out", d.StrikePractice(t.Context(), actor, done), studio.NotFound)
	}
	for name, c := range map[string]struct {
		done Done
		code studio.Code
	}{
		"a drill of another child":    {Done{Child: done.Child, Assignment: testkit.SampleID("40b1")}, studio.NotFound},
		"a drill that is not there":   {Done{Child: done.Child, Assignment: uuid.New()}, studio.NotFound},
		"tomorrow":                    {Done{done.Child, done.Assignment, date("2026-03-05")}, studio.Invalid},
		"a day before it was at home": {Done{done.Child, done.Assignment, date("2026-02-28")}, studio.Invalid},
		"long ago":                    {Done{done.Child, done.Assignment, date("2026-02-01")}, studio.Invalid},
	} {
		wantCode(t, name, d.NotePractice(t.Context(), d.parent, c.done), c.code)
	}
	for range 2 { // twice is once
		if err := d.NotePractice(t.Context(), d.parent, done); err != nil {
			t.Fatal(err)
		}
	}
	view, err := d.FamilyChildOf(t.Context(), d.parent, done.Child)
	if err != nil {
		t.Fatal(err)
	}
	if p := view.Practice; p.ThisWeek != 2 || p.InAll != 2 || len(p.Days) != 2 || !p.Days[0].Day.Equal(date("2026-03-04")) || p.Days[0].Drills[0] != "Wall press" {
		t.Errorf("the log is %+v, want today and Monday", p)
	}
	if drill := view.Drills[0]; !drill.DoneToday || drill.DoneDays != 2 || len(drill.MayNote) != 2 { // out since 1 March: the 1st and 3rd are left
		t.Errorf("the drill is %+v", drill)
	}
	if home, err := d.HomeworkOf(t.Context(), d.teacher, done.Child, ""); err != nil || home.Given[0].Days != 2 {
		t.Errorf("the teacher sees %+v, %v, want two days", home.Given, err)
	}
	if err := d.StrikePractice(t.Context(), d.parent, done); err != nil {
		t.Error(err)
	}
	wantCode(t, "taken out twice", d.StrikePractice(t.Context(), d.parent, done), studio.NotFound)
}

// The words count what was done and never what was not.
func TestWordsAboutPracticeDoNotPress(t *testing.T) {
	for _, l := range []PracticeLog{{Asked: 3}, {Asked: 3, InAll: 1}, {Asked: 3, InAll: 9, ThisWeek: 1}, {Asked: 3, InAll: 9, ThisWeek: 3}, {Asked: 3, InAll: 9, ThisWeek: 7}} {
		for _, word := range []string{"lost", "missed", "only", "broke", "behind", "should", "must", "!"} {
			if strings.Contains(strings.ToLower(l.Words(nil)), word) {
				t.Errorf("%+v says %q", l, l.Words(nil))
			}
		}
	}
}

func TestADrillOnHoldIsNotNoted(t *testing.T) {
	d := openDesk(t)
	done := Done{Child: testkit.SampleID("c1a1"), Assignment: testkit.SampleID("40a1")}
	if _, err := ownerConn(t).Exec(t.Context(), `update drill set load_wrists = 1 where key = 'd-press'`); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "under a limit", d.NotePractice(t.Context(), d.parent, done), studio.Conflict)
}

// The second line alone: practice of another child, or of a drill that another child has, is refused by the database.
func TestPracticeOfOthersIsRefusedByTheDatabase(t *testing.T) {
	d := openDesk(t)
	note := func(child, assignment string) error {
		return d.db.InTx(t.Context(), d.parent, func(tx *postgres.Tx) error {
			return tx.NotePractice(t.Context(), testkit.SampleID(child), testkit.SampleID(assignment), tx.Today)
		})
	}
	wantCode(t, "another child", note("c1b1", "40b1"), studio.NotFound)
	if err := note("c1a1", "40b1"); err == nil {
		t.Error("a drill of another child was noted")
	}
	if err := note("c1a1", "40a1"); err != nil {
		t.Error(err)
	}
}

func TestTheWeekBeginsOnMonday(t *testing.T) {
	library := &ladders{settings: studio.DefaultSettings()}
	log := practiceLog([]studio.Practice{{DoneOn: date("2026-03-02")}, {DoneOn: date("2026-03-01")}}, 2, library, date("2026-03-02")) // a Monday and the Sunday before
	if log.ThisWeek != 1 || len(log.Days) != 2 {
		t.Errorf("the log is %+v", log)
	}
	if got := practiceLog(nil, 0, library, time.Now()); got.ThisWeek != 0 || got.Asked != 3 {
		t.Errorf("an empty log is %+v", got)
	}
}
