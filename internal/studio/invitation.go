package studio

import (
	"time"

	"github.com/google/uuid"
)

// InvitationKind is what a one-time link is for.
type InvitationKind string

// The kinds of link.
const (
	JoinLink  InvitationKind = "join"  // make an account
	ResetLink InvitationKind = "reset" // choose a new passphrase
)

// Invitation is a one-time link that the studio handed out. The secret in the link is not part of it: only its hash is kept.
type Invitation struct {
	ID         uuid.UUID
	Kind       InvitationKind
	Email      string
	Name       string
	Roles      []Role
	StaffID    *uuid.UUID
	ChildIDs   []uuid.UUID // of whom the account will be a guardian
	ChildNames []string
	Rights     []GuardianRight // of the guardian to be; nil for what the studio's invitations give
	CreatedBy  *uuid.UUID      // nil when the program made it
	CreatedAt  time.Time
	ExpiresAt  time.Time
	UsedAt     *time.Time
}

// OpenAt reports whether the link works at a moment.
func (i Invitation) OpenAt(now time.Time) bool { return i.UsedAt == nil && now.Before(i.ExpiresAt) }
