package people

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Consents shows what families are asked and what they answered.
func (h *Handler) Consents(w http.ResponseWriter, r *http.Request) error {
	return h.consentsPage(w, r, form{Values: values()})
}

func (h *Handler) consentsPage(w http.ResponseWriter, r *http.Request, typed form) error {
	view, err := h.app.StudioConsents(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Consents")
	page.Intro = "What families are asked, word for word, and what they answered. Who has not answered counts as no."
	return h.show(w, r, typed.status(), consentsPage(page, view, typed))
}

// AskConsent gives a purpose other words.
func (h *Handler) AskConsent(w http.ResponseWriter, r *http.Request) error {
	purpose, err := studio.PurposeOf(chi.URLParam(r, "purpose"))
	if err != nil {
		return err
	}
	words := ""
	return h.submit(w, r, func(f *kit.Reader) {
		words = f.Text("words", 2000, true)
		f.Values.Set("purpose", string(purpose))
	}, func() (done, error) {
		return done{"The new words are in place. Every family is asked again.", "/studio/consents"}, h.app.AskConsent(r.Context(), kit.Actor(r), purpose, words)
	}, func(typed form) error { return h.consentsPage(w, r, typed) })
}

// wordsField is the field for other words, as they are or as they were typed.
func wordsField(c app.ConsentCount, typed form) kit.Field {
	f := kit.Field{ID: "f-words-" + string(c.Purpose), Name: "words", Label: "Other words", Type: "textarea", Rows: 4, Value: c.Words, MaxLength: 2000, Required: true,
		Hint: "They become version " + itoa(c.Version+1) + ", for which every family is asked again. Answers so far stay with the words they were given to."}
	if typed.Get("purpose") == string(c.Purpose) {
		f.Value, f.Error = typed.Get("words"), typed.wrong("words")
	}
	return f
}

func consentStats(c app.ConsentCount) []kit.Stat {
	return []kit.Stat{{Value: itoa(c.Yes), Label: "children with a yes"}, {Value: itoa(c.No), Label: "with a no"}, {Value: itoa(c.Open), Label: "not answered"}}
}

func consentTable(v app.StudioConsents) kit.TableView {
	t := kit.TableView{Caption: "Answers by child", HideCaption: true, Columns: []kit.Column{{Label: "Child"}}}
	for _, c := range v.Counts {
		t.Columns = append(t.Columns, kit.Column{Label: c.Purpose.Title()})
	}
	for _, c := range v.Children {
		row := kit.Row{Cells: []kit.Cell{kit.Link(c.Name, childURL(c.ID))}}
		for _, a := range c.Answers {
			row.Cells = append(row.Cells, kit.Text(map[string]string{"yes": "Yes", "no": "No", "": "No answer"}[a]))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func agesTable() kit.TableView {
	t := kit.TableView{Caption: "Ages", HideCaption: true, Columns: []kit.Column{{Label: "Where"}, {Label: "From age", Numeric: true}}}
	for _, a := range studio.ConsentAges() {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(a.Where), kit.Text(itoa(a.Age))}})
	}
	return t
}

const agesWords = "A child may consent alone to an online service that is offered to it directly, from the age below; it is a parent's word before that (General Data Protection Regulation, Article 8; the Information Commissioner's Office for the United Kingdom, a law firm's tracker for the others). Here parents answer, and children have no account, so the ages seldom matter; your local law comes first."
