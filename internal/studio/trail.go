package studio

import (
	"time"

	"github.com/google/uuid"
)

// TrailEntry is a line of the audit trail: who did what to what.
type TrailEntry struct {
	ID        uuid.UUID
	At        time.Time
	ActorName string
	Action    string         // such as "changed roles"
	Kind      string         // of the subject, such as "account"
	Key       string         // of the subject
	Name      string         // of the subject as it is called now, in the trail of one child of the drill or rung that it was about; or ""
	Detail    map[string]any // what else was noted
}
