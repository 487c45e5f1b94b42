package postgres

import (
	"context"

	"github.com/google/uuid"
)

// Reachable is somebody who can be written to.
type Reachable struct{ Name, Email, Language string }

// TeachersToTell lists who takes a class of the child today; the owners, where nobody does. Run it as the program, and let no address
// leave but in a letter.
func (t *Tx) TeachersToTell(ctx context.Context, child uuid.UUID) ([]Reachable, error) {
	people, err := many[Reachable](ctx, t, `select distinct a.name, a.email, a.language from enrolment e
		join class_staff cs on cs.class_id = e.class_id and cs.duty = 'teacher' and cs.from_on <= $2 and coalesce(cs.until_on, 'infinity') >= $2
		join staff s on s.id = cs.staff_id and s.left_on is null join account a on a.id = s.account_id and a.disabled_at is null and a.joined_at is not null
		where e.child_id = $1 and e.from_on <= $2 and coalesce(e.until_on, 'infinity') >= $2 order by a.email`, child, t.Today)
	if err != nil || len(people) > 0 {
		return people, err
	}
	return many[Reachable](ctx, t, `select a.name, a.email, a.language from account a join account_role r on r.account_id = a.id and r.role = 'owner'
		where a.disabled_at is null and a.joined_at is not null order by a.email`)
}
