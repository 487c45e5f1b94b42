package people

import (
	"net/http"
	"net/url"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

const (
	termsURL   = "/studio/terms-overview"
	foldedRows = 24 // a table of more rows is folded away
)

// termsView compares terms, part by part.
type termsView struct {
	Filter termsFilter
	Parts  []termsPart
}

// termsFilter is what is compared. Hidden are the same choices for the forms that save a file.
type termsFilter struct {
	Class, Family kit.ChoiceField
	All           kit.CheckField
	Hidden        url.Values
}

// termsPart is one question with its answer in a sentence, a chart and the table behind it.
type termsPart struct {
	ID, Heading string
	Notice      string
	How         string // how it is counted
	Bars        *kit.BarsView
	Lines       []termsLine
	LinesTitle  string
	Table       kit.TableView
	ByClass     kit.TableView // without rows where one class was asked for
	Notes       []string
	Empty       string // said in place of the table
	Gone        []goneLine
	Cautions    bool
}

// termsLine is a class with its figures over the terms.
type termsLine struct {
	Label, Text string
	Spark       kit.SparkView
}

// goneLine is who of a class or term went.
type goneLine struct {
	Heading  string
	Children []app.GoneChild
	Erased   string
}

// TermsOverview compares the terms that were kept.
func (h *Handler) TermsOverview(w http.ResponseWriter, r *http.Request) error {
	o, err := h.app.TermsOverview(r.Context(), kit.Actor(r), termsAsk(r.URL.Query()))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Terms side by side")
	page.Wide = true
	page.Intro = "Who stays, what is learned, who comes, where people lacked, and what of the library is used."
	return h.show(w, r, http.StatusOK, termsOverviewPage(page, newTermsView(o)))
}

// TermsCSV answers with one table, and writes it to the trail.
func (h *Handler) TermsCSV(w http.ResponseWriter, r *http.Request) error {
	table, err := kit.Key(r, "table")
	if err != nil {
		return err
	}
	return h.termsFile(w, r, func(ask app.TermsAsk) (app.File, error) {
		return h.app.TermsCSV(r.Context(), kit.Actor(r), ask, table)
	})
}

// TermsXLSX answers with all tables in one workbook, and writes it to the trail.
func (h *Handler) TermsXLSX(w http.ResponseWriter, r *http.Request) error {
	return h.termsFile(w, r, func(ask app.TermsAsk) (app.File, error) {
		return h.app.TermsXLSX(r.Context(), kit.Actor(r), ask)
	})
}

func (h *Handler) termsFile(w http.ResponseWriter, r *http.Request, write func(app.TermsAsk) (app.File, error)) error {
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	file, err := write(termsAsk(form))
	if err != nil {
		return err
	}
	return kit.Download(w, file.Kind, file.Name, file.Body)
}

func termsAsk(v url.Values) app.TermsAsk {
	return app.TermsAsk{Class: v.Get("class"), Family: studio.Family(v.Get("family")), All: v.Get("all") != ""}
}

func newTermsView(o app.TermsOverview) termsView {
	v := termsView{Filter: newTermsFilter(o)}
	if len(o.Terms) == 0 {
		return v
	}
	v.Parts = []termsPart{staysPart(o), progressPart(o), attendancePart(o), gapsPart(o), endingTermsPart(o), coveragePart(o), unusedPart(o)}
	return v
}

func newTermsFilter(o app.TermsOverview) termsFilter {
	f := termsFilter{Hidden: url.Values{},
		Class:  kit.ChoiceField{Name: "class", Label: "Class", Empty: "All classes", Values: []string{o.Class}, Choices: plainChoices(o.Classes)},
		Family: kit.ChoiceField{Name: "family", Label: "Family of ladders", Empty: "All families", Values: []string{string(o.Family)}}}
	for _, family := range o.Families {
		f.Family.Choices = append(f.Family.Choices, kit.Choice{Value: string(family), Label: kit.Capital(string(family))})
	}
	if o.Kept > len(o.Terms) || o.All {
		f.All = kit.CheckField{Name: "all", Label: "All " + kit.Count(o.Kept, "term", "terms") + " that were kept", Value: "yes", Checked: o.All}
	}
	for name, value := range map[string]string{"class": o.Class, "family": string(o.Family)} {
		if value != "" {
			f.Hidden.Set(name, value)
		}
	}
	if o.All {
		f.Hidden.Set("all", "yes")
	}
	return f
}

func plainChoices(names []string) []kit.Choice {
	var all []kit.Choice
	for _, name := range names {
		all = append(all, kit.Choice{Value: name, Label: name})
	}
	return all
}
