package standing

import (
	"cmp"
	"fmt"
	"math"
	"net/http"
	"slices"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// turnedOutModel is the page of how forecasts turned out. At is its address, without what it asks for.
type turnedOutModel struct {
	app.Calibration
	At    string
	Owner bool
}

// TurnedOut shows how the forecasts of the whole studio turned out.
func (h *Handler) TurnedOut(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.Calibration(r.Context(), kit.Actor(r), forecastFor(r))
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "How forecasts turned out", kit.SectionStudio)
	page.Crumbs = append(studioCrumbs(r), kit.Crumb{Label: "How rungs are learned", URL: "/studio/forecasts"})
	return h.turnedOut(w, r, page, turnedOutModel{Calibration: view, At: "/studio/forecasts/turned-out"})
}

// ClassTurnedOut shows how the forecasts of one class turned out.
func (h *Handler) ClassTurnedOut(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	view, err := h.app.ClassCalibration(r.Context(), kit.Actor(r), forecastFor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, view.Class.Name+": how forecasts turned out", kit.SectionClasses)
	page.Heading = "How forecasts turned out"
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: view.Class.Name, URL: "/classes/" + id.String()}}
	return h.turnedOut(w, r, page, turnedOutModel{Calibration: view, At: "/classes/" + id.String() + "/forecasts"})
}

func (h *Handler) turnedOut(w http.ResponseWriter, r *http.Request, page kit.Page, m turnedOutModel) error {
	page.Intro = "Once a week in term the forecasts are kept as they were made. When their day is over, they are held against the marks."
	m.Owner = kit.Actor(r).Is(studio.OwnerRole)
	return h.kit.Render(w, r, http.StatusOK, turnedOutPage(page, m))
}

// TurnedOutCSV answers with the judged forecasts of the studio, children numbered.
func (h *Handler) TurnedOutCSV(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.Calibration(r.Context(), kit.Actor(r), forecastFor(r))
	if err != nil {
		return err
	}
	return downloadForecasts(w, view)
}

// ClassTurnedOutCSV answers with the judged forecasts of a class, children numbered.
func (h *Handler) ClassTurnedOutCSV(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	view, err := h.app.ClassCalibration(r.Context(), kit.Actor(r), forecastFor(r), id)
	if err != nil {
		return err
	}
	return downloadForecasts(w, view)
}

func downloadForecasts(w http.ResponseWriter, view app.Calibration) error {
	file, err := view.File()
	if err != nil {
		return err
	}
	return kit.Download(w, file.Kind, file.Name, file.Body)
}

// forecastFor is whose forecasts are asked for: those of the children's pages, unless it is those of the term.
func forecastFor(r *http.Request) studio.ForecastFor {
	if r.URL.Query().Get("for") == string(studio.ForTerm) {
		return studio.ForTerm
	}
	return studio.ForChild
}

func (m turnedOutModel) tabs() []kit.Tab {
	return []kit.Tab{{Label: "On children’s pages", URL: m.At, Current: m.For == studio.ForChild},
		{Label: "On the term of a class", URL: m.At + "?for=term", Current: m.For == studio.ForTerm}}
}

func (m turnedOutModel) csv() string { return m.At + ".csv?for=" + string(m.For) }

// what says which forecasts the page is about.
func (m turnedOutModel) what() string {
	if m.For == studio.ForTerm {
		return "Each child’s chance to have a rung of the term secure, through the weeks as they were laid out: what the outlook of the class adds up."
	}
	return "Each child’s chance to have an open or begun rung secure, as it stood on its page under Ahead."
}

// unjudged says what is not judged and what is still to come.
func (m turnedOutModel) unjudged() []string {
	var lines []string
	if m.Left > 0 {
		lines = append(lines, fmt.Sprintf("Not judged: %s of children who had left the class by the day.", forecastCount(m.Left)))
	}
	if m.Away > 0 {
		lines = append(lines, fmt.Sprintf("Not judged: %s of children who were at no lesson between.", forecastCount(m.Away)))
	}
	if m.Gone > 0 {
		lines = append(lines, fmt.Sprintf("Not judged: %s about rungs that have left the library since.", forecastCount(m.Gone)))
	}
	if m.Waiting > 0 {
		lines = append(lines, fmt.Sprintf("Not due yet: %s, the next on %s.", forecastCount(m.Waiting), day(m.Next)))
	}
	return lines
}

func forecastCount(n int) string { return kit.Count(n, "forecast", "forecasts") }

// overall is the sum in a sentence.
func (m turnedOutModel) overall() string {
	r := m.Result
	return fmt.Sprintf("Of %s about %s, %d came true; about %.0f were to be expected.", forecastCount(r.N), kit.Count(r.Children, "child", "children"), r.True, math.Round(r.Mean*float64(r.N)))
}

// off says where forecasts hoped for too much or too little, as far as that is more than luck.
func (m turnedOutModel) off() []string {
	var lines []string
	known := false
	for _, b := range m.Result.Bands {
		known = known || b.GapIn.Known
		way := ""
		switch {
		case b.GapIn.Above():
			way = "Too hopeful"
		case b.GapIn.Below():
			way = "Too careful"
		default:
			continue
		}
		lines = append(lines, fmt.Sprintf("%s %s: of %s there, %d came true, about %.0f expected.", way, bandWords(b), forecastCount(b.N), b.True, math.Round(b.Mean*float64(b.N))))
	}
	switch {
	case len(lines) > 0:
		return lines
	case !known:
		return []string{"From so few children it cannot be said where forecasts are off."}
	}
	return []string{"Neither low, middle nor high forecasts are off by more than luck explains."}
}

func bandWords(b app.ForecastBand) string {
	switch {
	case b.From == 0:
		return "at the bottom, below " + inHundred(b.To)
	case b.To == 1:
		return "at the top, from " + inHundred(b.From)
	}
	return fmt.Sprintf("in the middle, %.0f to %s", 100*b.From, inHundred(b.To))
}

// inHundred is a chance as it is read.
func inHundred(p float64) string { return fmt.Sprintf("%.0f in 100", 100*p) }

// worth says what the forecasts were worth beside saying the same every time.
func (m turnedOutModel) worth() string {
	r := m.Result
	if !r.HasSkill {
		return "All turned out the same way, so it cannot be said what the forecasts were worth."
	}
	words := "better than"
	switch {
	case r.Skill <= 0:
		words = "no better than"
	case !r.SkillIn.Above():
		words = "not surely better than"
	}
	text := fmt.Sprintf("They were %s saying %s every time: the mean squared error (Brier score, 0 is perfect) is %.3f, that of the same every time %.3f.",
		words, inHundred(r.Rate), r.Brier, r.Reference)
	if r.Skill > 0 {
		text += fmt.Sprintf(" That is %s less", percent(r.Skill))
		if r.SkillIn.Known {
			text += fmt.Sprintf(", likely %s to %s", signedPercent(r.SkillIn.Low), signedPercent(r.SkillIn.High))
		}
		text += "."
	}
	return text
}

func signedPercent(p float64) string {
	if p < 0 {
		return fmt.Sprintf("−%.0f%%", -100*p)
	}
	return percent(p)
}

func (m turnedOutModel) stats() []kit.Stat {
	r := m.Result
	return []kit.Stat{{Value: fmt.Sprint(r.N), Label: "judged"}, {Value: fmt.Sprint(r.True), Label: "came true"},
		{Value: fmt.Sprintf("%.0f", math.Round(r.Mean*float64(r.N))), Label: "expected"}, {Value: fmt.Sprintf("%.0f in 100", 100*r.Off), Label: "off on average, over the rows of the table"}}
}

// example reads the fullest row of the table.
func (m turnedOutModel) example() string {
	return binSentence(slices.MaxFunc(m.Result.Bins, func(a, b app.ForecastBin) int { return cmp.Compare(a.N, b.N) }))
}

func binSentence(b app.ForecastBin) string {
	return fmt.Sprintf("Of %s around %s, %d came true (expected about %.0f).", forecastCount(b.N), inHundred(b.Mean), b.True, math.Round(b.Mean*float64(b.N)))
}

// table is the reliability table; chances and shares are in 100.
func (m turnedOutModel) table() kit.TableView {
	t := kit.TableView{ID: "turned-out-table", Caption: "Chances that were said and the share that came true, in 100", Columns: []kit.Column{{Label: "Said"}, {Label: "Forecasts", Numeric: true},
		{Label: "Mean said", Numeric: true}, {Label: "Came true", Numeric: true}, {Label: "Expected", Numeric: true}, {Label: "Share"}}}
	for _, b := range m.Result.Bins {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(fmt.Sprintf("%.0f to %.0f", 100*b.From, 100*b.To)), kit.Text(fmt.Sprint(b.N)), kit.Text(fmt.Sprintf("%.0f", 100*b.Mean)),
			kit.Text(fmt.Sprint(b.True)), kit.Text(fmt.Sprintf("about %.0f", math.Round(b.Mean*float64(b.N)))),
			kit.Text(fmt.Sprintf("%.0f, likely %.0f to %.0f", 100*b.Share, 100*b.Low, 100*b.High))}})
	}
	return t
}

// components are the parts of the Brier score in a sentence.
func (m turnedOutModel) components() string {
	r := m.Result
	return fmt.Sprintf("Here the Brier score %.3f is %.3f (reliability: how far off, 0 is best) − %.3f (resolution: how well it tells apart, more is better) + %.3f (uncertainty: of the thing itself) + %.3f (what is left within the rows).",
		r.Brier, r.Reliability, r.Resolution, r.Uncertainty, r.Within)
}
