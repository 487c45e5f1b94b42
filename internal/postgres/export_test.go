package postgres

import "github.com/jackc/pgx/v5/pgxpool"

// Raw is the connection within the transaction, for tests that ask the database directly.
func (t *Tx) Raw() *pgxpool.Conn { return t.tx }
