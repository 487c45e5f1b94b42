package people

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Retention shows how long things are kept, and what the last clearings took away.
func (h *Handler) Retention(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.Retention(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "How long things are kept")
	page.Intro = "Once a day the program deletes what has been kept long enough. Marks, attendance and the trail stay until a child is erased, or for good."
	page.Actions = kit.LinkButton(kit.Action{Label: "Change", URL: "/studio/settings#retention", Kind: kit.Quiet})
	return h.show(w, r, http.StatusOK, retentionPage(page, keptFor(view.Rule), runsTable(view)))
}

func keptFor(r studio.RetentionRule) []kit.Def {
	return []kit.Def{
		{Term: "Tries to sign in", Text: kit.Count(r.Attempts, "day", "days")},
		{Term: "Used or run-out links", Text: kit.Count(r.Links, "day", "days")},
		{Term: "What devices sent, once it is stored or decided", Text: kit.Count(r.Items, "month", "months")},
		{Term: "Teachers’ notes about children, notes from the hall, and forecasts after their day", Text: kit.Count(r.Notes, "month", "months")},
		{Term: "Home drills, practice, messages, released reports", Text: kit.Count(r.Home, "month", "months")},
		{Term: "Reports that something hurt, care limits that are over, who read health data", Text: kit.Count(r.Health, "month", "months")},
		{Term: "Incident records", Text: fmt.Sprintf("%s, or to the child’s birthday of %d years where that is later; each record says its day", kit.Count(r.IncidentYears, "year", "years"), r.IncidentAge)},
	}
}

func runsTable(v app.Retention) kit.TableView {
	t := kit.TableView{Caption: "The last clearings", HideCaption: true, Columns: []kit.Column{{Label: "When"}, {Label: "What went"}}}
	for _, run := range v.Runs {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(moment(run.RanAt, v.Day)), kit.Text(goneWords(run.Gone))}})
	}
	return t
}

func goneWords(gone map[string]int) string {
	var words []string
	for _, kind := range slices.Sorted(maps.Keys(gone)) {
		words = append(words, fmt.Sprintf("%s: %d", kind, gone[kind]))
	}
	if len(words) == 0 {
		return "Nothing"
	}
	return sentenceCase(strings.Join(words, "; "))
}

// TrailCheck says whether the trail is as it was written.
func (h *Handler) TrailCheck(w http.ResponseWriter, r *http.Request) error {
	check, err := h.app.CheckTrail(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Is the trail whole?", kit.Crumb{Label: "Trail", URL: "/studio/trail"})
	return h.show(w, r, http.StatusOK, trailCheckPage(page, check, trailVerdict(check)))
}

func trailVerdict(c app.TrailCheck) kit.Notice {
	if b := c.Broken; b != nil {
		what := map[string]string{
			"changed":  fmt.Sprintf("Line %d was changed after it was written: %s, %s, %s.", b.Seq, moment(b.At, c.Day), b.Action, b.Subject),
			"missing":  fmt.Sprintf("Line %d is missing, or a line before it.", b.Seq),
			"unlinked": fmt.Sprintf("A line was slipped in past the program: %s, %s, %s.", moment(b.At, c.Day), b.Action, b.Subject),
		}[b.What]
		return kit.Notice{Kind: kit.Failure, Title: "The trail is not as it was written", Text: what + " Somebody changed the database by hand, or it was damaged. Ask whoever looks after it, and compare with a backup."}
	}
	return kit.Notice{Kind: kit.Done, Title: "The trail is whole", Text: kit.Count(int(c.Head.Seq), "line", "lines") + ", each as it was written and in its place."}
}

// readRetention reads how long things are kept.
func readRetention(f *kit.Reader) studio.RetentionRule {
	return studio.RetentionRule{Attempts: f.Whole("keep-attempts", 1, 365), Links: f.Whole("keep-links", 1, 365), Items: f.Whole("keep-items", 1, 120),
		Notes: f.Whole("keep-notes", 1, 240), Home: f.Whole("keep-home", 1, 240), Health: f.Whole("keep-health", 1, 360),
		IncidentYears: f.Whole("keep-incident-years", 1, 50), IncidentAge: f.Whole("keep-incident-age", 18, 60)}
}

// setRetention writes the same fields.
func setRetention(set func(string, int), r studio.RetentionRule) {
	set("keep-attempts", r.Attempts)
	set("keep-links", r.Links)
	set("keep-items", r.Items)
	set("keep-notes", r.Notes)
	set("keep-home", r.Home)
	set("keep-health", r.Health)
	set("keep-incident-years", r.IncidentYears)
	set("keep-incident-age", r.IncidentAge)
}

func (m *groupMaker) retentionRows() []settingsRow {
	return []settingsRow{
		line(m.whole("keep-attempts", "Tries to sign in", "days", 1, 365), m.whole("keep-links", "Used or run-out links", "days", 1, 365), m.whole("keep-items", "What devices sent", "months", 1, 120)),
		line(m.whole("keep-notes", "Notes about children", "months", 1, 240), m.whole("keep-home", "Home practice, messages, reports", "months", 1, 240),
			m.whole("keep-health", "Health: reports and limits that are over", "months", 1, 360)),
		line(m.whole("keep-incident-years", "Incident records", "years", 1, 50), m.whole("keep-incident-age", "And to the child’s age of", "years", 18, 60))}
}
