package studio

import (
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Account is somebody who may sign in.
type Account struct {
	ID         uuid.UUID
	Email      string
	Name       string
	Language   string // the tag of the one that was chosen, or ""
	Roles      []Role
	Children   int        // of whom the account is a guardian
	JoinedAt   *time.Time // when it first chose a passphrase; nil while nobody can sign in with it
	DisabledAt *time.Time
}

// Guardian is an account's place beside a child.
type Guardian struct {
	AccountID uuid.UUID
	ChildID   uuid.UUID
	Name      string // of the account
	Email     string
	Language  string // of the account, as Account.Language
	ChildName string
	Relation  string // such as parent
	Rights    []GuardianRight
	InvitedBy *uuid.UUID // who let him or her in
	Since     time.Time
	RemovedAt *time.Time
}

// GuardianRight is something that a guardian may beside seeing the child.
type GuardianRight string

// The rights of guardians.
const (
	RightToReport GuardianRight = "hurt"    // report that something hurts
	RightToRead   GuardianRight = "reports" // read released term reports
	RightToInvite GuardianRight = "invite"  // let further guardians in
)

// May reports whether the guardian has a right.
func (g Guardian) May(r GuardianRight) bool { return slices.Contains(g.Rights, r) }

// Child is a child as an assistant may know it: first name and initial.
type Child struct {
	ID        uuid.UUID
	GivenName string
	Initial   string
	JoinedOn  time.Time
	LeftOn    *time.Time
	ErasedAt  *time.Time // set where the record is a tombstone: nobody can be known from it
}

// ShortName is "Ada B.".
func (c Child) ShortName() string {
	if c.Initial == "" {
		return c.GivenName
	}
	return c.GivenName + " " + c.Initial + "."
}

// ChildDetail is what only the child's teachers, its guardians and the owner may know.
type ChildDetail struct {
	Child
	FamilyName string
	BirthDate  time.Time
	Contact    string
	RosterRef  string
}

// FullName is given name and family name.
func (c ChildDetail) FullName() string { return strings.TrimSpace(c.GivenName + " " + c.FamilyName) }

// AgeOn is the age in whole years on a day. Somebody born on 29 February turns a year older on 1 March in a common year.
func AgeOn(birth, day time.Time) int {
	age := day.Year() - birth.Year()
	if day.Month() < birth.Month() || day.Month() == birth.Month() && day.Day() < birth.Day() {
		age--
	}
	return age
}

// Staff is somebody who takes or helps at classes, with or without an account.
type Staff struct {
	ID        uuid.UUID
	AccountID *uuid.UUID
	Name      string
	Trainee   bool
	CanLead   bool
	LeftOn    *time.Time
}

// StaffDetail adds what only teachers and the owner may know.
type StaffDetail struct {
	Staff
	BirthDate time.Time
	Phone     string
}

// SignOff says that a person may spot a rung, and the drills that prepare it, until a date.
type SignOff struct {
	ID        uuid.UUID
	StaffID   uuid.UUID
	StaffName string
	RungKey   string
	RungName  string
	GrantedOn time.Time
	ExpiresOn time.Time
	RevokedAt *time.Time
}

// HoldsOn reports whether the sign-off holds on a day.
func (s SignOff) HoldsOn(day time.Time) bool {
	return s.RevokedAt == nil && !day.Before(s.GrantedOn) && !day.After(s.ExpiresOn)
}
