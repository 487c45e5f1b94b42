package kit

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/a-h/templ"
)

// Field is a text-like input. Value is kept exactly as it was typed.
type Field struct {
	// ID is made from Name when empty; set it when a page has a name twice.
	ID string
	// Name is the form key; Label is always shown.
	Name, Label string
	// Type is an HTML input type, or "textarea"; "text" when empty.
	Type  string
	Value string
	// Hint stands under the label; Error says what is wrong and what to do.
	Hint, Error string
	// Unit is shown behind the input, such as "minutes".
	Unit string
	// Autocomplete and InputMode are the HTML attributes, or empty.
	Autocomplete, InputMode string
	// Min, Max and Step bound numbers, dates and times, in their HTML form.
	Min, Max, Step string
	// MaxLength counts UTF-16 units; 0 means no limit.
	MaxLength int
	// Rows is the height of a textarea; 4 when 0.
	Rows int
	// Short draws the input only as wide as a number or a date needs.
	Short bool
	// Required is checked by the browser first, and by the server always.
	Required bool
	// Optional says so beside the label.
	Optional bool
	ReadOnly bool
	// Autofocus is for a page with one single purpose, such as sign-in.
	Autofocus bool
	// List offers suggestions and still takes any text.
	List []string
}

// Choice is one entry of a select, of checks or of radios.
type Choice struct {
	Value, Label string
	// Hint is shown under the label; not in a select.
	Hint     string
	Disabled bool
	// Lang is the tag of the Label's language where it is another than the page's; a Select says it.
	Lang string
}

func (c Choice) language() templ.Attributes {
	if c.Lang == "" {
		return nil
	}
	return templ.Attributes{"lang": c.Lang}
}

// ChoiceField is a question with given answers.
type ChoiceField struct {
	ID          string
	Name, Label string
	Choices     []Choice
	// Values are the chosen ones; a select and radios use the first.
	Values      []string
	Hint, Error string
	// Empty is the first entry of a select, with an empty value; "" leaves it out.
	Empty    string
	Required bool
	Optional bool
	// Inline sets checks and radios side by side.
	Inline bool
}

// CheckField is a single yes or no.
type CheckField struct {
	ID          string
	Name, Label string
	// Value is sent when ticked; "yes" when empty.
	Value       string
	Checked     bool
	Hint, Error string
	Required    bool
}

// FieldError is one line of the summary above a form.
type FieldError struct {
	// ID is that of the input to go to; see FieldID.
	ID, Text string
}

// FieldID is the id that a component gives to the input called name.
func FieldID(name string) string {
	return "f-" + strings.NewReplacer(".", "-", "[", "-", "]", "", " ", "-").Replace(name)
}

func (f Field) id() string {
	if f.ID != "" {
		return f.ID
	}
	return FieldID(f.Name)
}

// inputType is text where the browser would not show the typed value: a number
// field that holds "some" is drawn empty, and the text would be lost.
func (f Field) inputType() string {
	if f.Type == "" || !f.shows() {
		return "text"
	}
	return f.Type
}

// shows tells whether an input of the field's type can show its value.
func (f Field) shows() bool {
	var err error
	switch {
	case f.Value == "":
		return true
	case f.Type == "number":
		_, err = strconv.ParseFloat(f.Value, 64)
	case f.Type == "date":
		_, err = time.Parse(time.DateOnly, f.Value)
	case f.Type == "time":
		_, err = time.Parse("15:04", f.Value)
	}
	return err == nil
}

func (f Field) rows() int {
	if f.Rows == 0 {
		return 4
	}
	return f.Rows
}

func (c ChoiceField) id() string {
	if c.ID != "" {
		return c.ID
	}
	return FieldID(c.Name)
}

func (c ChoiceField) has(value string) bool {
	return slices.Contains(c.Values, value)
}

func (c CheckField) id() string {
	if c.ID != "" {
		return c.ID
	}
	return FieldID(c.Name)
}

func (c CheckField) value() string {
	if c.Value == "" {
		return "yes"
	}
	return c.Value
}

// describedBy lists the ids of the hint and the error that exist, or "".
func describedBy(id, hint, err string) string {
	var ids []string
	if hint != "" {
		ids = append(ids, id+"-hint")
	}
	if err != "" {
		ids = append(ids, id+"-error")
	}
	return strings.Join(ids, " ")
}
