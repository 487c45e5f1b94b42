package standing

import (
	"fmt"
	"net/http"
	"strconv"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Agreement shows how assistants and teachers agree on turns that both marked.
func (h *Handler) Agreement(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.Agreement(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "How markers agree", kit.SectionStudio)
	page.Intro = "Turns that a teacher and an assistant both marked, in the last half year. It is about marking alike, not about who is right."
	page.Crumbs = studioCrumbs(r)
	page.Actions = kit.LinkButton(kit.Action{Label: "How rungs are learned", URL: "/studio/forecasts", Kind: kit.Quiet})
	return h.kit.Render(w, r, http.StatusOK, agreementPage(page, view))
}

// agreementWords say what two people's agreement comes to.
func agreementWords(l app.AgreementLine, floor float64) string {
	switch {
	case l.Few:
		return fmt.Sprintf("Too few to say: it takes %d turns of %d children.", app.FewDoubled, app.FewDoubledChildren)
	case !l.Defined:
		return "Both gave one outcome only, so nothing can be said beyond chance."
	case l.Again:
		return fmt.Sprintf("Below the studio's %.2f: mark a lesson together again and talk the turns over.", floor)
	}
	return fmt.Sprintf("At or above the studio's %.2f.", floor)
}

// band is the usual word for a kappa (Landis and Koch 1977, Biometrics 33:159-174).
func band(l app.AgreementLine) string {
	if !l.Defined {
		return ""
	}
	for _, b := range []struct {
		most float64
		word string
	}{{0, "poor"}, {.2, "slight"}, {.4, "fair"}, {.6, "moderate"}, {.8, "substantial"}} {
		if l.Kappa <= b.most {
			return b.word
		}
	}
	return "almost perfect"
}

// agreementStats are the numbers of two people.
func agreementStats(l app.AgreementLine) []kit.Stat {
	stats := []kit.Stat{{Value: strconv.Itoa(l.Turns), Label: "turns marked by both, of " + kit.Count(l.Children, "child", "children")},
		{Value: percent(l.Same), Label: "marked alike"}}
	if l.Defined {
		stats = append(stats, kit.Stat{Value: fmt.Sprintf("%.2f", l.Kappa), Label: "agreement beyond chance (kappa), " + kappaLabel(l), Warm: l.Again})
	}
	return stats
}

func kappaLabel(l app.AgreementLine) string {
	if !l.Bounded {
		return "too few for an interval"
	}
	return fmt.Sprintf("likely %.2f to %.2f; “%s”", l.Low, l.High, band(l))
}

// crossTable counts the turns by what each of the two gave.
func crossTable(l app.AgreementLine) kit.TableView {
	t := kit.TableView{Caption: fmt.Sprintf("Turns by what %s gave (down) and %s gave (across)", l.Teacher, l.Assistant), Columns: []kit.Column{{Label: l.Teacher + " gave"},
		{Label: "missed", Numeric: true}, {Label: "supported", Numeric: true}, {Label: "clean", Numeric: true}}}
	for i, name := range []string{"missed", "supported", "clean"} {
		row := kit.Row{Cells: []kit.Cell{kit.Text(name)}}
		for _, n := range l.Table[i] {
			row.Cells = append(row.Cells, kit.Text(strconv.Itoa(n)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
