package reports

import (
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

const bundlesURL = "/reports/all"

// bundleView is a bundle, as a line or a page.
type bundleView struct {
	URL, Term, Asked, Until string
	State                   string // in words
	Open, Ready             bool
	Children, Done          int
	Size                    string
}

// Bundles lists the bundles of the actor, and asks for another.
func (h *Handler) Bundles(w http.ResponseWriter, r *http.Request) error {
	bundles, terms, day, err := h.app.ReportBundles(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	var choices []kit.Choice
	for _, t := range terms {
		choices = append(choices, kit.Choice{Value: t.ID.String(), Label: t.Name + ", " + dates(t)})
	}
	var views []bundleView
	for _, b := range bundles {
		views = append(views, viewBundle(b, day))
	}
	page := h.kit.Page(w, r, "All reports of a term", kit.SectionReports)
	page.Crumbs = []kit.Crumb{{Label: "Reports", URL: "/reports"}}
	page.Intro = "One file with a PDF for every child, a table for every class, and a workbook and a table over all of them. It is made in the background: you can go on with something else, and close this page."
	return h.kit.Render(w, r, http.StatusOK, bundlesPage(page, choices, termNow(terms, day), views))
}

func dates(t studio.Term) string { return day(t.StartsOn) + " to " + day(t.EndsOn) }

// termNow is the id of the term that is on, or of the last one that was.
func termNow(terms []studio.Term, now app.Day) string {
	for _, t := range terms { // the newest first
		if !t.StartsOn.After(now.Today) {
			return t.ID.String()
		}
	}
	return ""
}

func viewBundle(b studio.Bundle, now app.Day) bundleView {
	v := bundleView{URL: bundlesURL + "/" + b.ID.String(), Term: b.Term, Asked: moment(b.AskedAt, now), Until: moment(b.ExpiresAt, now), Open: b.Open(),
		Ready: b.ReadableAt(now.Now), Children: b.Children, Done: b.Done, Size: fmt.Sprintf("%.1f MB", float64(b.Bytes)/1e6)}
	switch b.State {
	case studio.BundleWaiting:
		v.State = "Waiting to begin"
	case studio.BundleWorking:
		v.State = fmt.Sprintf("Written for %d of %d children", b.Done, b.Children)
	case studio.BundleReady:
		v.State = "Ready, " + v.Size
	case studio.BundleStopped:
		v.State = "Stopped; nothing was kept"
	case studio.BundleFailed:
		v.State = "Could not be made; nothing was kept"
	}
	if b.State == studio.BundleReady && !v.Ready {
		v.State = "Its time is over"
	}
	return v
}

func moment(at time.Time, now app.Day) string { return at.In(now.Zone).Format("2 January, 15:04") }

// AskBundle has a bundle made.
func (h *Handler) AskBundle(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	term, err := uuid.Parse(values.Get("term"))
	if err != nil {
		return studio.Refuse("Nothing was asked for.", []studio.FieldError{{Field: "term", Problem: "choose a term"}})
	}
	id, err := h.app.AskReportBundle(r.Context(), kit.Actor(r), term)
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The reports are asked for.", bundlesURL+"/"+id.String())
}

// Bundle shows how far a bundle is.
func (h *Handler) Bundle(w http.ResponseWriter, r *http.Request) error {
	return h.bundlePage(w, r, http.StatusOK, kit.Reader{})
}

func (h *Handler) bundlePage(w http.ResponseWriter, r *http.Request, status int, typed kit.Reader) error {
	id, err := kit.ID(r, "bundle")
	if err != nil {
		return err
	}
	b, now, err := h.app.ReportBundle(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	v := viewBundle(b, now)
	page := h.kit.Page(w, r, "All reports of "+b.Term, kit.SectionReports).WithProblem(typed.Err())
	page.Crumbs = []kit.Crumb{{Label: "Reports", URL: "/reports"}, {Label: "All reports of a term", URL: bundlesURL}}
	page.Intro = "Asked for on " + v.Asked + "."
	if v.Open {
		page.Scripts = []string{"js/progress.js"}
	}
	return h.kit.Render(w, r, status, bundlePage(page, v, typed))
}

// StopBundle ends work on a bundle, or removes its files.
func (h *Handler) StopBundle(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "bundle")
	if err != nil {
		return err
	}
	if err := h.app.StopReportBundle(r.Context(), kit.Actor(r), id); err != nil {
		return err
	}
	return h.kit.Done(w, r, "Stopped. Nothing of it is kept.", bundlesURL)
}

// SaveBundle answers with the files of a bundle as a zip, for the passphrase once more, and writes it to the trail. An answer that has begun and cannot be finished
// is cut off, so that nobody takes a half for the whole.
func (h *Handler) SaveBundle(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "bundle")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	typed, begun := kit.Reader{Values: values}, false
	err = h.app.SaveReportBundle(r.Context(), kit.Actor(r), id, values.Get("passphrase"), func(name string) io.Writer {
		begun = true
		kit.DownloadHead(w, "application/zip", name)
		return w
	})
	switch {
	case err != nil && begun:
		panic(http.ErrAbortHandler)
	case typed.Took(err):
		return h.bundlePage(w, r, http.StatusUnprocessableEntity, typed)
	}
	return err
}
