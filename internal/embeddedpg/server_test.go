package embeddedpg

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// privateDir is a folder that the database's account can reach even when the
// tests run as root, whose usual temporary folders are closed to others.
func privateDir(t *testing.T) string {
	t.Helper()
	top, err := os.MkdirTemp("/tmp", "rungbook-pg-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(top) })
	if err := os.Chmod(top, 0o711); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(top, "pg")
}

func start(t *testing.T, c Config) *Server {
	t.Helper()
	s, err := Start(t.Context(), c)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Stop() })
	return s
}

// ask runs statements over one connection and gives the last one's first value as text.
func ask(t *testing.T, url string, statements ...string) (string, error) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	value := ""
	for _, sql := range statements {
		rows, err := conn.Query(t.Context(), sql, pgx.QueryExecModeSimpleProtocol)
		if err != nil {
			return "", err
		}
		for rows.Next() {
			if raw := rows.RawValues(); len(raw) > 0 {
				value = string(raw[0])
			}
		}
		if rows.Err() != nil {
			return "", rows.Err()
		}
	}
	return value, nil
}

func mustAsk(t *testing.T, url string, statements ...string) string {
	t.Helper()
	value, err := ask(t, url, statements...)
	if err != nil {
		t.Fatal(err)
	}
	return value
}

func TestDataSurviveRestartAndKill(t *testing.T) {
	c := Config{Dir: privateDir(t), Durable: true, LocalOnly: true}
	s := start(t, c)
	mustAsk(t, s.URL(Database, Owner), "create table note (body text)", "insert into note values ('kept')")
	if err := s.Stop(); err != nil {
		t.Fatal(err)
	}

	s = start(t, c)
	if got := mustAsk(t, s.URL(Database, Owner), "select body from note"); got != "kept" {
		t.Fatalf("after a restart the note reads %q", got)
	}
	mustAsk(t, s.URL(Database, Owner), "insert into note values ('committed before the kill')")
	if err := syscall.Kill(s.PID(), syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	<-s.Exited()
	if err := s.Stop(); err != nil {
		t.Fatalf("stopping a killed server: %v", err)
	}

	s = start(t, c)
	if got := mustAsk(t, s.URL(Database, Owner), "select count(*) from note"); got != "2" {
		t.Fatalf("after kill -9 there are %s notes, want 2", got)
	}
}

func TestRunsDurablyAndUnprivileged(t *testing.T) {
	s := start(t, Config{Dir: privateDir(t), Durable: true, LocalOnly: true})
	owner := s.URL(Database, Owner)
	for setting, want := range map[string]string{
		"fsync":                   "on",
		"full_page_writes":        "on",
		"synchronous_commit":      "on",
		"data_checksums":          "on",
		"listen_addresses":        "127.0.0.1",
		"unix_socket_directories": "",
		"server_encoding":         "UTF8",
	} {
		if got := mustAsk(t, owner, "show "+setting); got != want {
			t.Errorf("%s is %q, want %q", setting, got, want)
		}
	}
	info, err := os.Stat("/proc/" + strconv.Itoa(s.PID()))
	if err == nil && info.Sys().(*syscall.Stat_t).Uid == 0 {
		t.Error("the database runs as root")
	}
}

func TestServingRoleHasNoPowers(t *testing.T) {
	s := start(t, Config{Dir: privateDir(t), LocalOnly: true})
	app := s.URL(Database, App)
	powers := mustAsk(t, app, `select concat_ws(' ', rolsuper, rolbypassrls, rolcreatedb, rolcreaterole, rolreplication)
		from pg_roles where rolname = current_user`)
	if powers != "f f f f f" {
		t.Errorf("superuser, bypassrls, createdb, createrole, replication = %s", powers)
	}
	owned := mustAsk(t, app, "select count(*) from pg_database where pg_get_userbyid(datdba) = current_user")
	if owned != "0" {
		t.Errorf("the serving role owns %s databases", owned)
	}
	if _, err := ask(t, app, "create table public.mine (a int)"); err == nil {
		t.Error("the serving role may create tables")
	}
	if _, err := ask(t, strings.Replace(app, App+":", App+":x", 1), "select 1"); err == nil {
		t.Error("a wrong password is let in")
	}
}

func TestOneProgramAtATime(t *testing.T) {
	c := Config{Dir: privateDir(t), LocalOnly: true}
	start(t, c)
	if _, err := Start(t.Context(), c); err == nil || !strings.Contains(err.Error(), "in use by another program") {
		t.Fatalf("a second start says %v", err)
	}
}

// The server outlives a program that is killed; the next start must end it.
func TestOrphanIsStopped(t *testing.T) {
	c := Config{Dir: privateDir(t), LocalOnly: true}
	orphan := start(t, c)
	mustAsk(t, orphan.URL(Database, Owner), "create table note (body text)", "insert into note values ('kept')")
	orphan.lock.Close() // what the system does for a killed program

	s := start(t, c)
	<-orphan.Exited()
	if got := mustAsk(t, s.URL(Database, Owner), "select body from note"); got != "kept" {
		t.Fatalf("the note reads %q", got)
	}
}

// A stale postmaster.pid may name a number that another program has by now.
func TestForeignProcessIsLeftAlone(t *testing.T) {
	c := Config{Dir: privateDir(t), LocalOnly: true}
	s := start(t, c)
	who := chooseAccount(c.Dir)
	note, err := os.ReadFile(filepath.Join(c.Dir, "data", "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Stop(); err != nil {
		t.Fatal(err)
	}

	foreign := exec.Command("sleep", "60")
	foreign.SysProcAttr = who.attributes()
	if err := foreign.Start(); err != nil {
		t.Fatal(err)
	}
	defer foreign.Wait()
	defer foreign.Process.Kill()
	_, rest, _ := strings.Cut(string(note), "\n")
	stale := filepath.Join(c.Dir, "data", "postmaster.pid")
	if err := os.WriteFile(stale, []byte(strconv.Itoa(foreign.Process.Pid)+"\n"+rest), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := who.own(stale); err != nil {
		t.Fatal(err)
	}

	start(t, c)
	if !alive(foreign.Process.Pid) {
		t.Error("the other program was ended")
	}
}

func TestOtherVersionsDataAreKept(t *testing.T) {
	dir := privateDir(t)
	data := filepath.Join(dir, "data")
	if err := os.MkdirAll(data, 0o700); err != nil {
		t.Fatal(err)
	}
	version := filepath.Join(data, "PG_VERSION")
	if err := os.WriteFile(version, []byte("9\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Start(t.Context(), Config{Dir: dir, LocalOnly: true})
	if !errors.Is(err, ErrNotInstalled) || !strings.Contains(err.Error(), "was made by PostgreSQL 9") {
		t.Errorf("the error is %v", err)
	}
	if _, err := os.Stat(version); err != nil {
		t.Errorf("data were touched: %v", err)
	}
}

func TestErrorNamesTheThreeChoices(t *testing.T) {
	for _, choice := range []string{"DATABASE_URL", "install PostgreSQL", "docker compose"} {
		if !strings.Contains(ErrNotInstalled.Error(), choice) {
			t.Errorf("%q is not offered", choice)
		}
	}
}

func BenchmarkFirstStart(b *testing.B) {
	for b.Loop() {
		top, err := os.MkdirTemp("/tmp", "rungbook-pg-")
		if err != nil {
			b.Fatal(err)
		}
		if err := os.Chmod(top, 0o711); err != nil {
			b.Fatal(err)
		}
		began := time.Now()
		s, err := Start(b.Context(), Config{Dir: filepath.Join(top, "pg"), LocalOnly: true})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(time.Since(began).Seconds(), "s/start")
		s.Stop()
		os.RemoveAll(top)
	}
}
