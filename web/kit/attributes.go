package kit

import (
	"strconv"

	"github.com/a-h/templ"
)

// attributes are those of an input that not every input has.
func (f Field) attributes() templ.Attributes {
	attrs := wiring(f.id(), f.Hint, f.Error)
	if f.Unit != "" {
		attrs["aria-describedby"] = joinIDs(attrs["aria-describedby"], f.id()+"-unit")
	}
	for name, value := range map[string]string{
		"autocomplete": f.Autocomplete,
		"inputmode":    f.InputMode,
		"min":          f.Min,
		"max":          f.Max,
		"step":         f.Step,
	} {
		if value != "" {
			attrs[name] = value
		}
	}
	if f.MaxLength > 0 {
		attrs["maxlength"] = strconv.Itoa(f.MaxLength)
	}
	if len(f.List) > 0 {
		attrs["list"] = f.id() + "-list"
	}
	attrs["required"] = f.Required
	attrs["readonly"] = f.ReadOnly
	attrs["autofocus"] = f.Autofocus
	return attrs
}

// wiring ties an input to its hint and its error.
func wiring(id, hint, err string) templ.Attributes {
	attrs := groupWiring(id, hint, err)
	if err != "" {
		attrs["aria-invalid"] = "true"
	}
	return attrs
}

// groupWiring ties a fieldset to its hint and its error; a group has no
// validity of its own, so aria-invalid stays away.
func groupWiring(id, hint, err string) templ.Attributes {
	attrs := templ.Attributes{}
	if ids := describedBy(id, hint, err); ids != "" {
		attrs["aria-describedby"] = ids
	}
	return attrs
}

func joinIDs(first any, second string) string {
	if ids, ok := first.(string); ok && ids != "" {
		return ids + " " + second
	}
	return second
}

// choiceID is the id of the i-th answer of a question.
func choiceID(c ChoiceField, i int) string {
	return c.id() + "-" + strconv.Itoa(i+1)
}
