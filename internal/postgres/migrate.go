package postgres

import (
	"context"
	"errors"
	"fmt"

	"github.com/golang-migrate/migrate/v4"
	driver "github.com/golang-migrate/migrate/v4/database/pgx/v5"
	"github.com/golang-migrate/migrate/v4/source/iofs"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"
	"rungbook/db"
)

// migrating is the advisory lock under which the schema and that of the queue are brought up together.
const migrating = 7202616081943

// Migrate brings the database up to the newest schema as the owning role. It is harmless to call again, also from two programs at
// once.
func Migrate(ownerURL string) error {
	return locked(ownerURL, func(ctx context.Context, pool *pgxpool.Pool) error {
		if err := withMigrations(ownerURL, func(m *migrate.Migrate) error { return m.Up() }); err != nil {
			return err
		}
		queue, err := rivermigrate.New(riverpgxv5.New(pool), &rivermigrate.Config{Schema: jobsSchema})
		if err != nil {
			return fmt.Errorf("prepare the queue: %w", err)
		}
		if _, err := queue.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
			return fmt.Errorf("migrate the queue: %w", err)
		}
		return nil
	})
}

// MigrateDown takes every migration back. Everything in the database is lost, the queue with it.
func MigrateDown(ownerURL string) error {
	return locked(ownerURL, func(context.Context, *pgxpool.Pool) error {
		return withMigrations(ownerURL, func(m *migrate.Migrate) error { return m.Down() })
	})
}

// locked runs fn while no other program migrates the database.
func locked(ownerURL string, fn func(context.Context, *pgxpool.Pool) error) error {
	ctx := context.Background()
	pool, err := pgxpool.New(ctx, ownerURL)
	if err != nil {
		return fmt.Errorf("read the database address: %w", err)
	}
	defer pool.Close()
	conn, err := pool.Acquire(ctx)
	if err != nil {
		return fmt.Errorf("reach the database to migrate: %w", err)
	}
	defer conn.Release()
	if _, err := conn.Exec(ctx, `select pg_advisory_lock($1)`, int64(migrating)); err != nil {
		return fmt.Errorf("wait for another migration: %w", err)
	}
	defer conn.Exec(ctx, `select pg_advisory_unlock($1)`, int64(migrating)) // goes with the connection in any case
	return fn(ctx, pool)
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
