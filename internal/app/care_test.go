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

func TestReadingAReasonIsWrittenToTheTrail(t *testing.T) {
	d := openDesk(t)
	reason, err := d.LimitReason(t.Context(), d.teacher, testkit.SampleID("c1a1"), testkit.SampleID("ca01"))
	if err != nil || reason != "reasonleak-a1" {
		t.Fatalf("reason is %q, %v", reason, err)
	}
	if action, subject, _ := lastAudit(t, d.App); action != "read the reason of a care limit" || !strings.HasSuffix(subject, "c1a1") {
		t.Errorf("the trail says %q of %q", action, subject)
	}
	_, err = d.LimitReason(t.Context(), d.owner, testkit.SampleID("c1a1"), testkit.SampleID("cb01"))
	wantCode(t, "a limit of another child", err, studio.NotFound)
}

func TestLimitsThatSayNothingAreRefused(t *testing.T) {
	d := openDesk(t)
	right := studio.CareLimit{ChildID: testkit.SampleID("c1a1"), AvoidBack: true, Action: "No back-bends", FromOn: date("2026-03-04")}
	before := date("2026-03-01")
	for name, change := range map[string]func(*studio.CareLimit){
		"nothing to avoid":             func(l *studio.CareLimit) { l.AvoidBack = false },
		"no action":                    func(l *studio.CareLimit) { l.Action = " " },
		"an end before the beginning":  func(l *studio.CareLimit) { l.UntilOn = &before },
		"an action longer than a line": func(l *studio.CareLimit) { l.Action = strings.Repeat("a", 161) },
	} {
		l := right
		change(&l)
		wantCode(t, name, d.SetLimit(t.Context(), d.teacher, NewLimit{CareLimit: l}), studio.Invalid)
	}
	wantCode(t, "cleared without a note", d.ClearLimit(t.Context(), d.teacher, right.ChildID, testkit.SampleID("ca01"), " "), studio.Invalid)
	if err := d.ClearLimit(t.Context(), d.teacher, right.ChildID, testkit.SampleID("ca01"), "pain-free for a week"); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "cleared twice", d.ClearLimit(t.Context(), d.teacher, right.ChildID, testkit.SampleID("ca01"), "again"), studio.NotFound)
}

// Guo et al. 2023 and Alshorman et al. 2024 describe the signs; that they call for help at once is drawn from them (see Urgent).
func TestSignsThatCallForHelp(t *testing.T) {
	for name, c := range map[string]struct {
		place string
		signs []string
		want  bool
	}{
		"numbness anywhere":                    {"Wrist or hand", []string{"numb"}, true},
		"weak legs":                            {"Somewhere else", []string{"weak"}, true},
		"odd walking":                          {"Knee", []string{"walk"}, true},
		"bladder or bowels":                    {"Somewhere else", []string{"bladder"}, true},
		"back pain after a back-bend":          {"Back", []string{afterBend}, true},
		"leg pain after a back-bend":           {"Lower leg", []string{afterBend}, true},
		"thigh pain after a back-bend":         {"Hip or thigh", []string{afterBend}, true},
		"a sore wrist after a back-bend":       {"Wrist or hand", []string{afterBend}, false},
		"back pain without a back-bend":        {"Back", nil, false},
		"a sore ankle":                         {"Ankle or foot", nil, false},
		"numb wrist and after a bend together": {"Wrist or hand", []string{afterBend, "numb"}, true},
	} {
		if got := Urgent(c.place, c.signs); got != c.want {
			t.Errorf("%s: urgent is %v, want %v", name, got, c.want)
		}
	}
}

func TestAReportPutsALimitInPlaceAtOnce(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	report := NewSoreness{Child: child, Place: "Back", HowMuch: 4, Doing: "bridge", Signs: []string{afterBend}}
	for name, actor := range map[string]studio.Actor{"parent of another child": d.actor(t, "ac07"), "teacher": d.teacher, "owner": d.owner, "assistant": d.assistant} {
		wantCode(t, name, d.ReportSoreness(t.Context(), actor, report), studio.NotFound)
	}
	wantCode(t, "a place that is none", d.ReportSoreness(t.Context(), d.parent, NewSoreness{Child: child, Place: "Nowhere"}), studio.Invalid)
	wantCode(t, "a sign that is none", d.ReportSoreness(t.Context(), d.parent, NewSoreness{Child: child, Place: "Back", Signs: []string{"x"}}), studio.Invalid)
	if err := d.ReportSoreness(t.Context(), d.parent, report); err != nil {
		t.Fatal(err)
	}
	view, err := d.CareOf(t.Context(), d.teacher, child)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(view.Limits, func(l LimitLine) bool { return l.Reported })
	if i < 0 || !view.Limits[i].InForce || !view.Limits[i].Due || view.Limits[i].Until != nil {
		t.Fatalf("limits are %+v, want one by the report: in force, due a look today, until cleared", view.Limits)
	}
	if !strings.Contains(view.Limits[i].Action, "back-bends") {
		t.Errorf("the limit says %q", view.Limits[i].Action)
	}
	if len(view.Soreness) != 2 || len(view.Soreness[0].Signs) != 1 {
		t.Errorf("reports are %+v, want the new one first with its sign", view.Soreness)
	}
	today, err := d.TodayOf(t.Context(), d.teacher)
	if err != nil || len(today.Staff.Attention) == 0 || !today.Staff.Attention[0].Urgent || today.Staff.Attention[0].Child != child {
		t.Errorf("the teacher is told %+v, %v, want the report first", today.Staff, err)
	}
	// Only a teacher clears it: the second line holds that too.
	err = d.db.InTx(t.Context(), d.parent, func(tx *postgres.Tx) error {
		return tx.ClearCareLimit(t.Context(), child, view.Limits[i].ID, "better")
	})
	wantCode(t, "a parent clears the limit", err, studio.NotFound)
	if err := d.ClearLimit(t.Context(), d.teacher, child, view.Limits[i].ID, "looked at, pain-free"); err != nil {
		t.Error(err)
	}
}

// The second line alone: a guardian may put a limit on the own child, open and without an end, and on nobody else.
func TestGuardianSetsLimitsForTheOwnChildOnly(t *testing.T) {
	d := openDesk(t)
	set := func(child uuid.UUID) error {
		return d.db.InTx(t.Context(), d.parent, func(tx *postgres.Tx) error {
			_, err := tx.SetCareLimit(t.Context(), studio.CareLimit{ChildID: child, AvoidBack: true, Action: "No back-bends", FromOn: tx.Today}, "")
			return err
		})
	}
	if err := set(testkit.SampleID("c1a1")); err != nil {
		t.Errorf("the own child: %v", err)
	}
	wantCode(t, "a child that is no longer the own one", set(testkit.SampleID("c1b1")), studio.NotFound)
}

// 9 turns of 2 on the wrists are 18 (arithmetic by hand); 9 more in a class that the teacher does not take make 36.
func TestLoadCountsEveryClass(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	wrists := func() int {
		t.Helper()
		view, err := d.CareOf(t.Context(), d.teacher, child)
		if err != nil {
			t.Fatal(err)
		}
		return view.Load.Weeks[len(view.Load.Weeks)-1].Wrists
	}
	if got := wrists(); got != 18 {
		t.Errorf("load on the wrists is %d, want 18", got)
	}
	conn := ownerConn(t)
	for _, sql := range []string{
		`insert into enrolment (class_id, child_id, from_on) values ($2, $1, '2026-01-05')`,
		`insert into plan_member (plan_id, child_id, group_no) select id, $1, 1 from plan where lesson_id <> $2 and shared_at is null`,
		`insert into plan_entry (plan_id, rotation, child_id, rung_key, turns, wait_share) select id, 1, $1, 'hs-return', 9, 0 from plan where lesson_id <> $2 and shared_at is null`,
	} {
		if _, err := conn.Exec(t.Context(), sql, child, testkit.SampleID("c0b0")); err != nil {
			t.Fatal(err)
		}
	}
	if got := wrists(); got != 36 {
		t.Errorf("load on the wrists is %d, want 36 with the other class", got)
	}
	if _, err := conn.Exec(t.Context(), `update attendance set present = false where child_id = $1`, child); err != nil {
		t.Fatal(err)
	}
	if got := wrists(); got != 18 {
		t.Errorf("load on the wrists is %d, want 18: the child was away from one of the two", got)
	}
}
