package postgres

import "github.com/jackc/pgx/v5"

// Raw is the transaction itself, for tests that ask the database directly.
func (t *Tx) Raw() pgx.Tx { return t.tx }
