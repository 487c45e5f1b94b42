package postgres

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5/pgconn"
	"rungbook/internal/studio"
)

// LockLibrary lets one transaction at a time edit the library: prerequisites are judged together, so they are changed one by one.
func (t *Tx) LockLibrary(ctx context.Context) error {
	_, err := t.tx.Exec(ctx, `select pg_advisory_xact_lock(hashtext('rungbook library'))`)
	return err
}

// OrderLadders numbers the ladders in the order of the keys.
func (t *Tx) OrderLadders(ctx context.Context, keys []string) error {
	_, err := t.tx.Exec(ctx, `update ladder set position = k.n from unnest($1::text[]) with ordinality k (key, n) where ladder.key = k.key`, keys)
	return err
}

// PlaceRungs puts rungs onto a ladder, the first at the bottom.
func (t *Tx) PlaceRungs(ctx context.Context, ladder string, keys []string) error {
	_, err := t.tx.Exec(ctx, `update rung set ladder_key = $1, position = k.n from unnest($2::text[]) with ordinality k (key, n)
		where rung.key = k.key`, ladder, filled(keys))
	return err
}

// RemoveLadder removes a ladder without rungs.
func (t *Tx) RemoveLadder(ctx context.Context, key string) error {
	return inUse("ladder", exec(ctx, t, `delete from ladder where key = $1`, key))
}

// RemoveRung removes a rung with its faults and causes, unless a need, a mark, a sign-off or a plan names it.
func (t *Tx) RemoveRung(ctx context.Context, key string) error {
	signed, err := value[bool](ctx, t, `select exists (select from sign_off where rung_key = $1)`, key)
	if err != nil {
		return err
	}
	if signed {
		return kept("rung", "sign-offs name it")
	}
	return inUse("rung", exec(ctx, t, `delete from rung where key = $1`, key))
}

// RemoveDrill removes a drill, unless a plan or a family has it.
func (t *Tx) RemoveDrill(ctx context.Context, key string) error {
	return inUse("drill", exec(ctx, t, `delete from drill where key = $1`, key))
}

// inUse gives the words for a removal that the database refused because something names the noun, seen or not by the actor.
func inUse(noun string, err error) error {
	var pg *pgconn.PgError
	if !errors.As(err, &pg) || pg.Code != "23503" {
		return err
	}
	switch pg.TableName {
	case "mark", "mark_fault":
		return kept(noun, "marks of children name it, and marks are never lost")
	case "plan_entry", "plan_cell":
		return kept(noun, "lesson plans name it")
	case "home_assignment":
		return kept(noun, "it was sent home with children")
	case "home_exception":
		return kept(noun, "a teacher ticked an exception for it")
	case "rung_need":
		return kept(noun, "another rung needs it")
	}
	return err
}

func kept(noun, why string) error {
	return &studio.Error{Code: studio.Conflict, Text: "The " + noun + " was kept: " + why + "."}
}
