package people

import (
	"fmt"
	"math"
	"slices"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// byClass puts the lines of a comparison under their classes, all classes first, and for each class the newest term first.
func byClass[T any](lines []T, of func(T) app.TermClass) []T {
	var names []string
	for _, l := range lines {
		if name := of(l).Class; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	var sorted []T
	for _, name := range names {
		for _, l := range slices.Backward(lines) {
			if of(l).Class == name {
				sorted = append(sorted, l)
			}
		}
	}
	return sorted
}

// sums are the lines of all classes, or of the one asked for, the oldest term first.
func sums[T any](o app.TermsOverview, lines []T, of func(T) app.TermClass) []T {
	return slices.DeleteFunc(slices.Clone(lines), func(l T) bool { return of(l).Class != o.Class })
}

// figure is a line's place over the terms: value from 0 to the most, text as it is read, and whether it is known.
type figure struct {
	value float64
	text  string
	known bool
}

// overTerms draws each class over the terms, where two terms or more are known of it.
func overTerms[T any](lines []T, of func(T) app.TermClass, read func(T) figure, most float64) []termsLine {
	var drawn []termsLine
	sorted := byClass(lines, of)
	for i := 0; i < len(sorted); {
		class := of(sorted[i]).Class
		line, first, last, n := termsLine{Label: className(class), Spark: kit.SparkView{Max: most}}, "", "", 0
		for ; i < len(sorted) && of(sorted[i]).Class == class; i++ {
			f := read(sorted[i])
			if !f.known {
				f.value = math.NaN()
			} else {
				if n == 0 {
					last = f.text
				}
				first, n = f.text, n+1
			}
			line.Spark.Values = append(line.Spark.Values, f.value)
		}
		if n < 2 {
			continue
		}
		slices.Reverse(line.Spark.Values)
		line.Text = first + " to " + last
		line.Spark.Title = fmt.Sprintf("%s over %s: from %s to %s.", line.Label, kit.Count(n, "term", "terms"), first, last)
		drawn = append(drawn, line)
	}
	return drawn
}

// perTerm is a bar for each term that is known.
func perTerm[T any](title string, lines []T, of func(T) app.TermClass, read func(T) figure, most float64) *kit.BarsView {
	b := kit.BarsView{Title: title, Max: most}
	for _, l := range lines {
		if f := read(l); f.known {
			b.Bars = append(b.Bars, kit.Bar{Label: of(l).Term, Text: f.text, Value: f.value})
		}
	}
	if len(b.Bars) == 0 {
		return nil
	}
	return &b
}

func className(class string) string {
	if class == "" {
		return "All classes"
	}
	return class
}

func percent(share float64) string { return fmt.Sprintf("%.0f%%", 100*share) }

func partOf(n, of int) string {
	if of == 0 {
		return "none"
	}
	return fmt.Sprintf("%d of %d, %s", n, of, percent(float64(n)/float64(of)))
}

// tabulate fills the two tables of a part: a row a term for all classes or the one asked for, and a row a class and term for each.
func tabulate[T any](p *termsPart, caption string, o app.TermsOverview, lines []T, of func(T) app.TermClass, names []string, cells func(T) []string) {
	var figures []kit.Column
	for _, name := range names {
		figures = append(figures, kit.Column{Label: name, Numeric: true})
	}
	row := func(l T, first ...string) kit.Row {
		var r kit.Row
		for _, text := range append(first, cells(l)...) {
			r.Cells = append(r.Cells, kit.Text(text))
		}
		return r
	}
	p.Table = kit.TableView{Caption: caption + ", " + inClass(o.Class), Columns: append([]kit.Column{{Label: "Term"}}, figures...)}
	p.ByClass = kit.TableView{Caption: caption + ", class by class", HideCaption: true, Columns: append([]kit.Column{{Label: "Class"}, {Label: "Term"}}, figures...)}
	for _, l := range byClass(lines, of) {
		switch c := of(l); {
		case c.Class == o.Class:
			p.Table.Rows = append(p.Table.Rows, row(l, c.Term))
		default:
			p.ByClass.Rows = append(p.ByClass.Rows, row(l, c.Class, c.Term))
		}
	}
}

// inClass says whose figures a table holds.
func inClass(class string) string {
	if class == "" {
		return "all classes together"
	}
	return class
}

func staysPart(o app.TermsOverview) termsPart {
	of := func(l app.StayLine) app.TermClass { return l.TermClass }
	read := func(l app.StayLine) figure {
		if l.Children == 0 {
			return figure{}
		}
		stayed := float64(l.Stayed()) / float64(l.Children)
		return figure{stayed, percent(stayed), l.Next != ""}
	}
	all := sums(o, o.Stays, of)
	p := termsPart{ID: app.StaysTable, Heading: "Who stays", Notice: staysNotice(o, all), How: "Every child counts who was in the class on any day of the term. It stays when it has a place in any class of the next term: " +
		"in the class of the same name; in another class from that class's first day on (moved on, as when a term is rolled over); or in another class since some later day. " +
		"The rest are with the studio but in no class, or have left. Children whose data were erased count, without a name. The interval is Wilson’s of 1927: " +
		"with few children, a share says little about the next time. Joined: in no class of the term before.",
		Bars: perTerm("Children with a place in the term after", all, of, read, 1), Lines: overTerms(o.Stays, of, read, 1), LinesTitle: "Share who stay, by class"}
	tabulate(&p, "Children of each term in the term after it", o, o.Stays, of, []string{"Children", "Stay (95% interval)", "Same class", "Another class", "No class", "Left", "Joined"}, func(l app.StayLine) []string {
		const yet = "not known yet"
		if l.Next == "" {
			return []string{itoa(l.Children), yet, yet, yet, yet, yet, joinedWords(l)}
		}
		return []string{itoa(l.Children), partOf(l.Stayed(), l.Children) + interval(l), itoa(l.Same), elsewhere(l), itoa(l.Out), itoa(l.Left), joinedWords(l)}
	})
	for _, l := range slices.Backward(all) {
		if len(l.Gone) > 0 || l.Erased > 0 {
			p.Gone = append(p.Gone, goneLine{Heading: l.Term, Children: l.Gone, Erased: erasedWords(l.Erased)})
		}
	}
	return p
}

func interval(l app.StayLine) string {
	if l.Children == 0 {
		return ""
	}
	return fmt.Sprintf(" (%s to %s)", percent(l.Low), percent(l.High))
}

func elsewhere(l app.StayLine) string {
	if l.Later == 0 {
		return itoa(l.Moved)
	}
	return fmt.Sprintf("%d, %d of them later", l.Moved+l.Later, l.Later)
}

func joinedWords(l app.StayLine) string {
	switch {
	case l.Before == "":
		return "first term"
	case l.Back > 0:
		return fmt.Sprintf("%d, %d of them back", l.Joined, l.Back)
	}
	return itoa(l.Joined)
}

func erasedWords(n int) string {
	if n == 0 {
		return ""
	}
	return kit.Count(n, "child", "children") + " whose data were erased"
}

func progressPart(o app.TermsOverview) termsPart {
	of := func(l app.ProgressLine) app.TermClass { return l.TermClass }
	newest := o.Terms[len(o.Terms)-1].Name
	read := func(l app.ProgressLine) figure {
		text := itoa(l.Median)
		if l.Term == newest {
			text += stillOn(o)
		}
		return figure{float64(l.Median), text, l.Children > 0}
	}
	most := 1.0
	for _, l := range o.Progress {
		most = max(most, float64(l.Median))
	}
	all := sums(o, o.Progress, of)
	p := termsPart{ID: app.ProgressTable, Heading: "What is learned", Notice: progressNotice(o, all), How: "A rung counts for a child in the term in which the studio's rule of today was first met, by all marks in force, also those " +
		"from another class or from between lessons. A quarter of the children made at most the first number secure, half at most the second, three quarters at most the third. " +
		"Marks each: marks in the lessons of the class, for each child and lesson that it came to. To recheck: of what the children had ever made secure by the end of the term (or by today), what was due another look.",
		Bars: perTerm("Rungs newly secure, the child in the middle", all, of, read, most), Lines: overTerms(o.Progress, of, read, most), LinesTitle: "The child in the middle, by class"}
	tabulate(&p, "Rungs newly secure in each term", o, o.Progress, of, []string{"Children", "Newly secure", "Quarter, half, three quarters", "Most", "Marks each", "To recheck"}, func(l app.ProgressLine) []string {
		each := "attendance not noted"
		if l.Came > 0 {
			each = fmt.Sprintf("%.1f", l.TurnsEach())
		}
		return []string{itoa(l.Children), itoa(l.Secured), fmt.Sprintf("%d, %d, %d", l.Lower, l.Median, l.Upper), itoa(l.Most), each, partOf(l.Recheck, l.Secure)}
	})
	return p
}

func attendancePart(o app.TermsOverview) termsPart {
	of := func(l app.AttendanceLine) app.TermClass { return l.TermClass }
	read := func(l app.AttendanceLine) figure { return figure{l.Share(), percent(l.Share()), l.Noted > 0} }
	all := sums(o, o.Attendance, of)
	p := termsPart{ID: app.AttendanceTable, Heading: "Who comes", Notice: attendanceNotice(o, all), How: "Every child counts once for each lesson that was held while it was in the class. The share is of those for whom somebody noted whether they came; the others are left out, not taken for away.",
		Bars: perTerm("Came, of those noted", all, of, read, 1), Lines: overTerms(o.Attendance, of, read, 1), LinesTitle: "Share who come, by class"}
	tabulate(&p, "Attendance in each term", o, o.Attendance, of, []string{"Lessons held", "Called off", "Ahead", "Expected", "Noted", "Came"}, func(l app.AttendanceLine) []string {
		return []string{itoa(l.Held), itoa(l.CalledOff), itoa(l.Ahead), itoa(l.Expected), itoa(l.Noted), partOf(l.Came, l.Noted)}
	})
	return p
}
