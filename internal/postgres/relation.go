package postgres

import (
	"context"

	"github.com/google/uuid"
)

// ClassOfLesson is the class of a lesson; studio.Missing when there is no such lesson to be seen.
func (t *Tx) ClassOfLesson(ctx context.Context, lesson uuid.UUID) (uuid.UUID, error) {
	return value[uuid.UUID](ctx, t, `select class_id from lesson where id = $1`, lesson)
}

const classesOfChildSQL = `select class_id from enrolment where child_id = $1`

// ClassesOfChild are the classes in which the child is or was enrolled.
func (t *Tx) ClassesOfChild(ctx context.Context, child uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, t, classesOfChildSQL, child)
}
