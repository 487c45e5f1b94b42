package postgres

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// TermPage is what a class's term is made of, beside its children and their marks.
type TermPage struct {
	Card     ClassCard
	Term     studio.Term
	Holidays []studio.Holiday
	Lessons  []studio.Lesson
	Pacing   studio.Pacing // Version 0 when nothing is saved
	Changed  bool          // there is something to go back to
}

const (
	pacingSQL      = `select class_id, version, most_new, lag, saved_at from pacing where class_id = $1`
	pacingRungsSQL = `select rung_key, week_of, earliest, latest, pinned, focus, seen_again from pacing_rung where class_id = $1 order by rung_key`
)

// TermPage reads the term of a class in one round trip; studio.Missing when the actor does not take the class.
func (t *Tx) TermPage(ctx context.Context, class uuid.UUID) (TermPage, error) {
	var page TermPage
	var cards []ClassCard
	var terms []studio.Term
	var saved []studio.Pacing
	var rungs []studio.PacedRung
	batch := &pgx.Batch{}
	batch.Queue(classCardsSQL+` and c.id = $4`, t.taken(), t.Today, t.Now, class).Query(collect(&cards))
	batch.Queue(termSQL+`where id = (select term_id from class where id = $1)`, class).Query(collect(&terms))
	batch.Queue(`select h.id, h.term_id, h.name, h.starts_on, h.ends_on from holiday h join class c on c.term_id = h.term_id where c.id = $1
		order by h.starts_on, h.name`, class).Query(collect(&page.Holidays))
	batch.Queue(`select id, class_id, starts_at, minutes, cancelled_at from lesson where class_id = $1 order by starts_at`, class).Query(collect(&page.Lessons))
	batch.Queue(pacingSQL, class).Query(collect(&saved))
	batch.Queue(pacingRungsSQL, class).Query(collect(&rungs))
	batch.Queue(`select exists (select from pacing_before where class_id = $1)`, class).Query(eachRow(func(rows pgx.Rows) error { return rows.Scan(&page.Changed) }))
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return page, err
	}
	if len(cards) == 0 || len(terms) == 0 {
		return page, studio.Missing()
	}
	page.Card, page.Term, page.Pacing = cards[0], terms[0], studio.NewPacing(class)
	if len(saved) > 0 {
		page.Pacing, page.Pacing.Rungs = saved[0], rungs
	}
	return page, nil
}

// PacingOf is a class's term as it is saved; studio.Missing when nothing is.
func (t *Tx) PacingOf(ctx context.Context, class uuid.UUID) (studio.Pacing, error) {
	p, err := one[studio.Pacing](ctx, t, pacingSQL, class)
	if err != nil {
		return p, err
	}
	p.Rungs, err = many[studio.PacedRung](ctx, t, pacingRungsSQL, class)
	return p, err
}

// SavePacing writes a term over the one of its class. p.Version is the version that it started from, 0 when there was none: when
// another was saved meanwhile nothing is written and the error is a studio.Conflict. What it changes is kept for PacingUndo.
func (t *Tx) SavePacing(ctx context.Context, p studio.Pacing) (int, error) {
	was, err := t.PacingOf(ctx, p.ClassID)
	if err != nil && studio.CodeOf(err) != studio.NotFound {
		return 0, err
	}
	saved, err := one[studio.Pacing](ctx, t, `insert into pacing as old (class_id, version, most_new, lag, saved_by, saved_at) values ($1, $2 + 1, $3, $4, $5, $6)
		on conflict (class_id) do update set version = $2 + 1, most_new = $3, lag = $4, saved_by = $5, saved_at = $6 where old.version = $2
		returning class_id, version`, p.ClassID, p.Version, p.MostNew, p.Lag, t.savedBy(), t.Now)
	if studio.CodeOf(err) == studio.NotFound {
		return 0, &studio.Error{Code: studio.Conflict, Text: "Somebody else changed this term meanwhile. Yours was not written over it: open the page again to see theirs."}
	}
	if err != nil {
		return 0, err
	}
	batch := &pgx.Batch{}
	if was.Version > 0 {
		parts, err := json.Marshal(was)
		if err != nil {
			return 0, fmt.Errorf("keep the term before the change: %w", err)
		}
		batch.Queue(`insert into pacing_before (class_id, parts) values ($1, $2) on conflict (class_id) do update set parts = $2`, p.ClassID, string(parts))
	}
	batch.Queue(`delete from pacing_rung where class_id = $1`, p.ClassID)
	for _, r := range p.Rungs {
		batch.Queue(`insert into pacing_rung (class_id, rung_key, week_of, earliest, latest, pinned, focus, seen_again) values ($1, $2, $3, $4, $5, $6, $7, $8)`,
			p.ClassID, r.RungKey, r.WeekOf, r.Earliest, r.Latest, r.Pinned, r.Focus, filledDays(r.SeenAgain))
	}
	return saved.Version, t.tx.SendBatch(ctx, batch).Close()
}

// filledDays is an empty list for nil, which the database would take for null.
func filledDays(days []time.Time) []time.Time {
	if days == nil {
		return []time.Time{}
	}
	return days
}

// PacingUndo reads a class's term as it was before its last change; studio.Missing when it never changed.
func (t *Tx) PacingUndo(ctx context.Context, class uuid.UUID) (studio.Pacing, error) {
	var p studio.Pacing
	text, err := value[string](ctx, t, `select parts::text from pacing_before where class_id = $1`, class)
	if err != nil {
		return p, err
	}
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		return p, fmt.Errorf("read the term before the last change: %w", err)
	}
	return p, nil
}

// Pace is what the lessons of a class so far say of those to come. Present and Noted are by child; for the rest see Prospect.
type Pace struct {
	Turns, TwoSidedTurns float64
	Visits, Chances      int
	Present, Noted       map[uuid.UUID]int
}

const paceSQL = `
with cells as (
  select m.child_id, m.rung_key, r.two_sided, l.starts_at, count(*) as turns
  from mark m join lesson l on l.id = m.lesson_id join rung r on r.key = m.rung_key
  where l.class_id = $1 and l.starts_at > $2::timestamptz - interval '12 weeks' and l.starts_at <= $2 and ` + standingMarks + `
  group by m.child_id, m.rung_key, r.two_sided, l.id
), spans as (
  select child_id, count(*) - 1 as again, min(starts_at) as first, max(starts_at) as last from cells group by child_id, rung_key having count(*) > 1
)
select coalesce((select avg(turns) from cells where not two_sided), 0)::float8 as turns,
  coalesce((select avg(turns) from cells where two_sided), 0)::float8 as two_sided_turns,
  coalesce((select sum(again) from spans), 0)::int as visits,
  coalesce((select sum((select count(*) from attendance a join lesson l on l.id = a.lesson_id
    where l.class_id = $1 and a.child_id = s.child_id and a.present and l.starts_at > s.first and l.starts_at <= s.last)) from spans s), 0)::int as chances`

// PaceOf reads how a class gets on, in one round trip, with how the rungs are learned.
func (t *Tx) PaceOf(ctx context.Context, class uuid.UUID) (Pace, []RungFit, error) {
	p := Pace{Present: map[uuid.UUID]int{}, Noted: map[uuid.UUID]int{}}
	var fits []RungFit
	batch := &pgx.Batch{}
	batch.Queue(paceSQL, class, t.Now).Query(eachRow(func(rows pgx.Rows) error { return rows.Scan(&p.Turns, &p.TwoSidedTurns, &p.Visits, &p.Chances) }))
	batch.Queue(`select a.child_id, count(*) filter (where a.present), count(*) from attendance a join lesson l on l.id = a.lesson_id where l.class_id = $1 and l.starts_at <= $2 group by 1`,
		class, t.Now).Query(eachRow(func(rows pgx.Rows) error {
		var child uuid.UUID
		var present, noted int
		err := rows.Scan(&child, &present, &noted)
		p.Present[child], p.Noted[child] = present, noted
		return err
	}))
	batch.Queue(fitSQL).Query(collect(&fits))
	return p, fits, t.tx.SendBatch(ctx, batch).Close()
}
