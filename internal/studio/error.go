package studio

import (
	"errors"
	"fmt"
)

// Code is the kind of an error that a person may see; pages turn it into a status.
type Code int

// The kinds of error.
const (
	Internal  Code = iota // the program's own fault; its text is never shown
	Invalid               // the input breaks a rule; Fields says where
	NotFound              // not there, or not yours: the two look the same
	SignedOut             // nobody is signed in
	Conflict              // somebody else changed it first, or it is still in use
	TooMany               // slow down
)

// FieldError names one field and what is wrong with it, in words for the person who typed it.
type FieldError struct {
	Field, Problem string
}

// Error is an error with words that may be shown. Text says what happened, what is kept and the way out.
type Error struct {
	Code   Code
	Text   string
	Fields []FieldError
	Cause  error
}

func (e *Error) Error() string {
	s := e.Text
	for _, f := range e.Fields {
		s += fmt.Sprintf("; %s: %s", f.Field, f.Problem)
	}
	if e.Cause != nil {
		s += ": " + e.Cause.Error()
	}
	return s
}

func (e *Error) Unwrap() error { return e.Cause }

// Problem returns what is wrong with a field, or "".
func (e *Error) Problem(field string) string {
	for _, f := range e.Fields {
		if f.Field == field {
			return f.Problem
		}
	}
	return ""
}

// CodeOf finds the code of an error; Internal when it carries none.
func CodeOf(err error) Code {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return Internal
}

// Missing is the one answer to "not there" and to "not yours".
func Missing() error {
	return &Error{Code: NotFound, Text: "There is no such page, or it is not yours to see."}
}

// Refuse makes an Invalid error from the fields, or nil when there are none.
func Refuse(text string, fields []FieldError) error {
	if len(fields) == 0 {
		return nil
	}
	return &Error{Code: Invalid, Text: text, Fields: fields}
}
