// Package testkit gives tests what they need to meet the real thing: a
// PostgreSQL database of their own, migrated, for as long as the test runs.
//
// Tests of package postgres itself use it from package postgres_test, since
// testkit imports postgres.
package testkit

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"net/url"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"rungbook/internal/embeddedpg"
)

// DB holds the addresses of one database, by role.
type DB struct {
	// Owner is the role that owns the schema and is bound by no row-level security.
	Owner string
	// App is the role that serves, rungbook_app.
	App string
}

var (
	databases sync.Map // of testing.TB to DB: a test has one database
	engine    = sync.OnceValues(openServer)
	model     = sync.OnceValues(func() (string, error) {
		s, err := engine()
		if err != nil {
			return "", err
		}
		return s.template(context.Background())
	})
)

// Database gives the test a fresh, migrated and otherwise empty database. It is
// dropped after the test. Asked again by the same test, it gives the same one.
func Database(t testing.TB) DB {
	t.Helper()
	if db, ok := databases.Load(t); ok {
		return db.(DB)
	}
	s, err := engine()
	if err != nil {
		t.Fatalf("find a PostgreSQL for the tests: %v", err)
	}
	template, err := model()
	if err != nil {
		t.Fatalf("prepare the database for the tests: %v", err)
	}
	db, name, err := s.clone(t.Context(), template)
	if err != nil {
		t.Fatalf("make a database for the test: %v", err)
	}
	databases.Store(t, db)
	t.Cleanup(func() {
		databases.Delete(t)
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		defer cancel()
		if err := s.exec(ctx, "drop database "+name+" with (force)"); err != nil {
			t.Errorf("drop the test's database: %v", err)
		}
	})
	return db
}

// Owner is the address of the test's database for the role that owns it.
func Owner(t testing.TB) string {
	t.Helper()
	return Database(t).Owner
}

// App is the address of the same database for the role that serves.
func App(t testing.TB) string {
	t.Helper()
	return Database(t).App
}

// server is a PostgreSQL that tests may fill with databases.
type server struct {
	admin    string // address as a superuser, of the database to connect to for making others
	appWords string // password of the serving role
}

// clone makes a database that equals the template.
func (s server) clone(ctx context.Context, template string) (DB, string, error) {
	random := make([]byte, 8)
	rand.Read(random) // never fails
	name := "rungbook_test_" + hex.EncodeToString(random)
	if err := s.exec(ctx, "create database "+name+" template "+template); err != nil {
		return DB{}, "", err
	}
	db, err := s.addresses(name)
	return db, name, err
}

func (s server) addresses(database string) (DB, error) {
	u, err := url.Parse(s.admin)
	if err != nil {
		return DB{}, fmt.Errorf("read the server's address: %w", err)
	}
	u.Path = "/" + database
	db := DB{Owner: u.String()}
	u.User = url.UserPassword(embeddedpg.App, s.appWords)
	db.App = u.String()
	return db, nil
}

// exec runs one statement on a connection of its own.
func (s server) exec(ctx context.Context, sql string) error {
	conn, err := pgx.Connect(ctx, s.admin)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	_, err = conn.Exec(ctx, sql)
	return err
}
