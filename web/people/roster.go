package people

import (
	"bytes"
	"net/http"
	"strings"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// rosterView is the page of the roster: what was read, or what is wrong with it.
type rosterView struct {
	Text     string // as pasted or uploaded
	Columns  kit.TableView
	Summary  string // of a dry run without problems
	Warnings []string
	Unjoined []string
	Problems kit.TableView
	Count    string // of the problems
	Wrong    string // when there was nothing to read
}

// problemsShown bounds the problems on the page.
const problemsShown = 200

// Roster explains the file and asks for it.
func (h *Handler) Roster(w http.ResponseWriter, r *http.Request) error {
	return h.rosterPage(w, r, http.StatusOK, rosterView{})
}

func (h *Handler) rosterPage(w http.ResponseWriter, r *http.Request, status int, v rosterView) error {
	page := h.page(w, r, "Import a roster")
	page.Intro = "Children, their classes and their guardians, from a spreadsheet saved as CSV. The whole file is read, or nothing of it."
	v.Columns = kit.TableView{Caption: "Columns of the file", HideCaption: true, Columns: []kit.Column{{Label: "Column"}, {Label: "Needed"}, {Label: "What it holds"}, {Label: "Such as"}}}
	for _, c := range app.RosterColumns() {
		needed := "No"
		if c.Required {
			needed = "Yes"
		}
		v.Columns.Rows = append(v.Columns.Rows, kit.Row{Cells: []kit.Cell{kit.Text(c.Name), kit.Text(needed), kit.Text(c.Meaning), kit.Text(c.Sample)}})
	}
	return h.show(w, r, status, rosterPage(page, v))
}

// Template is a roster file to fill in.
func (h *Handler) Template(w http.ResponseWriter, r *http.Request) error {
	return kit.Download(w, "text/csv; charset=utf-8", "roster.csv", app.RosterTemplate())
}

// ImportRoster checks a roster, or with the button "import" reads it in.
func (h *Handler) ImportRoster(w http.ResponseWriter, r *http.Request) error {
	file, values, err := kit.Upload(w, r, "file", app.RosterBytes)
	if err != nil {
		return err
	}
	if len(file) == 0 {
		file = []byte(strings.ReplaceAll(values.Get("text"), "\r\n", "\n"))
	}
	if len(bytes.TrimSpace(file)) == 0 {
		return h.rosterPage(w, r, http.StatusUnprocessableEntity, rosterView{Wrong: "Choose a file, or paste its text."})
	}
	dryRun := values.Get("do") != "import"
	result, err := h.app.ImportRoster(r.Context(), kit.Actor(r), bytes.NewReader(file), dryRun)
	switch {
	case len(result.Problems) > 0:
		return h.rosterPage(w, r, http.StatusUnprocessableEntity, problemsView(file, result))
	case err != nil:
		return err
	case dryRun:
		return h.rosterPage(w, r, http.StatusOK, rosterView{Text: string(file), Summary: result.Counts(), Warnings: result.Warnings, Unjoined: result.Accounts})
	}
	to := "/studio/children"
	if len(result.Accounts) > 0 {
		to = "/studio/people"
	}
	return h.kit.Done(w, r, result.Counts(), to)
}

func problemsView(file []byte, result app.RosterResult) rosterView {
	v := rosterView{Text: strings.ToValidUTF8(strings.ReplaceAll(string(file), "\x00", ""), "�"), Count: kit.Count(len(result.Problems), "problem", "problems")}
	v.Problems = kit.TableView{Caption: "Problems", HideCaption: true, Columns: []kit.Column{{Label: "Row", Numeric: true}, {Label: "Column"}, {Label: "Reason"}}}
	for _, p := range result.Problems[:min(len(result.Problems), problemsShown)] {
		row := "All"
		if p.Row > 0 {
			row = itoa(p.Row)
		}
		v.Problems.Rows = append(v.Problems.Rows, kit.Row{Cells: []kit.Cell{kit.Text(row), kit.Text(p.Column), kit.Text(p.Reason)}})
	}
	return v
}
