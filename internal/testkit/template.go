package testkit

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash/fnv"
	"io/fs"

	"github.com/jackc/pgx/v5"

	"rungbook/db"
	"rungbook/internal/embeddedpg"
	"rungbook/internal/postgres"
)

// template gives the name of the migrated database that tests are cloned from,
// making it when these very migrations have none yet. Test programs that come
// at once wait for the first one's.
func (s server) template(ctx context.Context) (string, error) {
	key, err := migrationsKey(db.Migrations)
	if err != nil {
		return "", err
	}
	name := "rungbook_template_" + key
	conn, err := pgx.Connect(ctx, s.admin)
	if err != nil {
		return "", err
	}
	defer conn.Close(ctx) // gives the lock back
	if _, err := conn.Exec(ctx, "select pg_advisory_lock($1)", lockNumber(name)); err != nil {
		return "", fmt.Errorf("wait for the template database: %w", err)
	}
	var complete bool
	err = conn.QueryRow(ctx, "select coalesce(bool_or(datistemplate), false) from pg_database where datname = $1", name).Scan(&complete)
	if err != nil || complete {
		return name, err
	}
	return name, s.build(ctx, conn, name)
}

// build makes the template. It is marked as one only when nothing is left to do,
// so that an interrupted build is made anew.
func (s server) build(ctx context.Context, conn *pgx.Conn, name string) error {
	for _, sql := range []string{"drop database if exists " + name + " with (force)", "create database " + name} {
		if _, err := conn.Exec(ctx, sql); err != nil {
			return fmt.Errorf("make the template database: %w", err)
		}
	}
	addresses, err := s.addresses(name)
	if err != nil {
		return err
	}
	if err := postgres.Migrate(addresses.Owner); err != nil {
		return err
	}
	for _, sql := range []string{
		"alter role " + embeddedpg.App + " with login password '" + s.appWords + "'",
		"alter database " + name + " with is_template true allow_connections false",
	} {
		if _, err := conn.Exec(ctx, sql); err != nil {
			return fmt.Errorf("finish the template database: %w", err)
		}
	}
	return nil
}

// migrationsKey is the same for equal migration files, and only for those.
func migrationsKey(files fs.FS) (string, error) {
	h := sha256.New()
	err := fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(files, path)
		fmt.Fprintf(h, "%s %d\n%s", path, len(b), b)
		return err
	})
	if err != nil {
		return "", fmt.Errorf("read the migrations: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil))[:16], nil
}

func lockNumber(name string) int64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return int64(h.Sum64())
}
