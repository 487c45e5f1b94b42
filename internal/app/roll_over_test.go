package app

import (
	"errors"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgconn"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// nextTerm takes the sample's spring over into an autumn: Amberclass goes on, a child of it stays, the other of it is promoted to
// Berylclass, the child of Berylclass goes into none.
func nextTerm() RollOver {
	amber, beryl := testkit.SampleID("c0a0"), testkit.SampleID("c0b0")
	return RollOver{From: spring(), Next: studio.Term{Name: "Autumn", StartsOn: on(2026, 9, 7), EndsOn: on(2026, 12, 11)},
		Holidays: []studio.Holiday{{Name: "Half-way week", StartsOn: on(2026, 10, 26), EndsOn: on(2026, 10, 30)}},
		Classes:  []ClassCopy{{Class: amber, Name: "Amberclass"}, {Class: beryl, Name: "Berylclass, later"}},
		Places: []ChildPlace{{Child: testkit.SampleID("c1a1"), From: amber, To: amber},
			{Child: testkit.SampleID("c1a2"), From: amber, To: beryl}}}
}

func TestTermRollsOver(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	owner := bundleOwner()
	from, classes, err := a.RollOverOf(t.Context(), owner, spring())
	if err != nil || from.Name != "Spring" || len(classes) != 3 || len(classes[1].Children)+len(classes[0].Children)+len(classes[2].Children) == 0 {
		t.Fatalf("%v, %v, %v", from, classes, err)
	}
	made, err := a.RollTermOver(t.Context(), owner, nextTerm())
	if err != nil {
		t.Fatal(err)
	}
	// Wednesdays from 9 September to 9 December 2026 without 28 October: 14 - 1 = 13, of two classes (counted on a calendar).
	if made.Classes != 2 || made.Children != 2 || made.Lessons != 26 {
		t.Errorf("%+v", made)
	}
	ask := func(sql string, args ...any) (text string) {
		if err := ownerConn(t).QueryRow(t.Context(), sql, args...).Scan(&text); err != nil {
			t.Fatal(sql, err)
		}
		return text
	}
	const inTerm = `select coalesce(string_agg(c.name || ' ' || h.given_name || ' ' || e.from_on || ' ' || coalesce(e.until_on::text, 'open'), ', ' order by c.name, h.given_name), '')
		from enrolment e join class c on c.id = e.class_id join child h on h.id = e.child_id where c.term_id = $1`
	if got, want := ask(inTerm, made.Term), "Amberclass Aliquot 2026-09-07 open, Berylclass, later Azimuth 2026-09-07 open"; got != want {
		t.Errorf("in the new term: %s, want %s", got, want)
	}
	if got, want := ask(inTerm+` and c.name in ('Amberclass', 'Berylclass')`, spring()),
		"Amberclass Aliquot 2026-01-05 2026-04-03, Amberclass Azimuth 2026-01-05 2026-04-03, Berylclass Bolide 2026-01-05 2026-04-03"; got != want {
		t.Errorf("in the old term: %s, want %s", got, want)
	}
	if got, want := ask(`select string_agg(s.name || ' ' || cs.duty || ' ' || cs.from_on, ', ' order by s.name) from class_staff cs join staff s on s.id = cs.staff_id
		join class c on c.id = cs.class_id where c.term_id = $1 and c.name = 'Amberclass'`, made.Term),
		"Dag Locked teacher 2026-09-07, Hanne Anvil assistant 2026-09-07, Tove Arkle teacher 2026-09-07"; got != want {
		t.Errorf("staff: %s, want %s", got, want)
	}
	if ask(`select count(*)::text from mark where child_id = $1`, testkit.SampleID("c1a1")) == "0" {
		t.Error("the marks of the old term are gone")
	}
}

// A class goes on with its settings and its ladders, and a wish about a pair with the two, wherever they go together.
func TestRollOverKeepsSettingsAndPairs(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	amber, beryl := testkit.SampleID("c0a0"), testkit.SampleID("c0b0")
	plan := nextTerm()
	apart, err := a.RollTermOver(t.Context(), bundleOwner(), plan)
	if err != nil || apart.Pairs != 0 {
		t.Errorf("two who go apart: %+v, %v", apart, err)
	}
	for i := range plan.Places {
		plan.Places[i].To = beryl
	}
	plan.Next = studio.Term{Name: "Winter", StartsOn: on(2027, 1, 4), EndsOn: on(2027, 3, 26)}
	plan.Holidays = nil
	made, err := a.RollTermOver(t.Context(), bundleOwner(), plan)
	if err != nil || made.Pairs != 1 {
		t.Fatalf("two who go on together: %+v, %v", made, err)
	}
	var pair string
	if err := ownerConn(t).QueryRow(t.Context(), `select c.name || ' ' || p.wish from class_pair p join class c on c.id = p.class_id where c.term_id = $1`, made.Term).Scan(&pair); err != nil || pair != "Berylclass, later together" {
		t.Errorf("%s, %v", pair, err)
	}
	const settings = `select to_jsonb(c) - '{id,term_id,name}'::text[] from class c where `
	var before, after string
	if err := ownerConn(t).QueryRow(t.Context(), settings+`id = $1`, amber).Scan(&before); err != nil {
		t.Fatal(err)
	}
	if err := ownerConn(t).QueryRow(t.Context(), settings+`term_id = $1 and name = 'Amberclass'`, made.Term).Scan(&after); err != nil || before != after {
		t.Errorf("settings %s, want %s, %v", after, before, err)
	}
}

func TestRollOverRefuses(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	for name, c := range map[string]struct {
		change func(*RollOver)
		want   studio.Code
	}{
		"a term that begins before the old one ends": {func(r *RollOver) { r.Next.StartsOn = on(2026, 4, 3) }, studio.Invalid},
		"no class":                          {func(r *RollOver) { r.Classes, r.Places = nil, nil }, studio.Invalid},
		"a child from a class it is not in": {func(r *RollOver) { r.Places[0].Child = testkit.SampleID("c1b1") }, studio.NotFound},
		"a child into a class not copied":   {func(r *RollOver) { r.Places[0].To = cinderclass() }, studio.NotFound},
		"a class of another term":           {func(r *RollOver) { r.From = testkit.SampleID("7e02"); r.Next.StartsOn = on(2026, 9, 7) }, studio.NotFound},
		"a class that is not there":         {func(r *RollOver) { r.Classes[0].Class = uuid.New() }, studio.NotFound},
		"a class without a name":            {func(r *RollOver) { r.Classes[0].Name = "" }, studio.Invalid},
		"a holiday outside of the new term": {func(r *RollOver) { r.Holidays[0].StartsOn, r.Holidays[0].EndsOn = on(2026, 1, 1), on(2026, 1, 2) }, studio.Invalid},
	} {
		plan := nextTerm()
		c.change(&plan)
		if _, err := a.RollTermOver(t.Context(), bundleOwner(), plan); studio.CodeOf(err) != c.want {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, who := range []studio.Actor{cinderTeacher(), sampleActor("ac04", studio.AssistantRole), sampleActor("ac06", studio.ParentRole), {}} {
		if _, err := a.RollTermOver(t.Context(), who, nextTerm()); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%v rolls a term over: %v", who.Roles, err)
		}
		if err := a.PutTermAway(t.Context(), who, spring(), true); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%v puts a term away: %v", who.Roles, err)
		}
	}
	var terms int
	if err := ownerConn(t).QueryRow(t.Context(), `select count(*) from term`).Scan(&terms); err != nil || terms != 2 {
		t.Errorf("%d terms, %v: something was written", terms, err)
	}
}

// asApp runs a statement by the role that serves, as the studio's owner: the most that anybody may by row-level security.
func asApp(t *testing.T, sql string) error {
	t.Helper()
	conn := ownerConn(t)
	if _, err := conn.Exec(t.Context(), `set role rungbook_app; select set_config('app.actor', '`+testkit.SampleID("ac01").String()+`', false), set_config('app.owner', 'true', false), set_config('app.teacher', 'true', false)`); err != nil {
		t.Fatal(err)
	}
	_, err := conn.Exec(t.Context(), sql)
	return err
}

// putAway reports whether the database refused because the term is put away, or because nobody may do that at all.
func putAway(err error) bool {
	var refused *pgconn.PgError
	return errors.As(err, &refused) && (refused.ConstraintName == "term_is_put_away" || refused.Code == "42501")
}

// The database itself refuses to change what is in a term that was put away, whoever asks, the role that owns the tables included.
func TestTermPutAwayIsReadOnlyInTheDatabase(t *testing.T) {
	a := reportStudio(t, on(2026, 4, 10))
	owner := bundleOwner()
	if err := a.PutTermAway(t.Context(), owner, testkit.SampleID("7e02"), true); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("a term that is not over: %v", err)
	}
	if err := a.PutTermAway(t.Context(), owner, spring(), true); err != nil {
		t.Fatal(err)
	}
	amber := testkit.SampleID("c0a0")
	for _, sql := range []string{
		`update term set name = 'Winter' where id = '` + spring().String() + `'`,
		`delete from holiday`,
		`update class set name = 'Other' where id = '` + amber.String() + `'`,
		`delete from class where id = '` + amber.String() + `'`,
		`update enrolment set from_on = from_on + 1`,
		`delete from enrolment`,
		`insert into enrolment (class_id, child_id, from_on) values ('` + amber.String() + `', '` + testkit.SampleID("c1b1").String() + `', '2026-02-01')`,
		`update class_staff set from_on = from_on + 1`,
		`update class_pair set wish = 'apart'`,
		`update lesson set minutes = minutes + 5`,
		`delete from lesson`,
		`update attendance set present = not present`,
		`update plan set version = version + 1`,
		`update mark set outcome = 'missed' where lesson_id is not null`,
		`insert into mark (id, lesson_id, child_id, rung_key, outcome, marked_at, received_at) values (gen_random_uuid(), '` + testkit.SampleID("1ea0").String() + `', '` + testkit.SampleID("c1a1").String() + `', 'hs-return', 'clean', now(), now())`,
		`insert into report_note (class_id, child_id, note, written_at) values ('` + amber.String() + `', '` + testkit.SampleID("c1a1").String() + `', 'x', now())`,
	} {
		if _, err := ownerConn(t).Exec(t.Context(), sql); err == nil {
			t.Errorf("goes through: %s", sql)
		}
		if err := asApp(t, sql); !putAway(err) {
			t.Errorf("by the role that serves, for an owner: %s: %v", sql, err)
		}
	}
	if _, err := a.RollTermOver(t.Context(), owner, nextTerm()); err != nil {
		t.Errorf("a term that was put away rolls over: %v", err)
	}
	err := a.WriteReportNote(t.Context(), owner, studio.ReportNote{ClassID: amber, ChildID: testkit.SampleID("c1a1"), Note: "Late."})
	if studio.CodeOf(err) != studio.Conflict {
		t.Errorf("a note: %v", err)
	}
	if _, err := a.ReportOf(t.Context(), owner, amber); err != nil {
		t.Errorf("it can no longer be read: %v", err)
	}
	// Erasing a child goes on: what the rows of a deleted account leave behind is not looked at, nor is an erasure.
	if _, err := ownerConn(t).Exec(t.Context(), `begin; select set_config('app.erase', '`+testkit.SampleID("c1a1").String()+`', true); update enrolment set until_on = greatest(from_on, '2026-04-02'); rollback`); err != nil {
		t.Errorf("an erasure: %v", err)
	}
	if _, err := ownerConn(t).Exec(t.Context(), `begin; delete from account where id = '`+testkit.SampleID("ac09").String()+`'; rollback`); err != nil {
		t.Errorf("deleting an account: %v", err)
	}
	if err := a.PutTermAway(t.Context(), owner, spring(), false); err != nil {
		t.Fatal(err)
	}
	if err := a.WriteReportNote(t.Context(), owner, studio.ReportNote{ClassID: amber, ChildID: testkit.SampleID("c1a1"), Note: "In time."}); err != nil {
		t.Errorf("after it was taken out: %v", err)
	}
}

func TestNotesForParentsByWhoAsks(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	ada, other := testkit.SampleID("c1c1"), testkit.SampleID("c1b1")
	write := func(who studio.Actor, child uuid.UUID, note string) error {
		return a.WriteReportNote(t.Context(), who, studio.ReportNote{ClassID: cinderclass(), ChildID: child, Note: note})
	}
	for name, who := range map[string]studio.Actor{"another teacher": sampleActor("ac03", studio.TeacherRole), "an assistant": sampleActor("ac04", studio.AssistantRole),
		"a parent": sampleActor("ac06", studio.ParentRole), "nobody": {}} {
		if err := write(who, ada, "Mine now."); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := write(cinderTeacher(), other, "Not in it."); studio.CodeOf(err) != studio.NotFound {
		t.Errorf("a child of another class: %v", err)
	}
	if err := write(cinderTeacher(), ada, "Listens well.\nNext: the wall."); err != nil {
		t.Fatal(err)
	}
	for _, c := range readTermReport(t, a, cinderTeacher()).Children {
		if want := map[bool]string{true: "Listens well.\nNext: the wall."}[c.Name == "Ada Cinder"]; c.Note != want {
			t.Errorf("%s: %q", c.Name, c.Note)
		}
	}
	if err := write(cinderTeacher(), ada, ""); err != nil {
		t.Fatal(err)
	}
	if c := readTermReport(t, a, cinderTeacher()).Children[0]; c.Note != "" {
		t.Errorf("taken away, it says %q", c.Note)
	}
}
