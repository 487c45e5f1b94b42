package postgres

import (
	"errors"
	"fmt"

	"github.com/golang-migrate/migrate/v4"
	driver "github.com/golang-migrate/migrate/v4/database/pgx/v5"
	"github.com/golang-migrate/migrate/v4/source/iofs"
	"github.com/jackc/pgx/v5/stdlib"
	"rungbook/db"

	"github.com/jackc/pgx/v5"
)

// Migrate brings the database up to the newest schema as the owning role. It is harmless to call again, also from two programs at
// once.
func Migrate(ownerURL string) error {
	return withMigrations(ownerURL, func(m *migrate.Migrate) error { return m.Up() })
}

// MigrateDown takes every migration back. Everything in the database is lost.
func MigrateDown(ownerURL string) error {
	return withMigrations(ownerURL, func(m *migrate.Migrate) error { return m.Down() })
}

func withMigrations(ownerURL string, run func(*migrate.Migrate) error) error {
	source, err := iofs.New(db.Migrations, "migrations")
	if err != nil {
		return fmt.Errorf("read the migrations: %w", err)
	}
	config, err := pgx.ParseConfig(ownerURL)
	if err != nil {
		return fmt.Errorf("read the database address: %w", err)
	}
	config.RuntimeParams["lock_timeout"] = "10s"
	conn := stdlib.OpenDB(*config)
	defer conn.Close()
	target, err := driver.WithInstance(conn, &driver.Config{})
	if err != nil {
		return fmt.Errorf("reach the database to migrate: %w", err)
	}
	m, err := migrate.NewWithInstance("iofs", source, config.Database, target)
	if err != nil {
		return fmt.Errorf("prepare the migrations: %w", err)
	}
	defer m.Close()
	if err := run(m); err != nil && !errors.Is(err, migrate.ErrNoChange) {
		return fmt.Errorf("migrate the database: %w", err)
	}
	return nil
}
