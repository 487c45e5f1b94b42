package pacing

import (
	"fmt"
	"strconv"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// forecastIntro says what the forecast looks ahead to.
func forecastIntro(v app.PacingForecast) string {
	if v.Why != "" {
		return v.Term + "."
	}
	return fmt.Sprintf("%s until the %s on %s, %s.", kit.Count(v.Lessons, "lesson", "lessons"), v.What, v.By.Format("2 January"), kit.Count(v.Children, "child", "children"))
}

// likelyWords say how many children are likely to have a rung.
func likelyWords(r app.ExpectedRung, v app.PacingForecast) string {
	if r.Low == r.High {
		return fmt.Sprintf("likely %d of %d", r.Low, v.Children)
	}
	return fmt.Sprintf("likely %d to %d of %d", r.Low, r.High, v.Children)
}

func forecastTable(v app.PacingForecast) kit.TableView {
	t := kit.TableView{Caption: "Rungs of the term", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Week"}, {Label: "Secure now", Numeric: true}, {Label: "Secure by then"}, {Label: "As a class", Numeric: true}, {Label: "On average", Numeric: true}}}
	for _, r := range v.Rungs {
		week := "none yet"
		if r.Week > 0 {
			week = strconv.Itoa(r.Week)
		}
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Part(forecastRung(r)), kit.Text(week), kit.Text(strconv.Itoa(r.Now)), kit.Part(forecastBand(r, v)), kit.Text(ofAll(r.Together, v.Children)), kit.Text(fmt.Sprintf("%.1f", r.Mean))}})
	}
	return t
}

// bandWide is the width of a whole class in the small chart, in units of its view box.
const bandWide = 120

// across is the place of a number of children in the small chart.
func across(n float64, v app.PacingForecast) string {
	return strconv.FormatFloat(bandWide*n/float64(v.Children), 'f', 1, 64)
}
