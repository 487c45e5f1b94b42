package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const bundleSQL = `select b.id, b.term_id, m.name as term, b.asked_by, b.asked_at, b.expires_at, b.state, b.finished_at, p.children, p.done, p.classes,
	(select coalesce(sum(length(f.body)), 0) from report_bundle_file f where f.bundle_id = b.id) as bytes
	from report_bundle b join term m on m.id = b.term_id, lateral (select coalesce(sum(p.children), 0)::int as children,
		coalesce(sum(p.children) filter (where p.made_at is not null), 0)::int as done, count(*)::int as classes
		from report_bundle_part p where p.bundle_id = b.id) p `

// Bundles lists the actor's bundles, the newest first.
func (t *Tx) Bundles(ctx context.Context) ([]studio.Bundle, error) {
	return many[studio.Bundle](ctx, t, bundleSQL+`order by b.asked_at desc, b.id`)
}

// Bundle is one of the actor's bundles.
func (t *Tx) Bundle(ctx context.Context, id uuid.UUID) (studio.Bundle, error) {
	return one[studio.Bundle](ctx, t, bundleSQL+`where b.id = $1`, id)
}

// AskBundle writes down that the actor asks for the reports of a term, and queues the work. Classes in which nobody was are left out.
func (t *Tx) AskBundle(ctx context.Context, term uuid.UUID, expires time.Time) (uuid.UUID, error) {
	id, err := value[uuid.UUID](ctx, t, `insert into report_bundle (term_id, asked_by, asked_at, expires_at) values ($1, $2, $3, $4) returning id`,
		term, t.by(), t.Now, expires)
	if err != nil {
		return id, err
	}
	_, err = t.tx.Exec(ctx, `insert into report_bundle_part (bundle_id, class_id, place, children)
		select $1, c.id, row_number() over (order by (c.weekday + 6) % 7, c.starts_at, c.name, c.id), n.children from class c join term m on m.id = c.term_id,
			lateral (select count(*) as children from enrolment e where e.class_id = c.id and e.from_on <= m.ends_on and coalesce(e.until_on, 'infinity') >= m.starts_on) n
		where c.term_id = $2 and n.children > 0`, id, term)
	if err != nil {
		return id, err
	}
	return id, t.queueBundle(ctx, id)
}

// BundlePart is a class of a bundle that has not been written yet.
type BundlePart struct {
	ClassID uuid.UUID
	Place   int
}

// NextOfBundle takes the next class to write, and keeps others from taking it until the transaction ends; studio.Missing when none is
// left.
func (t *Tx) NextOfBundle(ctx context.Context, id uuid.UUID) (BundlePart, error) {
	return one[BundlePart](ctx, t, `select class_id, place from report_bundle_part where bundle_id = $1 and made_at is null order by place limit 1 for update`, id)
}

// LockBundle is Bundle, kept from everybody else until the transaction ends.
func (t *Tx) LockBundle(ctx context.Context, id uuid.UUID) (studio.Bundle, error) {
	if _, err := value[uuid.UUID](ctx, t, `select id from report_bundle where id = $1 for update`, id); err != nil {
		return studio.Bundle{}, err
	}
	return t.Bundle(ctx, id)
}

// AddToBundle writes a file of a bundle.
func (t *Tx) AddToBundle(ctx context.Context, id uuid.UUID, name string, body []byte) error {
	return exec(ctx, t, `insert into report_bundle_file (bundle_id, name, body) values ($1, $2, $3)`, id, name, body)
}

// NotePartMade notes that a class of a bundle is written.
func (t *Tx) NotePartMade(ctx context.Context, id, class uuid.UUID) error {
	return exec(ctx, t, `update report_bundle_part set made_at = $3 where bundle_id = $1 and class_id = $2 and made_at is null`, id, class, t.Now)
}

// ClassesOfBundle lists the classes of a bundle in their order.
func (t *Tx) ClassesOfBundle(ctx context.Context, id uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, t, `select class_id from report_bundle_part where bundle_id = $1 order by place`, id)
}

// SetBundleState says how far a bundle is; one that does not go on drops its files unless it is ready.
func (t *Tx) SetBundleState(ctx context.Context, id uuid.UUID, state studio.BundleState) error {
	open := state == studio.BundleWaiting || state == studio.BundleWorking
	err := exec(ctx, t, `update report_bundle set state = $2, finished_at = case when $3 then null else $4::timestamptz end where id = $1`, id, state, open, t.Now)
	if err != nil || open || state == studio.BundleReady {
		return err
	}
	_, err = t.tx.Exec(ctx, `delete from report_bundle_file where bundle_id = $1`, id)
	return err
}

// BundleFiles names the files of a bundle in their order.
func (t *Tx) BundleFiles(ctx context.Context, id uuid.UUID) ([]string, error) {
	return column[string](ctx, t, `select name from report_bundle_file where bundle_id = $1 order by name`, id)
}

// BundleFile is a file of a bundle.
func (t *Tx) BundleFile(ctx context.Context, id uuid.UUID, name string) ([]byte, error) {
	return value[[]byte](ctx, t, `select body from report_bundle_file where bundle_id = $1 and name = $2`, id, name)
}

// DropExpiredBundles removes the bundles that have expired, with their files.
func (t *Tx) DropExpiredBundles(ctx context.Context) error {
	_, err := t.tx.Exec(ctx, `delete from report_bundle where expires_at <= $1`, t.Now)
	return err
}

// StopBundlesOfErased stops every bundle, also one that is ready, with a class of a child who was erased since it was asked for, and
// drops its files. It waits for the class that is being written.
func (t *Tx) StopBundlesOfErased(ctx context.Context) error {
	_, err := t.tx.Exec(ctx, `with stopped as (update report_bundle b set state = 'stopped', finished_at = $1
			where b.state in ('waiting', 'working', 'ready') and exists (select from report_bundle_part p join enrolment e on e.class_id = p.class_id
				join child c on c.id = e.child_id where p.bundle_id = b.id and c.erased_at >= b.asked_at) returning b.id)
		delete from report_bundle_file f using stopped s where f.bundle_id = s.id`, t.Now)
	return err
}
