package studio

import (
	"slices"

	"github.com/google/uuid"
)

// Role is what an account may be to the studio. One account can hold several.
type Role string

// The roles. Parent follows from being a guardian of a child; the others are given by the studio.
const (
	OwnerRole     Role = "owner"
	TeacherRole   Role = "teacher"
	AssistantRole Role = "assistant"
	ParentRole    Role = "parent"
)

// StaffRoles lists the roles that a studio gives.
func StaffRoles() []Role { return []Role{OwnerRole, TeacherRole, AssistantRole} }

// Actor is who acts. The zero Actor is somebody who is not signed in.
type Actor struct {
	ID    uuid.UUID
	Name  string
	Email string
	Roles []Role
	// Language is the tag of the language that the account chose, or "".
	Language string
	Program  bool // the program's own commands (import, demo, first owner); never set from a request
	// Unguarded is set of an owner or teacher with neither a code nor a passkey where the studio asks for one: such an actor may set one
	// up (GuardAccount) and nothing else.
	Unguarded bool
}

// Is reports whether the actor holds the role.
func (a Actor) Is(r Role) bool { return slices.Contains(a.Roles, r) }

// SignedIn reports whether the actor is an account.
func (a Actor) SignedIn() bool { return a.ID != uuid.Nil }

// ProgramActor is the actor of the program's own commands.
func ProgramActor() Actor {
	return Actor{Name: "Rungbook", Program: true, Roles: []Role{OwnerRole}}
}
