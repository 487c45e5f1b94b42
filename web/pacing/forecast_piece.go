package pacing

import (
	"fmt"
	"strconv"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// ofAll is "5 to 9 of 14", or "5 of 14" where the two ends meet.
func ofAll(s app.Spread, children int) string {
	if s.Low == s.High {
		return fmt.Sprintf("%d of %d", s.Low, children)
	}
	return fmt.Sprintf("%d to %d of %d", s.Low, s.High, children)
}

// oddsWords say how many will be ready for a piece.
func oddsWords(o app.PieceOdds) string {
	by := fmt.Sprintf("ready for %s by %s, with 8 chances in 10; %.1f on average.", o.Name, o.Day.Format("2 January"), o.Together.Mean)
	words := ofAll(o.Together, o.Children) + " are likely to be " + by
	if o.Together.High == 0 {
		words = "Nobody is likely to be " + by
	}
	if o.Apart == 1 {
		return words + " 1 child does another rung, or stands in the picture, and is ready for that."
	}
	if o.Apart > 1 {
		return words + fmt.Sprintf(" %d children do another rung, or stand in the picture, and are ready for that.", o.Apart)
	}
	return words
}

// aloneWords set the same number beside it, each child for itself.
func aloneWords(o app.PieceOdds) string {
	const recheck = " A rung that is due a recheck counts as not ready until it is clean again."
	alone := ofAll(o.Alone, o.Children)
	if alone == ofAll(o.Together, o.Children) {
		return "Each child for itself gives the same." + recheck
	}
	return "Each child for itself, it would be " + alone + ": but a class shares its teachers, its lessons and its weeks with colds, so the true number spreads wider." + recheck
}

// sharingWords say where the figure comes from.
func sharingWords(s app.Sharing) string {
	if s.Groups == 0 {
		return fmt.Sprintf("How alike children of a class fare is taken as %.2f, where 0 is each for itself and 1 all alike. That is a start of ours, with no published figure: this class has no past of its own to go by yet.", s.Shared)
	}
	return fmt.Sprintf("How alike the children of this class fare is taken as %.2f, where 0 is each for itself and 1 all alike. Its own last twelve weeks alone say %.2f, from %s of children who worked at the same rung over four weeks; while those are few it is drawn towards %.2f, a start of ours with no published figure.",
		s.Shared, s.Past, kit.Count(s.Groups, "group", "groups"), s.Usual)
}

func oddsRungTable(o app.PieceOdds) kit.TableView {
	t := kit.TableView{Caption: "Rungs of " + o.Name, HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Ready now", Numeric: true}, {Label: "Likely, as a class", Numeric: true}, {Label: "Each for itself", Numeric: true}, {Label: "On average", Numeric: true}}}
	for _, r := range o.Rungs {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(r.Name, "/rungs/"+r.Key), kit.Text(fmt.Sprintf("%d of %d", r.Ready, r.Children)), kit.Text(ofAll(r.Together, r.Children)),
			kit.Text(ofAll(r.Alone, r.Children)), kit.Text(fmt.Sprintf("%.1f", r.Alone.Mean))}})
	}
	return t
}

func oddsTable(o app.PieceOdds) kit.TableView {
	t := kit.TableView{Caption: "Chances in 100 of each number", HideCaption: true, Columns: []kit.Column{{Label: "Children ready", Numeric: true}, {Label: "As a class", Numeric: true}, {Label: "Each for itself", Numeric: true}}}
	for n := range o.Together.Chances {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(strconv.Itoa(n)), kit.Text(inHundred(o.Together.Chances[n])), kit.Text(inHundred(o.Alone.Chances[n]))}})
	}
	return t
}

// inHundred is a chance in whole hundredths; what is possible is never shown as none.
func inHundred(p float64) string {
	if p > 1e-9 && p < 0.005 {
		return "under 1"
	}
	return fmt.Sprintf("%.0f", 100*p)
}

// Measures of the chart of a number, in units of its view box.
const (
	oddsWide  = 320
	oddsHigh  = 96
	oddsFloor = 104
	oddsEdge  = 10
)

// oddsStep is the width of one number.
func oddsStep(o app.PieceOdds) float64 { return (oddsWide - 2*oddsEdge) / float64(o.Children+1) }

// oddsLeft is where the place of a number begins.
func oddsLeft(o app.PieceOdds, n int) float64 { return oddsEdge + float64(n)*oddsStep(o) }

// oddsHeight is the height of a chance; the highest of both fills the chart.
func oddsHeight(o app.PieceOdds, p float64) float64 {
	most := 0.0
	for n := range o.Together.Chances {
		most = max(most, o.Together.Chances[n], o.Alone.Chances[n])
	}
	return oddsHigh * p / most
}

func unit(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

// oddsLine draws the chances of each for itself as steps.
func oddsLine(o app.PieceOdds) string {
	d := "M" + unit(oddsLeft(o, 0)) + " " + unit(oddsFloor)
	for n, p := range o.Alone.Chances {
		y := unit(oddsFloor - oddsHeight(o, p))
		d += "L" + unit(oddsLeft(o, n)) + " " + y + "L" + unit(oddsLeft(o, n+1)) + " " + y
	}
	return d + "L" + unit(oddsLeft(o, o.Children+1)) + " " + unit(oddsFloor)
}

// oddsLabelled reports whether a number is written under the chart: all of a small class, every other one of a large.
func oddsLabelled(o app.PieceOdds, n int) bool { return o.Children <= 12 || n%2 == 0 }
