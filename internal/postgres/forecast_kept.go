package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// EarlierNow lets the rest of the transaction take an earlier moment for now.
func (t *Tx) EarlierNow(now time.Time) { t.Now, t.Today = now, dayOf(now, t.zone) }

const toForecastSQL = `select c.id from class c join term m on m.id = c.term_id
	where $1 between m.starts_on and m.ends_on and m.archived_at is null
	and not exists (select from forecast_kept f where f.class_id = c.id and f.made_on >= $2 and f.made_on < $2::date + 7)`

// ClassesToForecast lists the classes in term of which nothing was kept yet in this week, which begins on a Monday.
func (t *Tx) ClassesToForecast(ctx context.Context) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, t, toForecastSQL+` order by c.id`, t.Today, studio.MondayOf(t.Today))
}

// TakeForecasts reports whether a class is still one of ClassesToForecast, and holds it until the transaction ends: of several copies of
// the program one does it and the others leave it.
func (t *Tx) TakeForecasts(ctx context.Context, class uuid.UUID) (bool, error) {
	mine, err := value[bool](ctx, t, `select pg_try_advisory_xact_lock(hashtext('forecast_kept'), hashtext($1::text))`, class)
	if err != nil || !mine {
		return false, err
	}
	return value[bool](ctx, t, `select exists (`+toForecastSQL+` and c.id = $3)`, t.Today, studio.MondayOf(t.Today), class)
}

// LookAhead is the day that forecasts about children look to, the zero value without a term on or ahead.
func (t *Tx) LookAhead(ctx context.Context) (Ahead, error) {
	days, err := many[Ahead](ctx, t, aheadSQL, t.Today)
	if err != nil || len(days) == 0 {
		return Ahead{}, err
	}
	return days[0], nil
}

// ProspectsOf reads what is ahead of some children until a day, in every class that each is in. It is for the program, which sees every
// class.
func (t *Tx) ProspectsOf(ctx context.Context, children []uuid.UUID, day time.Time) (map[uuid.UUID][]Prospect, error) {
	all, err := many[Prospect](ctx, t, prospectSQL, t.Today, children, t.Now, day)
	byChild := map[uuid.UUID][]Prospect{}
	for _, p := range all {
		byChild[p.ChildID] = append(byChild[p.ChildID], p)
	}
	return byChild, err
}

const keptColumns = `class_id, child_id, made_for, made_on, due_on, rule_clean, rule_window, rule_lessons, rungs, chances`

// KeepForecasts adds forecasts as they were made.
func (t *Tx) KeepForecasts(ctx context.Context, kept []studio.KeptForecast) error {
	batch := &pgx.Batch{}
	for _, f := range kept {
		batch.Queue(`insert into forecast_kept (`+keptColumns+`) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
			f.ClassID, f.ChildID, string(f.MadeFor), f.MadeOn, f.DueOn, f.RuleClean, f.RuleWindow, f.RuleLessons, f.Rungs, f.Chances)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// DueForecast is what was forecast about a child, where the day is over. Left is whether the child had left the class by then.
type DueForecast struct {
	studio.KeptForecast
	Left bool
}

// dueSQL takes: made for, today, since when due, the class (null for all). What is of a child's page counts once though two classes
// kept it.
const dueSQL = `with due as (
  select f.*, not exists (select from enrolment e where e.class_id = f.class_id and e.child_id = f.child_id and coalesce(e.until_on, 'infinity') >= f.due_on)
    or exists (select from child c where c.id = f.child_id and (c.erased_at is not null or c.left_on <= f.due_on)) as "left"
  from forecast_kept f where f.made_for = $1 and f.due_on < $2 and f.due_on >= $3 and ($4::uuid is null or f.class_id = $4)
)
select distinct on (child_id, made_on, due_on, case made_for when 'term' then class_id end) ` + keptColumns + `, "left"
from due order by child_id, made_on, due_on, case made_for when 'term' then class_id end, "left", class_id`

// DueForecasts reads the forecasts of a class, or (nil) of all, that came due since a day, each child's together.
func (t *Tx) DueForecasts(ctx context.Context, of studio.ForecastFor, class *uuid.UUID, since time.Time) ([]DueForecast, error) {
	return many[DueForecast](ctx, t, dueSQL, string(of), t.Today, since, class)
}

// LessonDay is a day on which a child was noted as there at a lesson.
type LessonDay struct {
	ChildID uuid.UUID
	Day     time.Time // midnight UTC
}

// LessonDays lists the days since a day on which children were at a lesson.
func (t *Tx) LessonDays(ctx context.Context, children []uuid.UUID, since time.Time) ([]LessonDay, error) {
	return many[LessonDay](ctx, t, `select a.child_id, (l.starts_at at time zone k.time_zone)::date as day
		from attendance a join lesson l on l.id = a.lesson_id join class k on k.id = l.class_id
		where a.child_id = any($1) and a.present and l.starts_at >= $2`, children, since)
}

// ForecastsWaiting is what was kept and is not due: how many, and the day on which the next ones are; zero values for none.
type ForecastsWaiting struct {
	Count int
	Next  time.Time
}

// ForecastsWaiting counts the forecasts of a class, or (nil) of all, that are not due yet.
func (t *Tx) ForecastsWaiting(ctx context.Context, of studio.ForecastFor, class *uuid.UUID) (ForecastsWaiting, error) {
	return one[ForecastsWaiting](ctx, t, `select coalesce(sum(cardinality(rungs)), 0)::int as count, coalesce(min(due_on), '0001-01-01') as next
		from forecast_kept where made_for = $1 and due_on >= $2 and ($3::uuid is null or class_id = $3)`, string(of), t.Today, class)
}
