package app

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

const ownerWords = "seven slow herons at noon"

// knowsWords gives an account a passphrase.
func (d *desk) knowsWords(t *testing.T, account uuid.UUID, words string) {
	t.Helper()
	knownWords(t, account, words)
}

// knownWords does so, and gives what checks it.
func knownWords(t *testing.T, account uuid.UUID, words string) *auth.Hasher {
	t.Helper()
	hasher, err := auth.NewHasher(auth.DefaultParams(), 1)
	if err != nil {
		t.Fatal(err)
	}
	hash, err := hasher.Hash(t.Context(), words)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := ownerConn(t).Exec(t.Context(), `update account_secret set password_hash = $2 where account_id = $1`, account, hash); err != nil {
		t.Fatal(err)
	}
	return hasher
}

func sums(t *testing.T, conn *pgx.Conn, sql string) map[string]int {
	t.Helper()
	rows, err := conn.Query(t.Context(), sql)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]int{}
	var key string
	var n int
	if _, err := pgx.ForEachRow(rows, []any{&key, &n}, func() error { found[key] = n; return nil }); err != nil {
		t.Fatal(err)
	}
	return found
}

func TestOnlyTheOwnerErases(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	d.knowsWords(t, d.owner.ID, ownerWords)
	for name, actor := range map[string]studio.Actor{"teacher": d.teacher, "assistant": d.assistant, "parent": d.parent} {
		d.knowsWords(t, actor.ID, ownerWords)
		wantCode(t, name+" erases", d.EraseChild(t.Context(), actor, child, "Aliquot Alderleak", ownerWords), studio.NotFound)
		wantCode(t, name+" declines", d.DeclineErasure(t.Context(), actor, child, "No."), studio.NotFound)
		_, err := d.Erasure(t.Context(), actor, child)
		wantCode(t, name+" looks", err, studio.NotFound)
	}
	wantCode(t, "parent of another child asks", d.AskErasure(t.Context(), d.actor(t, "ac07"), child, ""), studio.NotFound)
	wantCode(t, "asked twice", d.AskErasure(t.Context(), d.parent, child, ""), studio.Conflict)
	if err := d.EraseChild(t.Context(), d.owner, child, "Aliquot", ownerWords); problem(err, "name") == "" {
		t.Errorf("without the whole name: %v", err)
	}
	if err := d.EraseChild(t.Context(), d.owner, child, "Aliquot Alderleak", "something else entirely"); problem(err, "passphrase") == "" {
		t.Errorf("without the passphrase: %v", err)
	}
	wantCode(t, "a child that is not there", d.EraseChild(t.Context(), d.owner, uuid.New(), "Aliquot Alderleak", ownerWords), studio.NotFound)
}

// After erasing nothing in the whole database names the child, but for the incident record that must be kept; and every sum over a
// class is what it was.
func TestErasingLeavesATombstoneAndEverySum(t *testing.T) {
	d, conn := openDesk(t), ownerConn(t)
	child := testkit.SampleID("c1a1")
	d.knowsWords(t, d.owner.ID, ownerWords)
	totals := []string{
		`select concat_ws('/', l.class_id, m.rung_key, m.side, m.outcome), count(*)::int from mark m join lesson l on l.id = m.lesson_id group by 1`,
		`select concat_ws('/', l.class_id, m.rung_key, f.fault_key), count(*)::int from mark_fault f join mark m on m.id = f.mark_id join lesson l on l.id = m.lesson_id group by 1`,
		`select concat_ws('/', l.id, a.present), count(*)::int from attendance a join lesson l on l.id = a.lesson_id group by 1`,
		`select concat_ws('/', lesson_id, effort), count(*)::int from child_effort group by 1`,
		`select plan_id::text, count(*)::int from plan_member group by 1`,
		`select class_id::text, count(*)::int from enrolment group by 1`,
	}
	var before []map[string]int
	for _, sql := range totals {
		before = append(before, sums(t, conn, sql))
	}
	if len(before[0]) == 0 || len(before[2]) == 0 {
		t.Fatal("the sample has no marks or attendance to sum")
	}
	if err := d.EraseChild(t.Context(), d.owner, child, "aliquot  alderleak", ownerWords); err != nil {
		t.Fatal(err)
	}
	for i, sql := range totals {
		if after := sums(t, conn, sql); !maps.Equal(before[i], after) {
			t.Errorf("sums changed: %s\nwas %v\nis  %v", sql, before[i], after)
		}
	}
	left := sums(t, conn, `select c.relname::text, (xpath('/row/c/text()', query_to_xml(format('select count(*) as c from %I x where x::text ~ ''Aliquot|Alderleak|contactleak-a1|refleak-a1|2015-05-17|reasonleak-a1|changeleak-a1|soreleak-a1|homewhy-a1|aboutleak-a1|messageleak-a1|limitdo-a1|itemleak-a$|hallleak-a$|waitleak-a|eraseleak-a1|parentmail-a|Petra''', c.relname), false, true, '')))[1]::text::int
		from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and c.relname <> 'schema_migrations'`)
	for table, n := range left {
		if n > 0 && table != "incident_person" {
			t.Errorf("%s still names the child in %d rows", table, n)
		}
	}
	if left["incident_person"] != 1 {
		t.Error("the incident record that must be kept does not say whom it is about")
	}
	if action, _, _ := lastAudit(t, d.App); action != "erased a child" {
		t.Errorf("the trail says %q", action)
	}
	wantCode(t, "erased twice", d.EraseChild(t.Context(), d.owner, child, "Erased child", ownerWords), studio.NotFound)
	record, err := d.ChildRecord(t.Context(), d.owner, child)
	if err != nil || record.ErasedAt == nil || record.FullName() != "Erased child" || len(record.Guardians) != 0 {
		t.Errorf("the tombstone is %+v, %v", record, err)
	}
	if check, err := d.CheckTrail(t.Context(), d.owner); err != nil || check.Broken != nil {
		t.Errorf("the trail is broken after it: %+v, %v", check.Broken, err)
	}
}

func TestACopyHoldsWhatIsTheFamilys(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	d.knowsWords(t, d.parent.ID, ownerWords)
	d.knowsWords(t, d.teacher.ID, ownerWords)
	for name, actor := range map[string]studio.Actor{"parent of another child": d.actor(t, "ac07"), "teacher": d.teacher, "assistant": d.assistant, "owner": d.owner} {
		_, err := d.ExportChild(t.Context(), actor, child, ownerWords)
		wantCode(t, name, err, studio.NotFound)
	}
	_, err := d.ExportChild(t.Context(), d.parent, child, "not the passphrase")
	if problem(err, "passphrase") == "" {
		t.Errorf("without the passphrase: %v", err)
	}
	data, err := d.ExportChild(t.Context(), d.parent, child, ownerWords)
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, table := range data.Tables {
		for _, row := range table.Rows {
			if len(row) != len(table.Labels) {
				t.Fatalf("%s: a row of %d under %d labels", table.Title, len(row), len(table.Labels))
			}
			for _, text := range row {
				if text != nil {
					texts = append(texts, *text)
				}
			}
		}
	}
	all := strings.Join(texts, "\n")
	for _, want := range []string{"Aliquot", "Alderleak", "2015-05-17", "contactleak-a1", "refleak-a1", "limitdo-a1", "reasonleak-a1", "changeleak-a1", "soreleak-a1", "homewhy-a1", "messageleak-a1",
		"Small kick and return", "Amberclass", "missed", "parentmail-a@sample.example", "Arms bend", "eraseleak-a1"} {
		if !strings.Contains(all, want) {
			t.Errorf("the copy leaves out %q", want)
		}
	}
	for _, not := range []string{"Azimuth", "Cedarleak", "Bolide", "Birchleak", "aboutleak", "hallleak", "itemleak", "whatleak", "noteleak", "argon2id", "teachmail", "-b1"} {
		if strings.Contains(all, not) {
			t.Errorf("the copy holds %q", not)
		}
	}
	if !slices.ContainsFunc(data.Withheld, func(w studio.DataWithheld) bool { return w.Title == "Teachers' notes" && w.Why != "" }) {
		t.Error("the copy does not say that notes are left out")
	}
	// Outside of that one transaction the database still closes them.
	if err := d.db.InTx(t.Context(), d.parent, func(tx *postgres.Tx) error {
		reason, err := tx.CareReason(t.Context(), child, testkit.SampleID("ca01"))
		if err == nil {
			t.Errorf("a guardian reads a reason by other ways: %q", reason)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}

// Before a child is erased the owner reads which words filed elsewhere hold its first or last name, whatever the case and the accents;
// names inside of other words, and what goes with the child, are left out.
func TestErasureListsWordsThatNameTheChild(t *testing.T) {
	d := openDesk(t)
	conn, child, other := ownerConn(t), testkit.SampleID("c1a1"), testkit.SampleID("c1a2")
	for _, sql := range []string{
		`update child set given_name = 'Zoë' where id = '` + child.String() + `'`,
		`update child_detail set family_name = 'Đorđe-Łuk' where child_id = '` + child.String() + `'`,
		`insert into message (class_id, note, signed, written_on, written_at) values ('` + testkit.SampleID("c0a0").String() + `', 'ZOE’s mat is in the hall.', 'T', '2026-03-01', '2026-03-01 10:00+00')`,
		`insert into message (class_id, note, signed, written_on, written_at) values ('` + testkit.SampleID("c0a0").String() + `', 'Zoes and zoetrope.', 'T', '2026-03-01', '2026-03-01 11:00+00')`,
		`insert into message (child_id, note, signed, written_on, written_at) values ('` + child.String() + `', 'To Zoë.', 'T', '2026-03-01', '2026-03-01 12:00+00')`,
		`insert into child_note (child_id, note, written_at) values ('` + other.String() + `', 'Pairs well with dorde luk', '2026-03-02 10:00+00')`,
	} {
		if _, err := conn.Exec(t.Context(), sql); err != nil {
			t.Fatal(sql, err)
		}
	}
	view, err := d.Erasure(t.Context(), d.owner, child)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range view.Mentions {
		got = append(got, string(m.Kind)+": "+m.Words)
	}
	if want := []string{"child note: Pairs well with dorde luk", "class message: ZOE’s mat is in the hall."}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if _, err := d.Erasure(t.Context(), d.teacher, child); studio.CodeOf(err) != studio.NotFound {
		t.Errorf("a teacher: %v", err)
	}
}
