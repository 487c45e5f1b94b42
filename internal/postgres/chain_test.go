package postgres_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// chained is a studio whose trail has a few lines.
func chained(t testing.TB) (*postgres.DB, *pgx.Conn) {
	t.Helper()
	addresses := testkit.Fill(t)
	db, err := postgres.Open(t.Context(), addresses.App, testkit.SampleNow, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	conn, err := pgx.Connect(t.Context(), addresses.Owner)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(context.Background()) })
	return db, conn
}

func write(ctx context.Context, db *postgres.DB, actor studio.Actor, action string) error {
	return db.InTx(ctx, actor, func(tx *postgres.Tx) error { return tx.Audit(ctx, action, "child 1", map[string]any{"n": 1}) })
}

func check(t *testing.T, db *postgres.DB) []studio.ChainBreak {
	t.Helper()
	var found []studio.ChainBreak
	err := db.InTx(t.Context(), studio.ProgramActor(), func(tx *postgres.Tx) error {
		var err error
		found, err = tx.CheckChain(t.Context())
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// The hash of each link is SHA-256 (FIPS 180-4, by Go's own crypto/sha256) over the hash before and the row as a JSON array.
func TestTrailIsChained(t *testing.T) {
	t.Parallel()
	db, conn := chained(t)
	parent := studio.Actor{ID: testkit.SampleID("ac06")}
	for i := range 5 {
		if err := write(t.Context(), db, parent, fmt.Sprint("did ", i)); err != nil { // who cannot read the trail writes it all the same
			t.Fatal(err)
		}
	}
	rows, err := conn.Query(t.Context(), `select l.seq, l.hash, jsonb_build_array(a.id, to_char(a.at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), a.actor, a.action, a.subject, a.detail)::text
		from audit_link l join audit a on a.id = l.audit_id order by l.seq`)
	if err != nil {
		t.Fatal(err)
	}
	before, n := make([]byte, 32), int64(0)
	var seq int64
	var hash []byte
	var text string
	if _, err := pgx.ForEachRow(rows, []any{&seq, &hash, &text}, func() error {
		n++
		want := sha256.Sum256(append(before, text...))
		if seq != n || hex.EncodeToString(hash) != hex.EncodeToString(want[:]) {
			t.Errorf("link %d is %x, want link %d as %x", seq, hash, n, want)
		}
		before = want[:]
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if n != 7 {
		t.Errorf("%d links, want two of the sample and five", n)
	}
	if found := check(t, db); len(found) != 0 {
		t.Errorf("a sound trail is called broken: %+v", found)
	}
}

// Whoever meddles with the database itself, past every trigger, is found at the first line that was touched.
func TestMeddlingIsFound(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		sql  string
		seq  int64
		what string
	}{
		"a line was changed":            {`update audit set action = 'did nothing' where id = (select audit_id from audit_link where seq = 4)`, 4, "changed"},
		"a moment was changed":          {`update audit set at = at + interval '1 microsecond' where id = (select audit_id from audit_link where seq = 3)`, 3, "changed"},
		"a line was removed":            {`delete from audit where id = (select audit_id from audit_link where seq = 5)`, 5, "missing"},
		"a line and its link removed":   {`with l as (delete from audit_link where seq = 5 returning audit_id) delete from audit where id in (select audit_id from l)`, 6, "missing"},
		"a line was slipped in":         {`insert into audit (at, action, subject) values (now(), 'cleared a care limit', 'child 1')`, 0, "unlinked"},
		"two lines were exchanged":      {`update audit_link set audit_id = case seq when 3 then (select audit_id from audit_link where seq = 4) else (select audit_id from audit_link where seq = 3) end where seq in (3, 4)`, 3, "changed"},
		"a hash was worked out by hand": {`update audit set action = 'x' where id = (select audit_id from audit_link where seq = 4); update audit_link l set hash = audit_hash((select hash from audit_link where seq = 3), a) from audit a where a.id = l.audit_id and l.seq = 4`, 5, "changed"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			db, conn := chained(t)
			for i := range 5 {
				if err := write(t.Context(), db, studio.ProgramActor(), fmt.Sprint("did ", i)); err != nil {
					t.Fatal(err)
				}
			}
			drop := `alter table audit_link drop constraint audit_link_audit_id_key; set session_replication_role = replica; `
			if _, err := conn.Exec(t.Context(), drop+c.sql); err != nil {
				t.Fatal(err)
			}
			found := check(t, db)
			if len(found) != 1 || found[0].Seq != c.seq || found[0].What != c.what {
				t.Errorf("found %+v, want line %d %s", found, c.seq, c.what)
			}
		})
	}
}

// Many transactions at once, with other rows between them, make one chain and none waits for another in a circle.
func TestChainUnderManyWriters(t *testing.T) {
	t.Parallel()
	db, _ := chained(t)
	var writers sync.WaitGroup
	for w := range 8 {
		writers.Go(func() {
			for i := range 10 {
				err := db.InTx(t.Context(), studio.ProgramActor(), func(tx *postgres.Tx) error {
					if err := tx.Audit(t.Context(), "first", "writer", nil); err != nil {
						return err
					}
					if err := tx.NoteSignIn(t.Context(), uuid.NewString(), true); err != nil {
						return err
					}
					return tx.Audit(t.Context(), fmt.Sprint("second ", w, i), "writer", nil)
				})
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	writers.Wait()
	if found := check(t, db); len(found) != 0 {
		t.Errorf("broken: %+v", found)
	}
}

// What the chain costs: a transaction that writes a line of the trail, with and without it, alone and from many at once; and the check
// of 10,000 lines.
func BenchmarkAudit(b *testing.B) {
	db, conn := chained(b)
	once := func(b *testing.B) {
		if err := write(b.Context(), db, studio.ProgramActor(), "did"); err != nil {
			b.Error(err)
		}
	}
	for _, chain := range []string{"enable", "disable"} {
		if _, err := conn.Exec(b.Context(), `alter table audit `+chain+` trigger audit_chain`); err != nil {
			b.Fatal(err)
		}
		b.Run("alone/"+chain, func(b *testing.B) {
			for b.Loop() {
				once(b)
			}
		})
		b.Run("many/"+chain, func(b *testing.B) {
			b.SetParallelism(4)
			b.RunParallel(func(pb *testing.PB) {
				for pb.Next() {
					once(b)
				}
			})
		})
	}
	if _, err := conn.Exec(b.Context(), `alter table audit enable trigger audit_chain; insert into audit (at, action, subject) select now(), 'did', 'child 1' from generate_series(1, 10000)`); err != nil {
		b.Fatal(err)
	}
	b.Run("check", func(b *testing.B) {
		for b.Loop() {
			if err := db.InTx(b.Context(), studio.ProgramActor(), func(tx *postgres.Tx) error { _, err := tx.CheckChain(b.Context()); return err }); err != nil {
				b.Fatal(err)
			}
		}
	})
}
