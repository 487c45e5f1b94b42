package web_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/testkit"
)

// Reasons for which a column needs no canary. The same text may be a reason for many.
const (
	aKey      = "a key of the skill library, which says nothing about anybody"
	aWord     = "one of a few words of the program's own, held by a check or by a form"
	aDay      = "a day of the studio's calendar; what it is the day of has a canary beside it"
	aHash     = "a hash or a sealed secret: its text is a canary of its own where there is one"
	ownWords  = "written by the program itself"
	staffSign = "the name of one of the staff, which signs what families read"
)

// harmlessTables say nothing about a person, or nothing that everybody of the studio may not read.
var harmlessTables = map[string]string{
	"cause": aKey, "cause_drill": aKey, "drill": aKey, "drill_equipment": aKey, "drill_rung": aKey, "equipment": aKey, "fault": aKey, "ladder": aKey, "rung": aKey,
	"rung_equipment": aKey, "rung_fit": aKey, "rung_need": aKey, "mark_fault": aKey, "plan_cell": aKey, "pacing_rung": aKey, "pacing_before": aKey, "piece_part_rung": aKey, "piece_swap": aKey,
	"lesson_block": aKey, "sign_off": aKey, "forecast_kept": aKey,
	"account_role": aWord, "class_pair": aWord, "class_staff": aWord, "plan_staff": aWord, "report_bundle": aWord,
	"enrolment": aDay, "holiday": aDay, "practice": aDay, "term": aDay,
	"class": "what the studio offers", "consent_text": "what the studio asks all families", "studio_settings": "numbers and names of the studio's own",
	"retention_run": "counts", "plan_before": "ids and keys", "piece_part": "names of parts, as all of the class hear them",
}

// harmless are columns of the other tables.
var harmless = map[string]string{
	"account.language": aWord, "account_note.kind": aWord, "care_change.what": aWord, "consent_answer.purpose": aWord, "guardian.rights": aWord, "health_read.kind": aWord,
	"invitation.kind": aWord, "invitation.roles": aWord, "invitation.rights": aWord, "mark.side": aWord, "mark.outcome": aWord, "sheet_item.answer": aWord, "home_exception.ended_how": aWord,
	"mark.rung_key": aKey, "home_assignment.drill_key": aKey, "home_exception.drill_key": aKey, "plan_entry.rung_key": aKey, "plan_entry.drill_key": aKey, "sign_off_request.ladder_key": aKey, "sign_off_request.rung_key": aKey,
	"care_change.until_on": aDay, "care_change.review_on": aDay, "care_limit.from_on": aDay, "care_limit.until_on": aDay, "care_limit.review_on": aDay, "child.joined_on": aDay, "child.left_on": aDay,
	"home_assignment.from_on": aDay, "home_assignment.until_on": aDay, "home_exception.ticked_on": aDay, "home_exception.until_on": aDay, "incident.keep_until": aDay, "message.written_on": aDay,
	"piece.on_day": aDay, "report_release.as_of": aDay, "soreness.began_on": aDay, "staff.left_on": aDay,
	"audit_link.hash": aHash, "calendar_feed.token_hash": aHash, "email_change.confirm_hash": aHash, "email_change.stop_hash": aHash, "invitation.token_hash": aHash,
	"passkey.credential_id": aHash, "passkey.credential": aHash, "recovery_code.code_hash": aHash, "second_factor.secret": aHash, "second_factor.key_id": aHash, "session.id_hash": aHash,
	"sheet_item.digest": aHash, "sheet_verdict.digest": aHash,
	"audit.action": ownWords, "audit.subject": ownWords, "sheet_item.words": ownWords, "session.data": "the sentence that tells what was done, which the matrix reads on the page after",
	"health_read.by_name": staffSign, "home_exception.signed": staffSign, "message.signed": staffSign,
	"child.initial": "with the first name, what assistants may know",
	"piece.name":    "as all of the class hear it",
}

// column is a column that can hold words or days.
type column struct{ table, name string }

func (c column) String() string { return c.table + "." + c.name }

// Every column that can hold words or days is seeded with a canary in the sample studio, or said to need none: a new column cannot be
// forgotten.
func TestEveryColumnHasACanary(t *testing.T) {
	t.Parallel()
	conn, err := pgx.Connect(t.Context(), testkit.Fill(t).Owner)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	exec := func(sql string) {
		if _, err := conn.Exec(t.Context(), sql); err != nil {
			t.Fatal(err)
		}
	}
	seeded := func() []string { return withoutCanary(t, conn) }
	for _, wrong := range seeded() {
		t.Error(wrong)
	}
	exec(`alter table child_detail add shoe_size text not null default '34'`)
	exec(`create table pet (name text)`)
	if got := seeded(); !slices.Equal(got, []string{"child_detail.shoe_size has no canary in sample.sql", "pet.name has no canary in sample.sql"}) {
		t.Errorf("a new column and a new table are not noticed: %q", got)
	}
}

// withoutCanary lists the columns in which no row holds a canary and that are not said to be harmless, and what is said to be harmless
// and does not exist, or holds a canary after all.
func withoutCanary(t *testing.T, conn *pgx.Conn) []string {
	t.Helper()
	var wrong []string
	tables, columns := maps.Clone(harmlessTables), maps.Clone(harmless)
	for _, c := range wordColumns(t, conn) {
		sings := sings(t, conn, c)
		switch _, listed := harmless[c.String()]; {
		case harmlessTables[c.table] != "":
			delete(tables, c.table)
		case !listed && !sings:
			wrong = append(wrong, c.String()+" has no canary in sample.sql")
		case listed && sings:
			wrong = append(wrong, c.String()+" holds a canary and is said to need none")
		}
		delete(columns, c.String())
	}
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		wrong = append(wrong, name+" is said to be harmless and has no such column")
	}
	for _, name := range slices.Sorted(maps.Keys(columns)) {
		wrong = append(wrong, name+" is said to be harmless and is no such column")
	}
	return wrong
}

func wordColumns(t *testing.T, conn *pgx.Conn) []column {
	t.Helper()
	rows, err := conn.Query(t.Context(), `select table_name::text, column_name::text from information_schema.columns
		where table_schema = 'public' and table_name <> 'schema_migrations' and (data_type in ('text', 'character varying', 'bytea', 'date', 'json', 'jsonb') or udt_name in ('_text', '_date', '_varchar'))
		order by 1, 2`)
	if err != nil {
		t.Fatal(err)
	}
	all, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (column, error) {
		var c column
		return c, row.Scan(&c.table, &c.name)
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// sings reports whether a row holds a canary in the column; bytes are read as the letters that they are.
func sings(t *testing.T, conn *pgx.Conn, c column) bool {
	t.Helper()
	var text string
	value := pgx.Identifier{c.name}.Sanitize()
	sql := fmt.Sprintf(`select coalesce(string_agg(case pg_typeof(%s)::text when 'bytea' then encode(%[1]s::text::bytea, 'escape') else %[1]s::text end, E'\n'), '') from %s`, value, pgx.Identifier{c.table}.Sanitize())
	if err := conn.QueryRow(t.Context(), sql).Scan(&text); err != nil {
		t.Fatalf("%s: %v", c, err)
	}
	heard, _ := ear().Listen(text)
	return len(heard) > 0
}
