package people

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

func gapsPart(o app.TermsOverview) termsPart {
	of := func(l app.GapLine) app.TermClass { return l.TermClass }
	lacked := func(l app.GapLine) float64 {
		if l.Held == 0 {
			return 0
		}
		return float64(l.Few+l.Thin) / float64(l.Held)
	}
	read := func(l app.GapLine) figure { return figure{lacked(l), partOf(l.Few+l.Thin, l.Held), l.Held > 0} }
	short := func(l app.GapLine) figure { return figure{lacked(l), percent(lacked(l)), l.Held > 0} }
	all := sums(o, o.Gaps, of)
	p := termsPart{ID: app.GapsTable, Heading: "Where people lacked", Notice: gapsNotice(all), Cautions: true,
		How: "For lessons that were held: who was there is what was noted, and whoever was expected where nobody noted anything; sign-offs are those of the lesson's day; adults are counted by the studio's rule of today. " +
			"The rungs of a lesson are those marked in it and those in its plan: that one was worked at without a spotter is not said, only that the people noted as here could not have covered it, one rung at a time. " +
			"For lessons ahead: who is expected, and the plan where there is one.",
		Bars: perTerm("Lessons with too few adults, or too few left to watch", all, of, read, 1), Lines: overTerms(o.Gaps, of, short, 1), LinesTitle: "Share of such lessons, by class"}
	tabulate(&p, "Cover in each term", o, o.Gaps, of, []string{"Lessons held", "Too few adults", "With a spotted rung", "Too few left to watch", "Not enough signed off", "Ahead", "Ahead with a gap"}, func(l app.GapLine) []string {
		return []string{itoa(l.Held), itoa(l.Few), itoa(l.Spotted), itoa(l.Thin), itoa(l.Unsigned), itoa(l.Ahead), itoa(l.AheadFew + l.AheadGap)}
	})
	for _, l := range slices.Backward(all) {
		if rungs := rungsLacked(l.Rungs); rungs != "" {
			p.Notes = append(p.Notes, l.Term+", not enough signed off for: "+rungs+".")
		}
	}
	return p
}

// rungsLacked names the first rungs that were without a spotter.
func rungsLacked(rungs []string) string {
	const named = 4
	if len(rungs) == 0 {
		return ""
	}
	text := strings.Join(rungs[:min(named, len(rungs))], ", ")
	if more := len(rungs) - named; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

func endingTermsPart(o app.TermsOverview) termsPart {
	p := termsPart{ID: app.EndingTable, Heading: "Sign-offs that end", Notice: endingNotice(o), How: "From today to the end of the next term. Child-rungs are what a sign-off carries: for each of its rungs, the children of today's classes who may work at it (open, in work, or due another look). " +
		"Held alone: rungs for which nobody else is signed off beyond that day.",
		Table: kit.TableView{Caption: "Sign-offs that end, the first to end first", Columns: []kit.Column{{Label: "Who"}, {Label: "Last day"}, {Label: "In"}, {Label: "Rungs", Numeric: true},
			{Label: "Child-rungs", Numeric: true}, {Label: "Held alone", Numeric: true}, {Label: "Child-rungs of those", Numeric: true}}}}
	if len(o.Ending) == 0 {
		p.Empty = "None ends before the next term is over."
		return p
	}
	bars := kit.BarsView{Title: "Child-rungs that each carries"}
	for _, e := range o.Ending {
		in := e.Term
		if in == "" {
			in = "between terms"
		}
		p.Table.Rows = append(p.Table.Rows, kit.Row{Cells: []kit.Cell{kit.Link(e.Person, "/studio/sign-offs/new?staff="+e.Staff.String()), kit.Text(inWords(e.Until)), kit.Text(in),
			kit.Text(itoa(e.Rungs)), kit.Text(itoa(e.ChildRungs)), kit.Text(itoa(e.Alone)), kit.Text(itoa(e.AloneChildRungs))}})
		bars.Bars = append(bars.Bars, kit.Bar{Label: e.Person + ", " + e.Until.Format("2 January"), Text: itoa(e.ChildRungs), Value: float64(e.ChildRungs)})
	}
	p.Bars = &bars
	return p
}

func coveragePart(o app.TermsOverview) termsPart {
	newest := o.Terms[len(o.Terms)-1].Name
	p := termsPart{ID: app.CoverageTable, Heading: "What of the library is used", Notice: coverageNotice(o), How: "Taught rungs were in the plan of a lesson that was held, or marked in one; marked ones were marked in one; made secure by somebody means for the first time, on a day of the term.",
		Table: kit.TableView{Caption: "Rungs of each ladder in each term", Columns: []kit.Column{{Label: "Ladder"}, {Label: "Term"}, {Label: "Rungs", Numeric: true}, {Label: "Taught", Numeric: true}, {Label: "Marked", Numeric: true}, {Label: "Made secure by somebody", Numeric: true}}}}
	bars := kit.BarsView{Title: "Rungs taught in " + newest, Max: 1}
	for _, l := range byLadder(o.Coverage) {
		p.Table.Rows = append(p.Table.Rows, kit.Row{Cells: []kit.Cell{kit.Link(l.Ladder, "/ladders/"+l.Key), kit.Text(l.Term), kit.Text(itoa(l.Rungs)), kit.Text(itoa(l.Taught)), kit.Text(itoa(l.Marked)), kit.Text(itoa(l.Secured))}})
		if l.Term == newest && l.Rungs > 0 {
			bars.Bars = append(bars.Bars, kit.Bar{Label: l.Ladder, Text: fmt.Sprintf("%d of %d", l.Taught, l.Rungs), Value: float64(l.Taught) / float64(l.Rungs)})
		}
	}
	p.Bars = &bars
	return p
}

// byLadder puts the terms of each ladder together, the newest first.
func byLadder(lines []app.CoverageLine) []app.CoverageLine {
	var keys []string
	for _, l := range lines {
		if !slices.Contains(keys, l.Key) {
			keys = append(keys, l.Key)
		}
	}
	var sorted []app.CoverageLine
	for _, key := range keys {
		for _, l := range slices.Backward(lines) {
			if l.Key == key {
				sorted = append(sorted, l)
			}
		}
	}
	return sorted
}

func unusedPart(o app.TermsOverview) termsPart {
	p := termsPart{ID: app.UnusedTable, Heading: "What the library lacks", Notice: unusedNotice(o.Unused), How: "Never used: nobody was ever marked at it, in any term, and no plan ever had it. The other columns say what its page in the library does not have yet.",
		Table: kit.TableView{Caption: "Rungs that were never used, or that lack something", Columns: []kit.Column{{Label: "Rung"}, {Label: "Ladder"}, {Label: "Never used"}, {Label: "Lacks"}}}}
	if len(o.Unused) == 0 {
		p.Empty = "Every rung was used, and has a figure, a drill and a fault."
		return p
	}
	counts := kit.BarsView{Title: "Rungs"}
	n := map[string]int{}
	for _, u := range o.Unused {
		var lacks []string
		never := "used"
		if u.Never {
			never = "never"
			n[never]++
		}
		for _, l := range []struct {
			yes  bool
			name string
		}{{u.NoFigure, "a figure"}, {u.NoDrill, "a drill"}, {u.NoFault, "a fault"}} {
			if l.yes {
				lacks = append(lacks, l.name)
				n[l.name]++
			}
		}
		if len(lacks) == 0 {
			lacks = []string{"nothing"}
		}
		p.Table.Rows = append(p.Table.Rows, kit.Row{Cells: []kit.Cell{kit.Link(u.Rung, "/rungs/"+u.Key), kit.Text(u.Ladder), kit.Text(never), kit.Text(strings.Join(lacks, ", "))}})
	}
	for _, bar := range []struct{ key, label string }{{"never", "Never used"}, {"a figure", "Without a figure"}, {"a drill", "Without a drill"}, {"a fault", "Without a fault"}} {
		counts.Bars = append(counts.Bars, kit.Bar{Label: bar.label, Text: itoa(n[bar.key]), Value: float64(n[bar.key])})
	}
	p.Bars = &counts
	return p
}
