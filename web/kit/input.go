package kit

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-chi/chi/v5"
	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

const formLimit = 64 << 10

// Form reads a posted form of at most 64 KiB. Bytes that are not UTF-8, and NUL, are refused.
func Form(w http.ResponseWriter, r *http.Request) (url.Values, error) {
	r.Body = http.MaxBytesReader(w, r.Body, formLimit)
	if err := r.ParseForm(); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			return nil, &studio.Error{Code: studio.Invalid, Text: Words(r).Say("form.too-large")}
		}
		return nil, &studio.Error{Code: studio.Invalid, Text: Words(r).Say("form.unread"), Cause: err}
	}
	for _, values := range r.PostForm {
		for _, v := range values {
			if !Clean(v) {
				return nil, &studio.Error{Code: studio.Invalid, Text: Words(r).Say("form.characters")}
			}
		}
	}
	return r.PostForm, nil
}

// Clean reports whether text is UTF-8 without NUL.
func Clean(text string) bool { return utf8.ValidString(text) && !strings.ContainsRune(text, 0) }

// ID reads an id from the path; anything that is none is studio.Missing.
func ID(r *http.Request, name string) (uuid.UUID, error) {
	text := chi.URLParam(r, name)
	id, err := uuid.Parse(text)
	if err != nil || len(text) != 36 {
		return uuid.Nil, studio.Missing()
	}
	return id, nil
}

// Key reads a key such as "hs-hold" from the path; anything that is none is studio.Missing.
func Key(r *http.Request, name string) (string, error) {
	key := chi.URLParam(r, name)
	if key == "" || len(key) > 80 || strings.Trim(key, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		return "", studio.Missing()
	}
	return key, nil
}

// Reader reads the fields of a form one after the other and collects what is wrong with each.
type Reader struct {
	Values url.Values
	Errors []studio.FieldError
	Words  *words.Book // that it says what is wrong in; nil speaks English
}

// Refuse notes a problem with a field.
func (f *Reader) Refuse(field, problem string) {
	f.Errors = append(f.Errors, studio.FieldError{Field: field, Problem: problem})
}

// Text reads trimmed text of at most max characters; required refuses none.
func (f *Reader) Text(field string, max int, required bool) string {
	v := strings.TrimSpace(f.Values.Get(field))
	switch {
	case v == "" && required:
		f.Refuse(field, f.Words.Say("form.empty"))
	case utf8.RuneCountInString(v) > max:
		f.Refuse(field, f.Words.Count("form.too-long", max))
	}
	return v
}

// Whole reads a whole number within bounds.
func (f *Reader) Whole(field string, least, most int) int {
	n, err := strconv.Atoi(strings.TrimSpace(f.Values.Get(field)))
	if err != nil || n < least || n > most {
		f.Refuse(field, f.Words.Say("form.whole", "Least", least, "Most", most))
	}
	return n
}

// Date reads a day; the zero time when it is empty and not required.
func (f *Reader) Date(field string, required bool) time.Time {
	v := strings.TrimSpace(f.Values.Get(field))
	if v == "" && !required {
		return time.Time{}
	}
	day, err := time.Parse(time.DateOnly, v)
	if err != nil || day.Year() < 1900 || day.Year() > 2200 {
		f.Refuse(field, f.Words.Say("form.date"))
		return time.Time{}
	}
	return day
}

// Choice reads one of the options.
func (f *Reader) Choice(field string, options ...string) string {
	v := f.Values.Get(field)
	for _, o := range options {
		if v == o {
			return v
		}
	}
	f.Refuse(field, f.Words.Say("form.choose-one"))
	return ""
}

// Tick reads a tick box.
func (f *Reader) Tick(field string) bool { return f.Values.Get(field) != "" }

// IDs reads every value of a field as an id.
func (f *Reader) IDs(field string) []uuid.UUID {
	var ids []uuid.UUID
	for _, v := range f.Values[field] {
		id, err := uuid.Parse(v)
		if err != nil {
			f.Refuse(field, f.Words.Say("form.choose"))
			return nil
		}
		ids = append(ids, id)
	}
	return ids
}

// Err is nil when every field was right.
func (f *Reader) Err() error {
	return studio.Refuse(f.Words.Say("form.look-again"), f.Errors)
}

// Took takes over what a use case found wrong with the fields, and reports whether any field is wrong by now.
func (f *Reader) Took(err error) bool {
	var e *studio.Error
	if errors.As(err, &e) && e.Code == studio.Invalid {
		f.Errors = append(f.Errors, e.Fields...)
	}
	return len(f.Errors) > 0
}

// Problem is what is wrong with a field, or "".
func (f *Reader) Problem(field string) string {
	e := studio.Error{Fields: f.Errors}
	return e.Problem(field)
}
