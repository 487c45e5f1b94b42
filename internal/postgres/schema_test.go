package postgres_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
)

const schemaFile = "../../db/schema.sql"

// TestUpDownUp takes every migration up, down and up again: the two dumps are equal, and equal to db/schema.sql where that was
// written by the same PostgreSQL version. RUNGBOOK_UPDATE=1 writes the file.
func TestUpDownUp(t *testing.T) {
	url := testkit.Owner(t)
	first := dump(t, url)
	if err := postgres.MigrateDown(url); err != nil {
		t.Fatal(err)
	}
	if left := dump(t, url); strings.Contains(left, "CREATE POLICY") || strings.Count(left, "CREATE TABLE ") > 1 || strings.Contains(left, "CREATE FUNCTION") {
		t.Errorf("migrating down leaves something behind:\n%s", left)
	}
	if err := postgres.Migrate(url); err != nil {
		t.Fatal(err)
	}
	if second := dump(t, url); first != second {
		t.Error("up, down and up again does not give the same schema")
	}
	if os.Getenv("RUNGBOOK_UPDATE") != "" {
		if err := os.WriteFile(schemaFile, []byte(first), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	version, _, _ := strings.Cut(first, "\n")
	if !bytes.HasPrefix(kept, []byte(version+"\n")) {
		t.Logf("db/schema.sql is of another PostgreSQL than %q: not compared", version)
		return
	}
	if string(kept) != first {
		t.Error("db/schema.sql is stale: run RUNGBOOK_UPDATE=1 go test ./internal/postgres -run UpDownUp")
	}
}

// dump is the schema as pg_dump writes it, less what differs from run to run and the tables of the queue, which are its library's.
func dump(t *testing.T, url string) string {
	t.Helper()
	program, err := pgDump()
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "--schema-only", "--no-owner", "--exclude-schema", "jobs", "--dbname", url).Output()
	if err != nil {
		t.Fatalf("pg_dump: %v", err)
	}
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	var version int
	if err := conn.QueryRow(t.Context(), `select current_setting('server_version_num')::int / 10000`).Scan(&version); err != nil {
		t.Fatal(err)
	}
	lines := []string{fmt.Sprintf("-- The schema after all migrations, for review; PostgreSQL %d.", version)}
	for line := range strings.SplitSeq(string(out), "\n") {
		if line == "" || strings.HasPrefix(line, "--") || strings.HasPrefix(line, `\`) || strings.HasPrefix(line, "SET ") || strings.HasPrefix(line, "SELECT pg_catalog") {
			continue
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n") + "\n"
}

func pgDump() (string, error) {
	if found, err := exec.LookPath("pg_dump"); err == nil {
		return found, nil
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/pg_dump")
	if err != nil || len(found) == 0 {
		return "", errors.Join(errors.New("pg_dump is not installed: it comes with PostgreSQL"), err)
	}
	slices.Sort(found)
	return found[len(found)-1], nil
}

// TestSchemaLint asks the catalog for what would open the database in silence.
func TestSchemaLint(t *testing.T) {
	conn, err := pgx.Connect(t.Context(), testkit.Owner(t))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	for name, sql := range map[string]string{
		"tables without forced row-level security": `select relname from pg_class where relnamespace = 'public'::regnamespace
			and relkind in ('r', 'p') and relname <> 'schema_migrations' and not (relrowsecurity and relforcerowsecurity)`,
		"tables without a policy": `select relname from pg_class c where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')
			and relname <> 'schema_migrations' and not exists (select from pg_policy p where p.polrelid = c.oid)`,
		"views that run as their owner":  `select relname from pg_class where relnamespace = 'public'::regnamespace and relkind in ('v', 'm')`,
		"functions that run as definer":  `select proname from pg_proc where pronamespace = 'public'::regnamespace and prosecdef`,
		"things that rungbook_app owns":  `select relname from pg_class where relowner = 'rungbook_app'::regrole`,
		"rights beyond rows":             `select table_name || ': ' || privilege_type from information_schema.role_table_grants where grantee in ('rungbook_app', 'PUBLIC') and table_schema = 'public' and privilege_type not in ('SELECT', 'INSERT', 'UPDATE', 'DELETE')`,
		"append-only tables that change": `select table_name || ': ' || privilege_type from information_schema.role_table_grants where grantee = 'rungbook_app' and table_name in ('mark', 'mark_fault', 'mark_confirmation', 'sheet_receipt', 'sheet_verdict', 'incident_addition', 'audit', 'audit_link', 'consent_text', 'incident_person', 'retention_run') and privilege_type in ('UPDATE', 'DELETE')`,
		"records whose words change":     `select table_name || ': ' || privilege_type from information_schema.role_table_grants where grantee = 'rungbook_app' and table_name in ('sheet_item', 'sheet_note', 'incident', 'soreness', 'child_note', 'consent_answer', 'health_read') and privilege_type = 'UPDATE'`,
		"an app role that is not bound":  `select rolname from pg_roles where rolname = 'rungbook_app' and (rolsuper or rolbypassrls or rolcreaterole or rolcreatedb)`,
		"sequences, which leak volume":   `select relname from pg_class where relnamespace = 'public'::regnamespace and relkind = 'S'`,
	} {
		rows, err := conn.Query(t.Context(), sql)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		found, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if len(found) > 0 {
			t.Errorf("%s: %s", name, strings.Join(found, ", "))
		}
	}
}
