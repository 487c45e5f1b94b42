package app

import (
	"context"
	"strings"
	"testing"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// The signs and the four weeks are those of the American Journal of Neuroradiology's table of red flags in children's back pain, of
// pmmonline.org and of nenc-healthiertogether.nhs.uk.
func TestSignsForADoctor(t *testing.T) {
	for name, c := range map[string]struct {
		n    NewSoreness
		want Advice
	}{
		"pain at night":                    {NewSoreness{Place: "Back", Signs: []string{"night"}}, SeeDoctor},
		"fever":                            {NewSoreness{Place: "Hip or thigh", Signs: []string{"fever"}}, SeeDoctor},
		"a limp":                           {NewSoreness{Place: "Knee", Signs: []string{"limp"}}, SeeDoctor},
		"getting worse":                    {NewSoreness{Place: "Back", Signs: []string{"worse"}}, SeeDoctor},
		"another shape of the back":        {NewSoreness{Place: "Back", Signs: []string{"shape"}}, SeeDoctor},
		"stiff in the morning":             {NewSoreness{Place: "Back", Signs: []string{"stiff"}}, SeeDoctor},
		"for more than four weeks":         {NewSoreness{Place: "Back", Since: date("2026-02-03")}, SeeDoctor},
		"for four weeks":                   {NewSoreness{Place: "Back", Since: date("2026-02-04")}, WaitForTeacher},
		"since yesterday":                  {NewSoreness{Place: "Back"}, WaitForTeacher},
		"a limp and weak legs":             {NewSoreness{Place: "Knee", Signs: []string{"limp", "weak"}}, CallNow},
		"at night, and after a back-bend":  {NewSoreness{Place: "Back", Signs: []string{"night", afterBend}}, CallNow},
		"after a back-bend, but the wrist": {NewSoreness{Place: "Wrist or hand", Signs: []string{afterBend}}, WaitForTeacher},
	} {
		if c.n.Since.IsZero() {
			c.n.Since = date("2026-03-03")
		}
		if got := c.n.advice(date("2026-03-04")); got != c.want {
			t.Errorf("%s: advice %d, want %d", name, got, c.want)
		}
	}
}

// From the report on, planner, class sheet and home keep what the limit forbids away from the child.
func TestPlannerSheetAndHomeObeyAReportAtOnce(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	child, lesson := testkit.SampleID("c1b1"), testkit.SampleID("1eb0")
	parent, teacher := d.actor(t, "ac07"), d.actor(t, "ac03")
	if _, err := ownerConn(t).Exec(ctx, `delete from care_limit where child_id = $1`, child); err != nil {
		t.Fatal(err)
	}
	if _, err := ownerConn(t).Exec(ctx, `update drill set load_landing = 1 where key = 'd-press'`); err != nil {
		t.Fatal(err)
	}
	onHold := func() string {
		t.Helper()
		view, err := d.FamilyChildOf(ctx, parent, child)
		if err != nil || len(view.Drills) != 1 {
			t.Fatalf("drills are %+v, %v", view.Drills, err)
		}
		return view.Drills[0].OnHold.Text
	}
	if onHold() != "" {
		t.Fatal("the drill is on hold before the report")
	}
	if _, err := d.ReportSoreness(ctx, parent, NewSoreness{Child: child, Place: "Back", HowMuch: 4, Since: date("2026-03-04")}); err != nil {
		t.Fatal(err)
	}
	if got := onHold(); !strings.Contains(got, "until a teacher has looked") {
		t.Errorf("home says %q", got)
	}
	sheet, err := d.Sheet(ctx, teacher, lesson)
	if err != nil || len(sheet.Children) == 0 {
		t.Fatalf("the sheet has children %+v, %v", sheet.Children, err)
	}
	for _, c := range sheet.Children {
		if c.ID == child && len(c.Limits) == 0 {
			t.Errorf("the class sheet shows no limit of %+v", c)
		}
	}
	var e postgres.Evening
	err = d.db.InTx(ctx, teacher, func(tx *postgres.Tx) error {
		e, err = tx.Evening(ctx, lesson)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	forbids := false
	for _, l := range e.Limits {
		forbids = forbids || l.ChildID == child && l.Forbids(studio.Load{Landing: 1}, false) && l.Forbids(studio.Load{Back: 1}, false) && l.Forbids(studio.Load{}, true)
	}
	if !forbids {
		t.Errorf("the planner reads %+v", e.Limits)
	}
}

// A letter may be read by anybody on its way: it names neither the child nor what hurts.
func TestTeachersAreToldByALetterThatTellsNothing(t *testing.T) {
	d := openDesk(t)
	letters := make(chan Letter, 4)
	d.settings.Send = func(_ context.Context, l Letter) error { letters <- l; return nil }
	report := NewSoreness{Child: testkit.SampleID("c1a1"), Place: "Back", HowMuch: 7, Doing: "secretwords", Signs: []string{"numb"}, Since: date("2026-03-04")}
	if _, err := d.ReportSoreness(t.Context(), d.parent, report); err != nil {
		t.Fatal(err)
	}
	select {
	case l := <-letters:
		if l.To != "teachmail-a@sample.example" || !strings.Contains(l.Text, "https://studio.example/") {
			t.Errorf("the letter is %+v", l)
		}
		for _, secret := range []string{"Aliquot", "Alder", "ack", "numb", "Numb", "7", "secretwords", "limit", "hurt", "sore"} {
			if strings.Contains(l.Subject+l.Text, secret) {
				t.Errorf("the letter tells %q", secret)
			}
		}
	case <-time.After(10 * time.Second):
		t.Error("nobody was told")
	}
}
