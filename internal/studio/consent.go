package studio

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
)

// Purpose is something that a studio asks a family's consent for.
type Purpose string

// The purposes, each with what it gates.
const (
	Letters     Purpose = "letters"      // no e-mail goes to a guardian about messages without the guardian's own yes
	AdultDrills Purpose = "adult-drills" // no drill that needs an adult in the room goes home without it
	Photos      Purpose = "photos"       // a record for whoever holds the camera
)

// Purposes lists all, in reading order.
func Purposes() []Purpose { return []Purpose{Letters, AdultDrills, Photos} }

// PurposeOf reads a purpose by its key; Missing where there is none.
func PurposeOf(key string) (Purpose, error) {
	if !slices.Contains(Purposes(), Purpose(key)) {
		return "", Missing()
	}
	return Purpose(key), nil
}

// Title is the purpose in a few words.
func (p Purpose) Title() string {
	return map[Purpose]string{Letters: "E-mail about messages", AdultDrills: "Home drills with an adult", Photos: "Photos at the showcase"}[p]
}

// Gates says what the program does and leaves undone by the answer.
func (p Purpose) Gates() string {
	return map[Purpose]string{
		Letters:     "Without your yes no e-mail about messages goes to you; the messages themselves stand here all the same.",
		AdultDrills: "Without a yes no drill that needs an adult can be sent, and one that is out is taken back.",
		Photos:      "The studio reads the answer here before anybody takes a photo.",
	}[p]
}

// Each reports whether every guardian answers for himself or herself alone. For the other purposes the child has consent while one
// guardian says yes and none says no.
func (p Purpose) Each() bool { return p == Letters }

// ConsentText is one version of what families are asked.
type ConsentText struct {
	Purpose   Purpose
	Version   int
	Words     string
	WrittenAt time.Time
}

// ConsentAnswer is one line of the ledger.
type ConsentAnswer struct {
	ChildID    uuid.UUID
	AccountID  *uuid.UUID // nil where the account is gone
	Purpose    Purpose
	Version    int
	Given      bool
	AnsweredAt time.Time
}

// Consented judges the last answers of a child's present guardians to the present words: one yes at least, and no no.
func Consented(answers []ConsentAnswer) bool {
	for _, a := range answers {
		if !a.Given {
			return false
		}
	}
	return len(answers) > 0
}

// CheckConsentWords refuses words that nobody can be asked.
func CheckConsentWords(words string) error {
	if n := utf8.RuneCountInString(strings.TrimSpace(words)); n == 0 || n > 2000 {
		return Refuse("Nothing was saved.", []FieldError{{Field: "words", Problem: "Say what you ask, in at most 2000 characters."}})
	}
	return nil
}

// ConsentAge is the age from which a child may consent alone to an online service that is offered to it directly.
type ConsentAge struct {
	Where string
	Age   int
}

// ConsentAges are under Article 8 of the General Data Protection Regulation: 16 where a country has set nothing lower, and never
// below 13. Sources: the Information Commissioner's Office for the United Kingdom; a law firm's tracker (Bird & Bird) for the others.
func ConsentAges() []ConsentAge {
	return []ConsentAge{{"United Kingdom", 13}, {"Belgium, Denmark, Sweden", 13}, {"Austria, Italy, Spain", 14}, {"France", 15}, {"Germany, Ireland, Netherlands", 16}}
}
