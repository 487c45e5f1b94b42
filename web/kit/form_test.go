package kit

import (
	"strings"
	"testing"

	"github.com/a-h/templ"
)

func TestFieldIsLabelledAndDescribed(t *testing.T) {
	doc := render(t, FieldBox(Field{Name: "mats", Label: "Mats", Hint: "Count the folding ones too.", Error: "Give a number.", Unit: "mats"}))
	input := one(t, doc, "input")
	if got := attr(t, one(t, doc, "label"), "for"); got != attr(t, input, "id") {
		t.Errorf("label is for %q", got)
	}
	for _, id := range strings.Fields(attr(t, input, "aria-describedby")) {
		one(t, doc, "#"+id)
	}
	if n := len(strings.Fields(attr(t, input, "aria-describedby"))); n != 3 {
		t.Errorf("%d descriptions, want hint, error and unit", n)
	}
	if attr(t, input, "aria-invalid") != "true" {
		t.Error("wrong field is not marked invalid")
	}
	if got := textOf(one(t, doc, ".error")); got != "Give a number." {
		t.Errorf("error reads %q", got)
	}
}

func TestFieldWithoutHintHasNoDescription(t *testing.T) {
	input := one(t, render(t, FieldBox(Field{Name: "name", Label: "Name"})), "input")
	for _, name := range []string{"aria-describedby", "aria-invalid", "required", "autofocus", "readonly", "maxlength"} {
		if _, ok := input.Attr(name); ok {
			t.Errorf("has %s", name)
		}
	}
}

// A browser draws a number field empty when its value is not a number; the
// typed text must come back as it was.
func TestTypedTextIsKept(t *testing.T) {
	for _, c := range []struct{ kind, value, wantType string }{
		{"number", "some", "text"}, {"number", "4.5", "number"}, {"number", "", "number"},
		{"date", "3 March", "text"}, {"date", "2027-03-03", "date"},
		{"time", "quarter past", "text"}, {"time", "16:15", "time"},
		{"", `<b>"Ó" & Þ`, "text"}, {"email", "not an address", "email"},
	} {
		input := one(t, render(t, FieldBox(Field{Name: "x", Label: "X", Type: c.kind, Value: c.value})), "input")
		if got := attr(t, input, "type"); got != c.wantType {
			t.Errorf("%s %q: type %q, want %q", c.kind, c.value, got, c.wantType)
		}
		if got := attr(t, input, "value"); got != c.value {
			t.Errorf("%s %q came back as %q", c.kind, c.value, got)
		}
	}
	area := one(t, render(t, FieldBox(Field{Name: "x", Label: "X", Type: "textarea", Value: "two\nlines </textarea>"})), "textarea")
	if area.Text() != "two\nlines </textarea>" {
		t.Errorf("textarea came back as %q", area.Text())
	}
}

func TestChoicesAreAGroup(t *testing.T) {
	doc := render(t, Radios(ChoiceField{Name: "day", Label: "Day", Values: []string{"2"}, Error: "Choose a day.",
		Choices: []Choice{{Value: "1", Label: "Monday"}, {Value: "2", Label: "Tuesday", Hint: "Boat hall"}}}))
	if got := textOf(one(t, doc, "fieldset > legend")); got != "Day" {
		t.Errorf("legend reads %q", got)
	}
	one(t, doc, "#"+attr(t, one(t, doc, "fieldset"), "aria-describedby"))
	chosen := one(t, doc, "input[type=radio][checked]")
	if attr(t, chosen, "value") != "2" {
		t.Error("wrong answer chosen")
	}
	if got := textOf(one(t, doc, "#"+attr(t, chosen, "aria-describedby"))); got != "Boat hall" {
		t.Errorf("hint reads %q", got)
	}
	if got := textOf(one(t, doc, "label[for="+attr(t, chosen, "id")+"]")); got != "Tuesday" {
		t.Errorf("label reads %q", got)
	}
}

func TestSelectKeepsItsValue(t *testing.T) {
	doc := render(t, Select(ChoiceField{Name: "room", Label: "Room", Empty: "Choose", Values: []string{"b"}, Choices: []Choice{{Value: "a", Label: "Loft"}, {Value: "b", Label: "Boat hall"}}}))
	if got := textOf(one(t, doc, "option[selected]")); got != "Boat hall" {
		t.Errorf("chosen: %q", got)
	}
	if doc.Find("option").Length() != 3 {
		t.Error("empty entry is missing")
	}
}

func TestErrorSummaryLeadsToTheFields(t *testing.T) {
	doc := render(t, ErrorSummary("One thing needs another look", []FieldError{{ID: FieldID("child.name"), Text: "Give a name."}}))
	if got := attr(t, one(t, doc, "[role=alert] a"), "href"); got != "#f-child-name" {
		t.Errorf("leads to %q", got)
	}
	if render(t, ErrorSummary("None", nil)).Find("[role=alert]").Length() != 0 {
		t.Error("an empty summary is drawn")
	}
}

func TestButtonsSayWhatTheyDo(t *testing.T) {
	doc := renderWith(t, PostButton("/remove", Button{Label: "Remove", About: "Jun from group 2", Kind: Danger, Confirm: "Remove Jun?"}), Hidden("child", "7"))
	form := one(t, doc, "form[method=post]")
	if attr(t, form, "action") != "/remove" || attr(t, one(t, doc, "input[type=hidden]"), "value") != "7" {
		t.Error("form sends something else")
	}
	button := one(t, doc, "button[type=submit].button-danger")
	if got := textOf(button); got != "Remove Jun from group 2" {
		t.Errorf("button reads %q", got)
	}
	if attr(t, button, "data-confirm") != "Remove Jun?" {
		t.Error("question is missing")
	}
}

// A script address in a link would run; templ replaces it.
func TestLinksCannotRunScripts(t *testing.T) {
	for name, c := range map[string]templ.Component{
		"button": LinkButton(Action{Label: "Go", URL: "javascript:alert(1)"}),
		"table":  Table(TableView{Columns: []Column{{Label: "A"}}, Rows: []Row{{Cells: []Cell{Link("A", "javascript:alert(1)")}}}}),
	} {
		if got := attr(t, one(t, render(t, c), "a"), "href"); strings.HasPrefix(got, "javascript:") {
			t.Errorf("%s: link to %q", name, got)
		}
	}
}
