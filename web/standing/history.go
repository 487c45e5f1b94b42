package standing

import (
	"net/http"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// historyModel is the page of who did what about a child.
type historyModel struct{ app.HistoryView }

// History tells who did what about a child.
func (h *Handler) History(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.HistoryOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.childPage(w, r, view.ChildHead, view.Name+": history")
	return h.kit.Render(w, r, http.StatusOK, historyPage(page, historyModel{view}))
}

// Ahead shows what is ahead of a child.
func (h *Handler) Ahead(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.AheadOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.childPage(w, r, view.ChildHead, view.Name+": ahead")
	return h.kit.Render(w, r, http.StatusOK, aheadPage(page, view))
}

func (m historyModel) table() kit.TableView {
	t := kit.TableView{Caption: "Who did what, the newest first", HideCaption: true, Columns: []kit.Column{{Label: "When"}, {Label: "Who"}, {Label: "Did what"}, {Label: "Why"}}}
	for _, l := range m.Lines {
		did := kit.Capital(l.Did)
		if l.About != "" {
			did += ": " + l.About
		}
		if l.Change != "" {
			did += " (" + l.Change + ")"
		}
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(l.At.In(m.Day.Zone).Format("2 Jan 2006, 15:04")), kit.Text(historyBy(l)), kit.Text(did), kit.Text(l.Why)}})
	}
	return t
}

func historyBy(l app.HistoryLine) string {
	if l.By == "" {
		return "somebody outside of the staff"
	}
	return l.By
}
