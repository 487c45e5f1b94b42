package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// SentMessage is a message as its writer sees it: Read is how many guardians have opened it.
type SentMessage struct {
	studio.Message
	Read int
}

// GotMessage is a message as a guardian sees it.
type GotMessage struct {
	studio.Message
	Class string // to whose families it went; "" for one about the child alone
	New   bool   // the guardian has not opened it
}

const sentSQL = `select m.id, m.child_id, m.class_id, m.note, m.signed, m.written_at, m.taken_back_at,
	(select count(*)::int from message_read r where r.message_id = m.id) as read from message m where `

// MessagesToChild lists what was written to the family of one child alone, the newest first.
func (t *Tx) MessagesToChild(ctx context.Context, child uuid.UUID) ([]SentMessage, error) {
	return many[SentMessage](ctx, t, sentSQL+`m.child_id = $1 order by m.written_at desc, m.id`, child)
}

// MessagesToClass lists what was written to the families of a class, the newest first.
func (t *Tx) MessagesToClass(ctx context.Context, class uuid.UUID) ([]SentMessage, error) {
	return many[SentMessage](ctx, t, sentSQL+`m.class_id = $1 order by m.written_at desc, m.id`, class)
}

const messagesForSQL = `select m.id, m.child_id, m.class_id, m.note, m.signed, m.written_at,
	coalesce((select c.name from class c where c.id = m.class_id), '') as class,
	not exists (select from message_read r where r.message_id = m.id and r.account_id = $2) as new
	from message m where m.taken_back_at is null and (m.child_id = $1 or exists (select from enrolment e where e.class_id = m.class_id and e.child_id = $1
		and m.written_on between e.from_on and coalesce(e.until_on, 'infinity')))
	order by m.written_at desc, m.id`

// MessagesFor lists what a guardian may read about an own child, the newest first: messages to the child's family, and those to a class
// that the child was in on the day.
func (t *Tx) MessagesFor(ctx context.Context, child uuid.UUID) ([]GotMessage, error) {
	return many[GotMessage](ctx, t, messagesForSQL, child, t.Actor.ID)
}

// NoteRead keeps when the actor first opened messages.
func (t *Tx) NoteRead(ctx context.Context, messages []uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `insert into message_read (message_id, account_id, read_at) select id, $2, $3 from unnest($1::uuid[]) x (id) on conflict do nothing`,
		messages, t.Actor.ID, t.Now)
	return err
}

// WriteMessage keeps a message.
func (t *Tx) WriteMessage(ctx context.Context, m studio.Message) error {
	return exec(ctx, t, `insert into message (child_id, class_id, note, signed, written_by, written_on, written_at) values ($1, $2, $3, $4, $5, $6, $7)`,
		m.ChildID, m.ClassID, m.Note, m.Signed, t.by(), t.Today, t.Now)
}

// TakeBackMessage hides a message of a child or class from families; studio.Missing when it is not there or hidden already.
func (t *Tx) TakeBackMessage(ctx context.Context, child, class *uuid.UUID, message uuid.UUID) error {
	return exec(ctx, t, `update message set taken_back_at = $4 where id = $3 and taken_back_at is null
		and (child_id = $1 or class_id = $2)`, child, class, message, t.Now)
}
