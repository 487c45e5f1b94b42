// Package postgres keeps the studio's nouns in PostgreSQL: SQL in, nouns out. Every read and write runs in a transaction that
// knows its actor, so that row-level security can do its part.
package postgres

import (
	"context"
	"fmt"
	"net"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
)

// DB is a pool of connections as the serving role.
type DB struct {
	pool *pgxpool.Pool
	now  func() time.Time
	zone *time.Location
}

// Open connects to a database URL. now is the clock of every transaction, zone the studio's time zone.
func Open(ctx context.Context, url string, now func() time.Time, zone *time.Location) (*DB, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, fmt.Errorf("read the database address: %w", err)
	}
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, fmt.Errorf("reach the database: %w", err)
	}
	return &DB{pool: pool, now: now, zone: zone}, nil
}

// Close waits for running transactions and closes the pool.
func (db *DB) Close() { db.pool.Close() }

// Now is the moment by the clock of the transactions.
func (db *DB) Now() time.Time { return db.now() }

// Ping reports whether the database answers.
func (db *DB) Ping(ctx context.Context) error { return db.pool.Ping(ctx) }

// CheckSafe refuses a serving role that row-level security does not bind, a server that may lose what it has acknowledged, and a
// way to another machine on which somebody could read along.
func (db *DB) CheckSafe(ctx context.Context) error {
	if c := db.pool.Config().ConnConfig; !onThisMachine(c.Host) && (c.TLSConfig == nil || c.TLSConfig.InsecureSkipVerify) {
		return fmt.Errorf("the database on %s is reached without verified TLS: add sslmode=verify-full to DATABASE_URL", c.Host)
	}
	var unbound bool
	var fsync, fullPages string
	err := db.pool.QueryRow(ctx, `select rolsuper or rolbypassrls, current_setting('fsync'), current_setting('full_page_writes')
		from pg_roles where rolname = current_user`).Scan(&unbound, &fsync, &fullPages)
	switch {
	case err != nil:
		return fmt.Errorf("ask the database about its settings: %w", err)
	case unbound:
		return fmt.Errorf("the serving role must be neither superuser nor BYPASSRLS: set DATABASE_URL to the role rungbook_app")
	case fsync != "on" || fullPages != "on":
		return fmt.Errorf("the database has fsync or full_page_writes off: turn both on, or marks can be lost")
	}
	return nil
}

// onThisMachine reports whether a host of a database address is a socket folder or a loopback address.
func onThisMachine(host string) bool {
	ip := net.ParseIP(host)
	return strings.HasPrefix(host, "/") || host == "localhost" || ip != nil && ip.IsLoopback()
}
