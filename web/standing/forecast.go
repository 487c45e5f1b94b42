package standing

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Forecasts shows how the studio's rungs are learned and which rungs open most.
func (h *Handler) Forecasts(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.Forecasts(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "How rungs are learned", kit.SectionStudio)
	page.Intro = "What forecasts go by. They are sums over all marks of the studio and say nothing about any one child."
	page.Crumbs = studioCrumbs(r)
	page.Actions = forecastsActions(kit.Actor(r).Is(studio.OwnerRole))
	return h.kit.Render(w, r, http.StatusOK, forecastsPage(page, view))
}

// FitForecasts works the rungs out anew.
func (h *Handler) FitForecasts(w http.ResponseWriter, r *http.Request) error {
	if err := h.app.FitForecasts(r.Context(), kit.Actor(r)); err != nil {
		return err
	}
	return h.kit.Done(w, r, "Worked out anew from all marks.", "/studio/forecasts")
}

// likely is a chance in words, coarse on purpose: marks are few and the model is simple.
func likely(p float64) string {
	switch {
	case p < 0.05:
		return "hardly likely"
	case p > 0.95:
		return "almost sure"
	}
	n := int(math.Round(10 * p))
	switch n {
	case 0, 1:
		return "about 1 in 10"
	case 5:
		return "about even"
	case 10:
		return "about 9 in 10"
	}
	return fmt.Sprintf("about %d in 10", n)
}

// percent is a share as it is read.
func percent(p float64) string { return fmt.Sprintf("%.0f%%", 100*p) }

// forecastTable is a child's forecast, likeliest first.
func forecastTable(v app.ChildForecast) kit.TableView {
	t := kit.TableView{ID: "forecast-rungs", Caption: "Rungs at hand", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Stands"},
		{Label: "Secure by then"}, {Label: "Turns to come", Numeric: true}, {Label: "Goes by"}}}
	for _, r := range v.Rungs {
		from := "defaults"
		if r.Own {
			from = "own marks"
		}
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Part(forecastRung(r)), kit.Text(r.State),
			kit.Part(forecastChance(r)), kit.Text(fmt.Sprintf("about %.0f", math.Round(r.Turns))), kit.Text(from)}})
	}
	return t
}

// chanceWords are a forecast in words, with its error where it was simulated.
func chanceWords(r app.RungForecast) string {
	if r.Error > 0 {
		return fmt.Sprintf("%s, give or take %s", likely(r.Secure), percent(2*r.Error))
	}
	return likely(r.Secure)
}

// forecastIntro says what the forecast looks ahead to.
func forecastIntro(v app.ChildForecast) string {
	return fmt.Sprintf("%s until the %s on %s; by who was there so far, this child comes to about %.0f.", kit.Count(v.Lessons, "lesson", "lessons"),
		v.What, day(v.By), math.Round(v.Comes*float64(v.Lessons)))
}

// wayTo is what comes before a waiting rung, in words.
func wayTo(r app.WaitingRung) string {
	text := "Needs first, in this order: " + strings.Join(r.First, ", ") + "."
	if len(r.First) > len(r.Begin) && len(r.Begin) > 0 {
		text += " Begin with " + kit.List(r.Begin) + "."
	}
	return text
}

// studioCrumbs lead back to the studio's desk, which is the owner's.
func studioCrumbs(r *http.Request) []kit.Crumb {
	if kit.Actor(r).Is(studio.OwnerRole) {
		return []kit.Crumb{{Label: "Studio", URL: "/studio"}}
	}
	return nil
}

// fitTable is how the rungs of a ladder are learned.
func fitTable(l app.FittedLadder, v app.ForecastsView) kit.TableView {
	t := kit.TableView{Caption: l.Name, HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "From"}, {Label: "Known at first", Numeric: true},
		{Label: "A turn teaches", Numeric: true}, {Label: "Clean by luck", Numeric: true}, {Label: "Slips", Numeric: true}, {Label: "How well"}}}
	for _, r := range l.Rungs {
		t.Rows = append(t.Rows, kit.Row{Quiet: !r.Used, Cells: []kit.Cell{kit.Link(r.Name, "/rungs/"+r.Key), kit.Text(fittedFrom(r)), kit.Text(percent(r.Known)),
			kit.Text(percent(r.Learn)), kit.Text(percent(r.Guess)), kit.Text(percent(r.Slip)), kit.Text(howWell(r, v))}})
	}
	return t
}

// fittedFrom says whose numbers they are and from how much.
func fittedFrom(r app.FittedRung) string {
	from := kit.Count(r.Children, "child", "children") + ", " + kit.Count(r.Marks, "mark", "marks")
	if r.Used {
		return "own marks: " + from
	}
	return "defaults: " + from
}

// howWell says what a fit is worth on children that it has not seen, or why there is none.
func howWell(r app.FittedRung, v app.ForecastsView) string {
	if !r.Enough {
		return fmt.Sprintf("too few to say: it takes %d children and %d marks", v.LeastChildren, v.LeastMarks)
	}
	seen := fmt.Sprintf("gave each mark of a child left out %.1f%%, the defaults %.1f%%", 100*r.HeldAfter, 100*r.HeldBefore)
	if !r.Used {
		return seen + ": no better, so the defaults stay"
	}
	return seen
}

// ladderWords say how many rungs of a ladder go by the studio's own marks.
func ladderWords(l app.FittedLadder) string {
	own := 0
	for _, r := range l.Rungs {
		if r.Used {
			own++
		}
	}
	return fmt.Sprintf("%s: %d of %s by own marks", l.Name, own, kit.Count(len(l.Rungs), "marked rung", "marked rungs"))
}

// firstUnlocks is how many of the rungs that open most are shown at once.
const firstUnlocks = 8

// unlockTable lists the rungs that open most.
func unlockTable(caption string, lines []app.UnlockLine) kit.TableView {
	t := kit.TableView{Caption: caption, HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Would open", Numeric: true}, {Label: "For", Numeric: true}}}
	for _, u := range lines {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(u.Name, "/rungs/"+u.Key), kit.Text(kit.Count(u.Opens, "rung", "rungs")), kit.Text(kit.Count(u.Children, "child", "children"))}})
	}
	return t
}

// defaultWords are the defaults in a sentence.
func defaultWords(r app.FittedRung) string {
	return fmt.Sprintf("By default %s know a rung at the first turn, a turn teaches it with %s, a turn is clean by luck with %s and slips with %s.",
		percent(r.Known), percent(r.Learn), percent(r.Guess), percent(r.Slip))
}
