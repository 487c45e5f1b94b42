package studio

import (
	"slices"
	"strings"
	"time"
	"unicode"
)

// The ages between which a birth date of a child or of staff is believed, in years on the day of the check. Bounds against slips
// of the pen, not rules about who may come.
const (
	youngestChild, oldestChild = 1, 25
	youngestStaff, oldestStaff = 12, 100
)

// Validate checks a child's record on a day.
func (c ChildDetail) Validate(today time.Time) []FieldError {
	var k checks
	k.text("given_name", c.GivenName, 80)
	k.text("family_name", c.FamilyName, 80)
	k.age("birth_date", c.BirthDate, today, youngestChild, oldestChild)
	k.day("joined_on", c.JoinedOn)
	k.order("left_on", c.JoinedOn, c.LeftOn)
	k.most("contact", c.Contact, 400)
	k.most("roster_ref", c.RosterRef, 60)
	return k.errors
}

// Tidy trims the names and takes the initial from the family name.
func (c ChildDetail) Tidy() ChildDetail {
	c.GivenName, c.FamilyName = strings.TrimSpace(c.GivenName), strings.TrimSpace(c.FamilyName)
	c.Contact, c.RosterRef = strings.TrimSpace(c.Contact), strings.TrimSpace(c.RosterRef)
	c.Initial = initialOf(c.FamilyName)
	return c
}

// initialOf is the first letter with the marks that belong to it.
func initialOf(name string) string {
	runes := []rune(name)
	end := min(len(runes), 1)
	for end < len(runes) && end < 4 && unicode.Is(unicode.M, runes[end]) {
		end++
	}
	return strings.ToUpper(string(runes[:end]))
}

// Validate checks a staff record on a day.
func (s StaffDetail) Validate(today time.Time) []FieldError {
	var k checks
	k.text("name", s.Name, 120)
	k.age("birth_date", s.BirthDate, today, youngestStaff, oldestStaff)
	k.most("phone", s.Phone, 40)
	if s.Trainee && s.CanLead {
		k.refuse("can_lead", "a trainee helps at a station and does not run one")
	}
	return k.errors
}

// The most characters of the name of an account, and of a passkey.
const (
	AccountNameLength = 120
	PasskeyNameLength = 60
)

// Validate checks whom an invitation is for.
func (i Invitation) Validate() []FieldError {
	var k checks
	k.text("name", i.Name, AccountNameLength)
	k.email("email", i.Email)
	k.roles("roles", i.Roles)
	if len(i.Roles) == 0 && len(i.ChildIDs) == 0 {
		k.refuse("roles", "choose a role, or a child whose guardian this is")
	}
	return k.errors
}

// ValidatePasskeyName checks what somebody calls a passkey.
func ValidatePasskeyName(name string) []FieldError {
	var k checks
	k.text("name", name, PasskeyNameLength)
	return k.errors
}

// ValidateRoles checks that the roles are ones that a studio gives.
func ValidateRoles(roles []Role) []FieldError {
	var k checks
	k.roles("roles", roles)
	return k.errors
}

func (c *checks) roles(field string, roles []Role) {
	for _, r := range roles {
		if !slices.Contains(StaffRoles(), r) {
			c.refuse(field, "choose from those offered")
		}
	}
}

func (c *checks) email(field, v string) {
	name, host, ok := strings.Cut(v, "@")
	if !ok || name == "" || host == "" || len(v) > 254 || strings.ContainsAny(v, " \t\r\n,;<>\"") || strings.Contains(host, "@") {
		c.refuse(field, "an e-mail address, such as name@example.org")
	}
}

func (c *checks) most(field, v string, most int) {
	if strings.TrimSpace(v) != "" {
		c.text(field, v, most)
	}
}

func (c *checks) day(field string, v time.Time) {
	if v.IsZero() {
		c.refuse(field, "a day, as year-month-day, such as 2026-09-07")
	}
}

func (c *checks) order(field string, from time.Time, until *time.Time) {
	if until != nil && until.Before(from) {
		c.refuse(field, "not before the first day")
	}
}

func (c *checks) age(field string, birth, today time.Time, least, most int) {
	if birth.IsZero() {
		c.day(field, birth)
		return
	}
	if age := AgeOn(birth, today); age < least || age > most {
		c.refuse(field, "that would be an age outside what is believed here; check the year")
	}
}

// ValidateEmail checks the shape of an address. Only a message that arrives proves it.
func ValidateEmail(address string) []FieldError {
	var k checks
	k.email("email", address)
	return k.errors
}
