package postgres_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5/pgconn"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

const (
	ticks = `insert into home_exception (id, child_id, drill_key, reason, signed, ticked_by, ticked_at, ticked_on, until_on)
		values ('00000000-0000-4000-8000-0000000041a2', '00000000-0000-4000-8000-00000000c1a2', 'd-kick', 'why', 'Tove Arkle', '00000000-0000-4000-8000-00000000ac02', now(), '2026-03-04', '2026-03-25');`
	// sends is an assignment of a drill that is not safe, to the classmate, on an exception.
	sends = `insert into home_assignment (child_id, drill_key, home_safe, sets, repeats, hold_seconds, from_on, until_on, assigned_at, exception_id)
		values ('00000000-0000-4000-8000-00000000c1a2', 'd-kick', false, 2, 5, 0, '2026-03-04', '2026-03-25', now(), '00000000-0000-4000-8000-0000000041a2');`
	ends = `update home_exception set ended_at = now(), ended_how = 'taken back' where id = '00000000-0000-4000-8000-0000000041a2';`
)

// asTeacher runs statements as the serving role, for the teacher of class A, without a line of the program in between; it keeps nothing.
func (p *prober) asTeacher(t *testing.T, sql string) error {
	t.Helper()
	return p.db.InTx(t.Context(), studio.Actor{ID: testkit.SampleID("ac02")}, func(tx *postgres.Tx) error {
		for _, one := range strings.Split(sql, ";") {
			if strings.TrimSpace(one) == "" {
				continue
			}
			if _, err := tx.Raw().Exec(t.Context(), one); err != nil {
				return err
			}
		}
		var out int
		if err := tx.Raw().QueryRow(t.Context(), `select count(*) from home_assignment where drill_key = 'd-kick' and withdrawn_at is null`).Scan(&out); err != nil {
			return err
		}
		return outError(out)
	})
}

// outError says how many unsafe drills are out, and rolls the transaction back.
type outError int

func (outError) Error() string { return "rolled back" }

func TestTheDatabaseLetsAnUnsafeDrillOutOnALiveExceptionOnly(t *testing.T) {
	t.Parallel()
	p := newProber(t)
	var out outError
	if err := p.asTeacher(t, ticks+sends); !errors.As(err, &out) || out != 1 {
		t.Fatalf("ticked and sent: %v, %d out", err, out)
	}
	if err := p.asTeacher(t, ticks+sends+ends); !errors.As(err, &out) || out != 0 {
		t.Errorf("what was sent does not end with the exception: %v, %d out", err, out)
	}
	with := func(old, new string) string { return strings.Replace(sends, old, new, 1) }
	without := strings.NewReplacer(", exception_id)", ")", ", '00000000-0000-4000-8000-0000000041a2')", ")").Replace(sends)
	for name, c := range map[string]struct{ sql, constraint string }{
		"none":                               {with("-0000000041a2'", "-0000000041ff'"), "home_assignment_has_exception"},
		"none, and said to be unsafe":        {without, "home_assignment_home_safe_check"},
		"none, and said to be safe":          {strings.Replace(without, "false", "true", 1), "home_assignment_drill_is_home_safe"},
		"ended":                              {ticks + ends + sends, "home_assignment_has_exception"},
		"ended, and taken out again":         {ticks + sends + ends + `update home_assignment set withdrawn_at = null where drill_key = 'd-kick'`, "home_assignment_has_exception"},
		"before it was ticked":               {ticks + with("'2026-03-04', '2026-03-25'", "'2026-03-03', '2026-03-25'"), "home_assignment_has_exception"},
		"after its last day":                 {ticks + with("'2026-03-04', '2026-03-25'", "'2026-03-04', '2026-03-26'"), "home_assignment_has_exception"},
		"made longer afterwards":             {ticks + sends + `update home_assignment set until_on = '2026-03-26' where drill_key = 'd-kick'`, "home_assignment_has_exception"},
		"of another child":                   {ticks + with("-00000000c1a2", "-00000000c1a1"), "home_assignment_obeys_limits"},
		"for another drill":                  {ticks + strings.Replace(strings.Replace(sends, "d-kick", "d-dish", 1), "false", "true", 1), "home_assignment_exception"},
		"made another exception's":           {ticks + sends + `update home_assignment set exception_id = null where drill_key = 'd-kick'`, "home_assignment_home_safe_check"},
		"the exception is for a year":        {strings.Replace(ticks, "2026-03-25", "2027-03-04", 1), "home_exception_span"},
		"the exception has no reason":        {strings.Replace(ticks, "'why'", "' '", 1), "home_exception_reason_check"},
		"a second exception":                 {ticks + strings.Replace(ticks, "41a2", "41a3", 1), "home_exception_once"},
		"the drill comes to need a spotter":  {ticks + `update drill set spot_people = 1, spot_manner = 'near' where key = 'd-kick'`, "home_exception_no_spotter"},
		"the exception was ended, and lives": {ticks + ends + `update home_exception set ended_at = null, ended_how = null`, "home_exception_append_only"},
	} {
		var pg *pgconn.PgError
		if err := p.asTeacher(t, c.sql); !errors.As(err, &pg) || pg.ConstraintName != c.constraint {
			t.Errorf("%s: got %v, want %s", name, err, c.constraint)
		}
	}
	if _, err := p.owner.Exec(t.Context(), `update home_exception set until_on = until_on + 1`); err == nil || !strings.Contains(err.Error(), "append-only") {
		t.Errorf("an exception may be made longer: %v", err)
	}
	if _, err := p.owner.Exec(t.Context(), `update home_exception set ended_at = now(), ended_how = 'over'; update drill set spot_people = 1, spot_manner = 'near' where key = 'd-kick'`); err != nil {
		t.Fatal(err)
	}
	var pg *pgconn.PgError
	if err := p.asTeacher(t, ticks); !errors.As(err, &pg) || pg.ConstraintName != "home_exception_drill" {
		t.Errorf("for a drill that needs a spotter: got %v", err)
	}
}
