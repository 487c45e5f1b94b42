package app

import (
	"slices"
	"strings"
	"testing"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// The sample: on Wednesday 4 March class A has two children of ten and, rostered, three adults: Tove, Hanne and Dag;
// class B has one child, Tibor and Hugo. NSPCC's floor of two adults makes A enough with one who may spot, and B just enough.
func TestCoverCountsTheNextLessons(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	book, err := d.Cover(ctx, d.owner)
	if err != nil {
		t.Fatal(err)
	}
	if len(book.Nights) != 2 || !book.Owner || book.Days != 14 {
		t.Fatalf("%d nights: %+v", len(book.Nights), book)
	}
	a := book.Nights[0]
	if a.Children != 2 || len(a.Here) != 3 || !a.Verdict.Enough || a.Verdict.Needed != 2 || a.Spare != 1 {
		t.Errorf("class A: %+v", a)
	}
	if b := book.Nights[1]; len(b.Absences) != 2 || !strings.Contains(b.Absences[0], "short of adults") || b.Spare != 0 {
		t.Errorf("class B without either of the two: %+v", b)
	}
	own, err := d.Cover(ctx, d.teacher)
	if err != nil || len(own.Nights) != 1 || own.Nights[0].Lesson.Class != a.Lesson.Class || own.Owner {
		t.Errorf("the teacher sees %d nights, %v, want the own class only", len(own.Nights), err)
	}
	for name, actor := range map[string]studio.Actor{"an assistant": d.assistant, "a parent": d.parent, "a locked teacher": {ID: testkit.SampleID("ac09"), Roles: []studio.Role{studio.TeacherRole}}, "nobody": {}} {
		_, err := d.Cover(ctx, actor)
		wantCode(t, name, err, studio.NotFound)
	}
}

// A stricter rule of the studio counts on the page and for the planner.
func TestAStricterRuleCountsEverywhere(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	conn := ownerConn(t)
	if _, err := conn.Exec(ctx, `insert into studio_settings (chosen, changed_at) values ('{"cover": {"ratios": [{"fromAge": 0, "children": 3}], "adults": 4, "words": ""}}', now())
		on conflict (one) do update set chosen = excluded.chosen`); err != nil {
		t.Fatal(err)
	}
	book, err := d.Cover(ctx, d.owner)
	if err != nil {
		t.Fatal(err)
	}
	if v := book.Nights[0].Verdict; v.Enough || v.Needed != 4 || v.Short != 1 {
		t.Errorf("the page counts %+v, want one of four missing", v)
	}
	sheet, err := d.Lesson(ctx, d.teacher, testkit.SampleID("1ea0"))
	if err != nil || sheet.Cover.Needed != 4 {
		t.Errorf("the lesson counts %+v, %v", sheet.Cover, err)
	}
	today, err := d.TodayOf(ctx, d.teacher)
	if err != nil || !strings.Contains(today.Staff.Cover, "1 lesson") {
		t.Errorf("today says %q, %v", today.Staff.Cover, err)
	}
}

// Azimuth has made the small kick secure, so the hold, which needs a spotter, is open to it. Hanne's sign-off for it ended: renewing it
// opens one child-rung, since two adults are left to watch. A care limit closes the wish, and with it the reason to renew.
func TestTheRenewalThatOpensMost(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	conn := ownerConn(t)
	for _, sql := range []string{
		`update rung set spot_people = 1, spot_manner = 'near' where key = 'hs-hold'`,
		`update sign_off set expires_on = '2026-02-01' where staff_id = '00000000-0000-4000-8000-000000005f04'`,
		`update sign_off set expires_on = '2026-03-20' where staff_id = '00000000-0000-4000-8000-000000005f05'`,
		`insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_by, marked_at, received_at) select gen_random_uuid(), '00000000-0000-4000-8000-00000000c1a2', 'hs-return', l.id,
			'clean', '00000000-0000-4000-8000-00000000ac02', l.starts_at, l.starts_at from lesson l, generate_series(1, 4) where l.class_id = '00000000-0000-4000-8000-00000000c0a0'`,
	} {
		if _, err := conn.Exec(ctx, sql); err != nil {
			t.Fatal(err)
		}
	}
	book, err := d.Cover(ctx, d.owner)
	if err != nil {
		t.Fatal(err)
	}
	closed := book.Nights[0].Closed
	if len(closed) != 1 || closed[0].Key != "hs-hold" || !strings.Contains(closed[0].Reason, "Hanne Anvil ended on 1 February") {
		t.Errorf("closed: %+v", closed)
	}
	if len(book.Renewals) != 1 || book.Renewals[0].Person != "Hanne Anvil" || book.Renewals[0].Turns != 1 || !slices.Equal(book.Renewals[0].Keys, []string{"hs-hold"}) {
		t.Errorf("renewals: %+v", book.Renewals)
	}
	if len(book.Ending) != 2 || book.Ending[0].DaysLeft != -31 || book.Ending[1].DaysLeft != 16 {
		t.Errorf("ending: %+v", book.Ending)
	}
	if len(book.Sole) != 1 || book.Sole[0].Person != "Hugo Bosk" {
		t.Errorf("held alone: %+v", book.Sole)
	}
	if _, err := conn.Exec(ctx, `insert into care_limit (child_id, avoid_wrists, avoid_inverted, action, from_on, set_at) values ('00000000-0000-4000-8000-00000000c1a2', true, true, 'x', '2026-03-01', now())`); err != nil {
		t.Fatal(err)
	}
	if book, err = d.Cover(ctx, d.owner); err != nil || len(book.Renewals) != 0 || len(book.Nights[0].Closed) != 0 {
		t.Errorf("with a care limit nobody is ready for the hold: %+v, %v", book.Nights[0].Closed, err)
	}
}

// Whatever is shown of objects says that it is not about people, and nothing of the cover is called safe.
func TestCoverNeverSaysSafe(t *testing.T) {
	h := HandlingFigures()
	if !strings.Contains(h.Caution, "not about people") {
		t.Errorf("the caution is %q", h.Caution)
	}
	for _, text := range append(h.Examples, h.Caution, CoverCaution) {
		if strings.Contains(strings.ToLower(text), "safe to") {
			t.Errorf("%q", text)
		}
	}
}
