package postgres_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// Which rows of the sample studio (internal/testkit/sample.sql) each actor may read, update, delete and insert, by SQL and without a
// line of the program in between. testdata/rows.txt is the promise, to be read by people: RUNGBOOK_UPDATE=1 writes it anew.
const rowsFile = "testdata/rows.txt"

// prober asks the database as the serving role.
type prober struct {
	db     *postgres.DB
	owner  *pgx.Conn
	tables []probed
}

// probed is a table with its rows: a short name and the row itself, as JSON.
type probed struct {
	name   string
	label  string // SQL that names a row
	column string // the first of its key
	last   string // its last column
	rows   []string
	json   map[string]string
}

type asker struct {
	name   string
	actor  studio.Actor
	secret string
	opens  func(*postgres.Tx, context.Context) error // what a use case opens for its own transaction; nil for nothing
	than   string                                    // the same actor without it: the promise names only what is gained
}

func askers() []asker {
	account := func(name, end string) asker { return asker{name: name, actor: studio.Actor{ID: testkit.SampleID(end)}} }
	secret := func(name, text string) asker {
		sum := sha256.Sum256([]byte(text))
		return asker{name: name, secret: hex.EncodeToString(sum[:])}
	}
	opening := func(than, does, end string, open func(*postgres.Tx, context.Context) error) asker {
		return asker{name: than + "-" + does, actor: studio.Actor{ID: testkit.SampleID(end)}, opens: open, than: than}
	}
	erasing := func(tx *postgres.Tx, ctx context.Context) error { return tx.OpenErasure(ctx, testkit.SampleID("c1a1")) }
	return []asker{{name: "program", actor: studio.ProgramActor()}, account("owner", "ac01"), account("teacher-A", "ac02"), account("teacher-B", "ac03"),
		account("helper-now", "ac04"), account("helper-later", "ac05"), account("parent-A", "ac06"), account("parent-B", "ac07"), account("disabled", "ac09"),
		secret("holder-of-session-ac06", "sample-session-ac06"), secret("holder-of-invitation", "sample-invitation-of-32-letters."),
		secret("holder-of-calendar", "sample-calendar-feed-32-letters."), {name: "nobody"},
		opening("parent-A", "exporting", "ac06", (*postgres.Tx).OpenExport), opening("teacher-A", "erasing-a1", "ac02", erasing),
		opening("owner", "erasing-a1", "ac01", erasing), {name: "program-clearing", actor: studio.ProgramActor(), opens: (*postgres.Tx).OpenClearing, than: "program"}}
}

func newProber(t *testing.T) *prober {
	t.Helper()
	addresses := testkit.Fill(t)
	p := &prober{}
	var err error
	if p.db, err = postgres.Open(t.Context(), addresses.App, testkit.SampleNow, time.UTC); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.db.Close)
	if p.owner, err = pgx.Connect(t.Context(), addresses.Owner); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.owner.Close(context.Background()) })
	p.readTables(t)
	return p
}

// readTables finds each table's rows and names them by their key, ids by their last four letters.
func (p *prober) readTables(t *testing.T) {
	t.Helper()
	rows, err := p.owner.Query(t.Context(), `
		select c.relname::text as name, a[1] as column, last,
		  'concat_ws(''/'', ' || array_to_string(array(select case
		    when t = 'uuid' then 'right(' || n || '::text, 4)' when t = 'bytea' then 'right(account_id::text, 4)' else n || '::text' end
		    from unnest(a, types) x (n, t) where t <> 'date'), ', ') || ')' as label
		from pg_class c join pg_index i on i.indrelid = c.oid and i.indisprimary,
		  lateral (select array_agg(attname::text order by array_position(i.indkey::int2[], attnum)) as a, array_agg(atttypid::regtype::text order by array_position(i.indkey::int2[], attnum)) as types
		    from pg_attribute where attrelid = c.oid and attnum = any(i.indkey::int2[])) k,
		  lateral (select attname::text as last from pg_attribute where attrelid = c.oid and attnum > 0 and not attisdropped order by attnum desc limit 1) z
		where c.relnamespace = 'public'::regnamespace and c.relname <> 'schema_migrations' order by 1`)
	if err != nil {
		t.Fatal(err)
	}
	var one probed
	if _, err := pgx.ForEachRow(rows, []any{&one.name, &one.column, &one.last, &one.label}, func() error { p.tables = append(p.tables, one); return nil }); err != nil {
		t.Fatal(err)
	}
	for i := range p.tables {
		table := &p.tables[i]
		table.json = map[string]string{}
		rows, err := p.owner.Query(t.Context(), fmt.Sprintf(`select %s, to_jsonb(x)::text from %s x order by 1`, table.label, table.name))
		if err != nil {
			t.Fatal(err)
		}
		var label, row string
		if _, err := pgx.ForEachRow(rows, []any{&label, &row}, func() error {
			table.rows = append(table.rows, label)
			table.json[label] = row
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		if len(table.rows) == 0 {
			t.Errorf("the sample studio has no row in %s: put one of A and one of B there", table.name)
		}
	}
}

// ask gives what an actor may do with the table: blindly, and with each row.
func (p *prober) ask(t *testing.T, a asker, table probed) []string {
	t.Helper()
	var letters []string
	err := p.db.InSecret(t.Context(), a.actor, a.secret, func(tx *postgres.Tx) error {
		if a.opens != nil {
			if err := a.opens(tx, t.Context()); err != nil {
				return err
			}
		}
		letters = append(letters, blindly(t.Context(), tx.Raw(), table))
		for _, row := range table.rows {
			letters = append(letters, lettersOf(t.Context(), tx.Raw(), table, row))
		}
		return nil
	})
	if err != nil {
		t.Fatalf("%s as %s: %v", table.name, a.name, err)
	}
	return letters
}

// lines says for each row who may do what with it; the first line is of blind updates.
func (p *prober) lines(t *testing.T, table probed) string {
	t.Helper()
	may := make([][]string, 1+len(table.rows))
	plain := map[string][]string{}
	for _, a := range askers() {
		plain[a.name] = p.ask(t, a, table)
		for i, letters := range plain[a.name] {
			if a.than != "" {
				letters = gained(letters, plain[a.than][i])
			}
			if letters != "" {
				may[i] = append(may[i], a.name+" "+letters)
			}
		}
	}
	var text strings.Builder
	for i, row := range append([]string{"*"}, table.rows...) {
		fmt.Fprintf(&text, "%s %s: %s\n", table.name, row, strings.Join(may[i], ", "))
	}
	return text.String()
}

// gained are the letters that were not there before.
func gained(letters, before string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(before, r) {
			return -1
		}
		return r
	}, letters)
}

// lettersOf is r, u, d and i for reading, updating, deleting and inserting the row.
func lettersOf(ctx context.Context, tx *pgxpool.Conn, table probed, row string) string {
	letters := ""
	where := fmt.Sprintf(" where %s = $1", table.label)
	for _, try := range []struct {
		letter, sql, arg string
	}{
		{"r", "select 1 from " + table.name + where, row},
		{"u", fmt.Sprintf("update %s set %s = %[2]s", table.name, table.column) + where, row},
		{"d", "delete from " + table.name + where, row},
		{"i", fmt.Sprintf("insert into %s select * from jsonb_populate_record(null::%[1]s, $1::jsonb)", table.name), table.json[row]},
	} {
		if n, ok := passes(ctx, tx, try.sql, try.arg); ok && n != 0 {
			letters += try.letter
		}
	}
	return letters
}

// blindly is what updates do that read nothing, and so meet the policies for updates only: U with the number of rows that take a
// constant, K when their key may become another.
func blindly(ctx context.Context, tx *pgxpool.Conn, table probed) string {
	letters, row := "", table.json[table.rows[0]]
	set := fmt.Sprintf("update %s set %%s = (jsonb_populate_record(null::%[1]s, $1::jsonb)).%%[1]s", table.name)
	if n, ok := passes(ctx, tx, fmt.Sprintf(set, table.last), row); ok && n != 0 {
		letters = fmt.Sprint("U", max(n, 0))
	}
	strange := strings.NewReplacer("-4000-", "-4fff-", `"key": "`, `"key": "zz-`, `_key": "`, `_key": "zz-`, `\\x`, `\\x00`).Replace(row)
	if n, ok := passes(ctx, tx, fmt.Sprintf(set, table.column), strange); ok && n != 0 {
		letters += "K"
	}
	return letters
}

// passes gives the number of rows that a statement touches, and undoes it; -1 when a constraint stops it, and false when row-level
// security or a missing privilege does.
func passes(ctx context.Context, tx *pgxpool.Conn, sql string, arg string) (int64, bool) {
	if _, err := tx.Exec(ctx, `savepoint here`); err != nil {
		return 0, false
	}
	defer tx.Exec(ctx, `rollback to here`)
	tag, err := tx.Exec(ctx, sql, arg)
	if err != nil {
		var refused *pgconn.PgError
		return -1, !errors.As(err, &refused) || refused.Code != "42501" // insufficient_privilege
	}
	return tag.RowsAffected(), true
}

func TestRowsArePromised(t *testing.T) {
	t.Parallel()
	p := newProber(t)
	var found strings.Builder
	found.WriteString("# Who may read (r), update (u), delete (d) and insert (i) each row of the sample studio, by row-level security alone.\n")
	for _, table := range p.tables {
		found.WriteString(p.lines(t, table))
	}
	if os.Getenv("RUNGBOOK_UPDATE") != "" {
		if err := os.WriteFile(rowsFile, []byte(found.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(rowsFile)
	if err != nil {
		t.Fatal(err)
	}
	is, was := strings.Split(found.String(), "\n"), strings.Split(string(kept), "\n")
	for _, line := range is {
		if !slices.Contains(was, line) {
			t.Errorf("not promised: %s", line)
		}
	}
	for _, line := range was {
		if !slices.Contains(is, line) {
			t.Errorf("promised:     %s", line)
		}
	}
}

// policy is a row of pg_policies.
type policy struct {
	name, table, command string
	using, check         *string
}

func (p policy) create() string {
	sql := fmt.Sprintf("create policy %s on %s for %s", p.name, p.table, p.command)
	if p.using != nil {
		sql += " using (" + *p.using + ")"
	}
	if p.check != nil {
		sql += " with check (" + *p.check + ")"
	}
	return sql
}

// mutants are the ways to weaken or lose a policy, each with what undoes it.
func (p policy) mutants() [][2]string {
	back := fmt.Sprintf("drop policy if exists %s on %s; %s", p.name, p.table, p.create())
	all := [][2]string{{fmt.Sprintf("drop policy %s on %s", p.name, p.table), back}}
	if p.using != nil {
		all = append(all, [2]string{fmt.Sprintf("alter policy %s on %s using (true)", p.name, p.table), back})
	}
	if p.check != nil {
		all = append(all, [2]string{fmt.Sprintf("alter policy %s on %s with check (true)", p.name, p.table), back})
	}
	return all
}

// Each policy, dropped or set to true, changes what somebody may do with some row: none is idle and none is watched by nobody.
func TestEveryPolicyIsWatched(t *testing.T) {
	t.Parallel()
	p := newProber(t)
	rows, err := p.owner.Query(t.Context(), `select policyname::text, tablename::text, cmd, qual, with_check from pg_policies where schemaname = 'public' order by 2, 1`)
	if err != nil {
		t.Fatal(err)
	}
	policies, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (policy, error) {
		var one policy
		err := row.Scan(&one.name, &one.table, &one.command, &one.using, &one.check)
		return one, err
	})
	if err != nil {
		t.Fatal(err)
	}
	before, noticed := map[string][]string{}, 0
	for _, table := range p.tables {
		for _, a := range askers() {
			before[table.name+a.name] = p.ask(t, a, table)
		}
	}
	for _, policy := range policies {
		table := p.tables[slices.IndexFunc(p.tables, func(x probed) bool { return x.name == policy.table })]
		for _, mutant := range policy.mutants() {
			p.exec(t, mutant[0])
			if slices.ContainsFunc(askers(), func(a asker) bool { return !slices.Equal(p.ask(t, a, table), before[table.name+a.name]) }) {
				noticed++
			} else {
				t.Errorf("nobody notices: %s", mutant[0])
			}
			p.exec(t, mutant[1])
		}
	}
	t.Logf("%d policies, %d mutants noticed", len(policies), noticed)
}

func (p *prober) exec(t *testing.T, sql string) {
	t.Helper()
	if _, err := p.owner.Exec(t.Context(), sql); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
}
