// Package reports is the term reports: what each class's report holds, a preview, and the files to hand out or keep.
package reports

import (
	"context"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Handler serves the area.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the area.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{app: a, kit: k} }

// Reports lists the classes by term with what each report would hold.
func (h *Handler) Reports(w http.ResponseWriter, r *http.Request) error {
	terms, err := h.app.Reports(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Reports", kit.SectionReports)
	page.Intro = "What each child learned in a term, written for parents, and the same as a table for the studio."
	if kit.Actor(r).Is(studio.OwnerRole) {
		page.Actions = kit.LinkButton(kit.Action{Label: "All reports of a term", URL: "/reports/all", Kind: kit.Quiet})
	}
	return h.kit.Render(w, r, http.StatusOK, reportsPage(page, termViews(terms), columnViews()))
}

// Class previews the term report of a class.
func (h *Handler) Class(w http.ResponseWriter, r *http.Request) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	report, err := h.app.ReportOf(r.Context(), kit.Actor(r), class)
	if err != nil {
		return err
	}
	view := classView(report)
	page := h.kit.Page(w, r, "Term report of "+report.Class, kit.SectionReports)
	page.Crumbs = []kit.Crumb{{Label: "Reports", URL: "/reports"}}
	page.Intro = view.Intro
	if len(view.Children) > 0 {
		page.Actions = downloads(view.URL, "")
	}
	return h.kit.Render(w, r, http.StatusOK, classPage(page, view))
}

// PDF answers with the report of a class to hand out, and writes it to the trail.
func (h *Handler) PDF(w http.ResponseWriter, r *http.Request) error {
	return h.file(w, r, h.app.ReportPDF)
}

// CSV answers with the report of a class as a table, and writes it to the trail.
func (h *Handler) CSV(w http.ResponseWriter, r *http.Request) error {
	return h.file(w, r, h.app.ReportCSV)
}

// XLSX answers with the report of a class as a workbook, and writes it to the trail.
func (h *Handler) XLSX(w http.ResponseWriter, r *http.Request) error {
	return h.file(w, r, h.app.ReportXLSX)
}

// ChildPDF answers with the report of one child, and writes it to the trail.
func (h *Handler) ChildPDF(w http.ResponseWriter, r *http.Request) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	return h.file(w, r, func(ctx context.Context, actor studio.Actor, class uuid.UUID) (app.File, error) {
		return h.app.ChildReportPDF(ctx, actor, class, child)
	})
}

type export func(context.Context, studio.Actor, uuid.UUID) (app.File, error)

func (h *Handler) file(w http.ResponseWriter, r *http.Request, export export) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	file, err := export(r.Context(), kit.Actor(r), class)
	if err != nil {
		return err
	}
	return kit.Download(w, file.Kind, file.Name, file.Body)
}
