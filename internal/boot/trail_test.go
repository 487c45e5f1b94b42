package boot

import (
	"context"
	"errors"
	"log/slog"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// What check-trail says of a sound trail and of one that somebody meddled with in the database itself, past every trigger. No copy serves.
func TestTrailIsChecked(t *testing.T) {
	addresses := testkit.Fill(t)
	house, err := New(t.Context(), Config{DatabaseURL: addresses.App, BaseURL: "https://studio.example", StudioName: "Sample", TimeZone: "UTC"}, slog.New(slog.DiscardHandler), testkit.SampleNow)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(house.Close)
	owner, err := pgx.Connect(t.Context(), addresses.Owner)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { owner.Close(context.Background()) })
	for range 5 { // beside the two of the sample
		err := house.db.InTx(t.Context(), studio.ProgramActor(), func(tx *postgres.Tx) error { return tx.Audit(t.Context(), "did it", "child 1", nil) })
		if err != nil {
			t.Fatal(err)
		}
	}
	var head string
	if err := owner.QueryRow(t.Context(), `select encode(hash, 'hex') from audit_link where seq = 7`).Scan(&head); err != nil {
		t.Fatal(err)
	}
	meddle := func(sql string) {
		t.Helper()
		if _, err := owner.Exec(t.Context(), `set session_replication_role = replica; `+sql); err != nil {
			t.Fatal(err)
		}
	}
	check := func(what, head, want string, broken bool) {
		t.Helper()
		var out strings.Builder
		err := house.CheckTrail(t.Context(), head, &out)
		if errors.Is(err, ErrBroken) != broken || err != nil && !broken || !strings.Contains(out.String(), want) {
			t.Errorf("%s: %q, %v; want %q", what, out.String(), err, want)
		}
	}
	check("sound", "", "All 7 lines", false)
	check("sound, to a noted hash", strings.ToUpper(head), head, false)
	meddle(`create table kept as table audit; create table kept_link as table audit_link`)
	for name, c := range map[string]struct{ sql, want string }{
		"changed":            {`update audit set action = 'did nothing' where id = (select audit_id from audit_link where seq = 4)`, `3 lines of the trail hold, up to the first break: line 4 was changed`},
		"removed":            {`delete from audit where id = (select audit_id from audit_link where seq = 5)`, "4 lines of the trail hold, up to the first break: a line was removed at place 5"},
		"removed with link":  {`with l as (delete from audit_link where seq = 5 returning audit_id) delete from audit where id in (select audit_id from l)`, "4 lines of the trail hold, up to the first break: a line was removed at place 6, or right before it"},
		"slipped in":         {`insert into audit (at, action, subject) values (now(), 'cleared a care limit', 'child 1')`, `7 lines of the trail hold, up to the first break: a line was slipped in past the program, "cleared a care limit" about "child 1"`},
		"slipped in, linked": {`with a as (insert into audit (at, action, subject) values (now(), 'x', 'y') returning id) insert into audit_link select 8, id, sha256('guess') from a`, "7 lines of the trail hold, up to the first break: line 8 was changed"},
	} {
		meddle(c.sql)
		check(name, "", c.want, true)
		meddle(`delete from audit; insert into audit select * from kept; delete from audit_link; insert into audit_link select * from kept_link`)
	}
	meddle(`with l as (delete from audit_link where seq = 7 returning audit_id) delete from audit where id in (select audit_id from l)`)
	check("end cut off", "", "All 6 lines", false) // the chain alone cannot tell
	check("end cut off, to a noted hash", head, "none of theirs", true)
}
