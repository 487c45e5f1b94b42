package studio

import (
	"time"

	"github.com/google/uuid"
)

// NoteKind is what happened to an account, or in one of its children's families, that its holder is told.
type NoteKind string

// The kinds of note. Those that say something of what it was about carry it as About.
const (
	NotePassphrase     NoteKind = "passphrase"
	NotePassphraseLink NoteKind = "passphrase-link"
	NoteEmailAsked     NoteKind = "email-asked"   // about: the new address
	NoteEmail          NoteKind = "email"         // about: the new address
	NoteEmailStopped   NoteKind = "email-stopped" // about: the address that was not to be
	NotePasskey        NoteKind = "passkey"       // about: its name
	NotePasskeyGone    NoteKind = "passkey-gone"  // about: its name
	NoteCodeOn         NoteKind = "code-on"
	NoteCodeOff        NoteKind = "code-off"
	NoteBrowser        NoteKind = "browser" // about: its kind
	NoteRescued        NoteKind = "rescued"
	NoteRoles          NoteKind = "roles"
	NoteGuardian       NoteKind = "guardian"      // somebody else became a guardian of one of the children
	NoteGuardianGone   NoteKind = "guardian-gone" // somebody else is one no longer
	NoteMadeGuardian   NoteKind = "made-guardian" // the account itself
	NoteNoGuardian     NoteKind = "no-guardian"
	NoteRights         NoteKind = "rights"
)

// NoteKinds lists them all.
func NoteKinds() []NoteKind {
	return []NoteKind{NotePassphrase, NotePassphraseLink, NoteEmailAsked, NoteEmail, NoteEmailStopped, NotePasskey, NotePasskeyGone, NoteCodeOn, NoteCodeOff,
		NoteBrowser, NoteRescued, NoteRoles, NoteGuardian, NoteGuardianGone, NoteMadeGuardian, NoteNoGuardian, NoteRights}
}

// AccountNote is one of the notes to the holder of an account.
type AccountNote struct {
	AccountID uuid.UUID
	At        time.Time
	Kind      NoteKind
	About     string
}

// EmailChange is a change of address that an account has asked for.
type EmailChange struct {
	AccountID   uuid.UUID
	Was         string
	Email       string
	AskedAt     time.Time
	ConfirmedAt *time.Time // nil until the link to the new address was opened
}
