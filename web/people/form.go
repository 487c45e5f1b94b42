package people

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/a-h/templ"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

type renderer = templ.Component

// form is a form as it was typed, with what was wrong with it.
type form struct {
	url.Values
	Problems []studio.FieldError
	Refusal  string // about the form as a whole, or ""
}

// wrong is what is wrong with a field, as a sentence, or "".
func (f form) wrong(field string) string {
	for _, p := range f.Problems {
		if p.Field == field {
			return sentence(p.Problem)
		}
	}
	return ""
}

// ticked reports whether a box was ticked.
func (f form) ticked(field string) bool { return f.Get(field) != "" }

// summary heads a form that was refused.
func (f form) summary() []kit.FieldError {
	var lines []kit.FieldError
	for _, p := range f.Problems {
		lines = append(lines, kit.FieldError{ID: kit.FieldID(p.Field), Text: sentence(p.Problem)})
	}
	if len(lines) == 0 && f.Refusal != "" {
		lines = []kit.FieldError{{Text: f.Refusal}}
	}
	return lines
}

func (f form) status() int {
	if len(f.Problems) > 0 || f.Refusal != "" {
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

// done is what a form tells when it worked, and where the browser goes then.
type done struct{ sentence, url string }

// submit reads a posted form and saves it. When either finds something wrong, again shows the form as it was typed.
func (h *Handler) submit(w http.ResponseWriter, r *http.Request, read func(*kit.Reader), save func() (done, error), again func(form) error) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	reader := &kit.Reader{Values: values}
	read(reader)
	if len(reader.Errors) > 0 {
		return again(form{Values: values, Problems: reader.Errors})
	}
	ok, err := save()
	var refused *studio.Error
	if errors.As(err, &refused) && (refused.Code == studio.Invalid || refused.Code == studio.Conflict) {
		return again(form{Values: values, Problems: refused.Fields, Refusal: refused.Text})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, ok.sentence, ok.url)
}

// act does what a button asks for, tells a sentence and goes on. A refusal is told in the page of its own.
func (h *Handler) act(w http.ResponseWriter, r *http.Request, what func(*kit.Reader) (done, error)) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	reader := &kit.Reader{Values: values}
	ok, err := what(reader)
	if err == nil {
		err = reader.Err()
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, ok.sentence, ok.url)
}

// values makes the typed form of a record.
func values(pairs ...string) url.Values {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			v.Add(pairs[i], pairs[i+1])
		}
	}
	return v
}

func tick(on bool) string {
	if on {
		return "yes"
	}
	return ""
}

func roles(texts []string) []studio.Role {
	var list []studio.Role
	for _, t := range texts {
		list = append(list, studio.Role(t))
	}
	return list
}

// optional is a date of a form that may be left empty.
func optional(day time.Time) *time.Time {
	if day.IsZero() {
		return nil
	}
	return &day
}

// isoDate is a date for a form; "" for none.
func isoDate(day *time.Time) string {
	if day == nil || day.IsZero() {
		return ""
	}
	return day.Format(time.DateOnly)
}

// inWords is a date for reading.
func inWords(day time.Time) string { return day.Format("2 January 2006") }

// span is a run of days for reading.
func span(from time.Time, until *time.Time) string {
	switch {
	case until == nil:
		return "since " + inWords(from)
	case until.Equal(from):
		return "only " + inWords(from)
	}
	return inWords(from) + " to " + inWords(*until)
}

// sentence writes a few words as a sentence.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	words = kit.Capital(words)
	if !strings.ContainsAny(words[len(words)-1:], ".?") {
		words += "."
	}
	return words
}

// joined is a list in words; none stands for an empty one.
func joined(words []string, none string) string {
	words = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "" })
	if len(words) == 0 {
		return none
	}
	return kit.List(words)
}
