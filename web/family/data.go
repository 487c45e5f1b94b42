package family

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

// moment is a moment in the studio's time zone.
func moment(b *words.Book, at time.Time, day app.Day) string {
	at = at.In(day.Zone)
	return b.At(b.Date(at), at)
}

// Data shows who read health data of a child, and how to take a copy of everything or have it erased.
func (h *Handler) Data(w http.ResponseWriter, r *http.Request) error {
	return h.dataPage(w, r, http.StatusOK, kit.Reader{})
}

func (h *Handler) dataPage(w http.ResponseWriter, r *http.Request, status int, typed kit.Reader) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.DataOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("data.title", "Name", view.Name), kit.SectionHome).WithProblem(typed.Err())
	page.Crumbs = crumbs(r, kit.Crumb{Label: view.Name, URL: childURL(id)})
	return h.kit.Render(w, r, status, dataPage(page, view, typed))
}

// ExportData answers with a copy of a child's data, to read or for programs.
func (h *Handler) ExportData(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	typed := kit.Reader{Values: values, Words: kit.Words(r)}
	as := typed.Choice("as", "html", "json")
	if len(typed.Errors) > 0 {
		return h.dataPage(w, r, http.StatusUnprocessableEntity, typed)
	}
	data, err := h.app.ExportChild(r.Context(), kit.Actor(r), id, values.Get("passphrase"))
	if typed.Took(err) {
		return h.dataPage(w, r, http.StatusUnprocessableEntity, typed)
	}
	if err != nil {
		return err
	}
	name := data.Name + " " + data.MadeAt.Format(time.DateOnly)
	if as == "json" {
		body, err := copyJSON(data)
		if err != nil {
			return err
		}
		return kit.Download(w, "application/json", name+".json", body)
	}
	var body bytes.Buffer
	if err := copyPage(data).Render(r.Context(), &body); err != nil {
		return err
	}
	return kit.Download(w, "text/html; charset=utf-8", name+".html", body.Bytes())
}

// copyJSON writes a copy as JSON: for each part a list of objects by label.
func copyJSON(data app.ChildData) ([]byte, error) {
	type left struct {
		Part string `json:"part"`
		What string `json:"what"`
		Why  string `json:"why"`
	}
	out := struct {
		Studio   string                          `json:"studio"`
		MadeAt   time.Time                       `json:"madeAt"`
		Data     map[string][]map[string]*string `json:"data"`
		Withheld []left                          `json:"withheld"`
	}{Studio: data.Studio, MadeAt: data.MadeAt, Data: map[string][]map[string]*string{}, Withheld: []left{}}
	for _, t := range data.Tables {
		rows := []map[string]*string{}
		for _, r := range t.Rows {
			row := map[string]*string{}
			for i, label := range t.Labels {
				row[label] = r[i]
			}
			rows = append(rows, row)
		}
		out.Data[t.Title] = rows
	}
	for _, w := range data.Withheld {
		out.Withheld = append(out.Withheld, left{w.Title, w.What, w.Why})
	}
	body, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write the copy: %w", err)
	}
	return body, nil
}

// AskErasure sends the owner a request to erase a child's data.
func (h *Handler) AskErasure(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	typed := kit.Reader{Values: values, Words: kit.Words(r)}
	note := typed.Text("words", 1000, false)
	if len(typed.Errors) == 0 {
		err = h.app.AskErasure(r.Context(), kit.Actor(r), id, note)
	}
	if typed.Took(err) {
		return h.dataPage(w, r, http.StatusUnprocessableEntity, typed)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("data.sent"), childURL(id)+"/data")
}

// requestWords says what became of a request to erase.
func requestWords(b *words.Book, q studio.ErasureRequest, day app.Day) string {
	asked := b.Say("data.asked", "When", moment(b, q.AskedAt, day)) + " "
	switch {
	case q.DecidedAt == nil:
		return asked + b.Say("data.not-answered")
	case *q.Erased:
		return asked + b.Say("data.erased", "When", moment(b, *q.DecidedAt, day))
	}
	return asked + b.Say("data.declined")
}

// readWords names what was read of health data.
func readWords(b *words.Book, kind string) string {
	switch kind {
	case studio.ReadReason:
		return b.Say("data.read-reason")
	case studio.ReadIncident:
		return b.Say("data.read-incident")
	}
	return b.Say("data.read-incidents")
}

func openRequest(v app.DataView) bool { return len(v.Requests) > 0 && v.Requests[0].DecidedAt == nil }
