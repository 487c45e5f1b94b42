package testkit

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/jackc/pgx/v5"

	"rungbook/internal/embeddedpg"
)

func connect(t testing.TB, url string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(t.Context()) })
	return conn
}

func scan[T any](t testing.TB, conn *pgx.Conn, sql string) T {
	t.Helper()
	var v T
	if err := conn.QueryRow(t.Context(), sql).Scan(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

func TestOwnerAndAppShareOneDatabase(t *testing.T) {
	owner, app := connect(t, Owner(t)), connect(t, App(t))
	name := scan[string](t, owner, "select current_database()")
	if got := scan[string](t, app, "select current_database()"); got != name {
		t.Errorf("the app is in %s, the owner in %s", got, name)
	}
	if got := scan[string](t, app, "select current_user"); got != embeddedpg.App {
		t.Errorf("the app serves as %s", got)
	}
	if scan[bool](t, app, "select rolsuper or rolbypassrls from pg_roles where rolname = current_user") {
		t.Error("row-level security does not bind the serving role")
	}
	if got := scan[int](t, owner, "select count(*) from pg_tables where schemaname = 'public'"); got < 2 {
		t.Errorf("the database has %d tables: it is not migrated", got)
	}
}

func TestEachTestHasItsOwnDatabase(t *testing.T) {
	seen := map[string]bool{}
	for i := range 3 {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			conn := connect(t, Owner(t))
			name := scan[string](t, conn, "select current_database()")
			if seen[name] {
				t.Errorf("%s is given twice", name)
			}
			seen[name] = true
			if _, err := conn.Exec(t.Context(), "create table left_over (a int)"); err != nil {
				t.Errorf("an earlier test shows: %v", err)
			}
		})
	}
	conn := connect(t, Owner(t))
	for name := range seen {
		if scan[bool](t, conn, "select exists (select from pg_database where datname = '"+name+"')") {
			t.Errorf("%s was not dropped after its test", name)
		}
	}
}

func TestTemplateFollowsTheMigrations(t *testing.T) {
	key := func(files fs.FS) string {
		t.Helper()
		k, err := migrationsKey(files)
		if err != nil {
			t.Fatal(err)
		}
		return k
	}
	one := fstest.MapFS{"m/0001_a.up.sql": {Data: []byte("select 1")}}
	same := fstest.MapFS{"m/0001_a.up.sql": {Data: []byte("select 1")}}
	edited := fstest.MapFS{"m/0001_a.up.sql": {Data: []byte("select 2")}}
	renamed := fstest.MapFS{"m/0002_a.up.sql": {Data: []byte("select 1")}}
	if key(one) != key(same) {
		t.Error("equal migrations have unequal keys")
	}
	if key(one) == key(edited) || key(one) == key(renamed) {
		t.Error("other migrations have the same key")
	}
}

func TestNamedServerIsUsed(t *testing.T) {
	shared, err := engine()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(serverVariable, shared.admin)
	named, err := openServer()
	if err != nil {
		t.Fatal(err)
	}
	if named.admin != shared.admin {
		t.Error("the server that the variable names is not the one used")
	}
	db, err := named.addresses("somewhere")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(db.Owner, "/somewhere?") || !strings.Contains(db.App, "//"+embeddedpg.App+":"+testWords+"@") {
		t.Errorf("the addresses are %+v", db)
	}
}

// The keeper is another program: what it lacks has to reach us as what it is.
func TestKeeperTellsThatNothingIsInstalled(t *testing.T) {
	d := sharedDir(t.TempDir())
	for text, installed := range map[string]bool{
		"no luck: " + embeddedpg.ErrNotInstalled.Error() + "\n": false,
		"the disk is full\n": true,
	} {
		if err := os.WriteFile(d.path("failure"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := d.readFailure(); errors.Is(err, embeddedpg.ErrNotInstalled) == installed {
			t.Errorf("%q is read as %v", text, err)
		}
	}
}

func TestContainerServesWhereAnEngineRuns(t *testing.T) {
	if !engineAnswers(t.Context()) {
		t.Skip("no container engine answers")
	}
	s, err := openContainer(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	template, err := s.template(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	db, _, err := s.clone(t.Context(), template)
	if err != nil {
		t.Fatal(err)
	}
	if got := scan[string](t, connect(t, db.App), "select current_user"); got != embeddedpg.App {
		t.Errorf("the app serves as %s", got)
	}
}

func BenchmarkDatabase(b *testing.B) {
	s, err := engine()
	if err != nil {
		b.Fatal(err)
	}
	template, err := model()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		_, name, err := s.clone(b.Context(), template)
		if err != nil {
			b.Fatal(err)
		}
		if err := s.exec(b.Context(), "drop database "+name+" with (force)"); err != nil {
			b.Fatal(err)
		}
	}
}
