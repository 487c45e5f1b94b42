package reports

import (
	"fmt"
	"strings"
	"time"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// termPart is a term with its classes.
type termPart struct {
	Name, Days string
	Classes    []classLine
}

// classLine is a class with what its report would hold.
type classLine struct {
	Name, When, URL          string
	Children, Lessons, Turns string
	Empty                    bool // nobody was in the class
}

// classReport is the preview of a report.
type classReport struct {
	Intro, URL, ClassURL string
	Children             []childLine
	Unnoted              string // what is missing in the attendance, "" when nothing
	Few                  int    // children whose report rests on few turns
	Notes                string // for how many the teacher has written
}

// childLine is a row of the preview: counts in the table, names in the parts below it.
type childLine struct {
	ID, Name, URL, PDF        string
	Lessons, Turns            string
	Secured, Working, Recheck string
	Few                       bool
	Left                      string
	Names                     []kit.Def
	Released                  string // what the family reads, "" for nothing
}

func day(t time.Time) string { return t.Format("2 January 2006") }

func termViews(terms []app.ReportTerm) []termPart {
	var parts []termPart
	for _, t := range terms {
		part := termPart{Name: t.Name, Days: day(t.From) + " to " + day(t.To) + ", " + inProgress(t.Over)}
		for _, c := range t.Classes {
			part.Classes = append(part.Classes, classLine{Name: c.Name, When: c.When, URL: "/reports/" + c.ID.String(), Empty: c.Children == 0,
				Children: fmt.Sprint(c.Children), Lessons: fmt.Sprint(c.Lessons), Turns: fmt.Sprint(c.Turns)})
		}
		parts = append(parts, part)
	}
	return parts
}

func columnViews() []kit.Def {
	var defs []kit.Def
	for _, c := range app.ReportColumns() {
		defs = append(defs, kit.Def{Term: c.Name, Text: c.Meaning})
	}
	return defs
}

func inProgress(over bool) string {
	if over {
		return "over"
	}
	return "not over yet: a report tells what was seen until today"
}

func classView(r app.ReportView) classReport {
	url := "/reports/" + r.ClassID.String()
	v := classReport{URL: url, ClassURL: "/classes/" + r.ClassID.String(),
		Intro: fmt.Sprintf("%s, %s to %s. Marks up to %s count.", r.Term, day(r.From), day(r.To), day(r.AsOf))}
	most, written := 0, 0
	for _, c := range r.Children {
		if c.Note != "" {
			written++
		}
		most = max(most, c.Unnoted)
		if c.Few {
			v.Few++
		}
		v.Children = append(v.Children, viewOf(c, url))
	}
	v.Notes = notesWords(written, len(r.Children))
	if most > 0 {
		v.Unnoted = fmt.Sprintf("For %s nobody noted whether somebody was there. The report says so, and leaves %s out of the count.", upTo(most), themIt(most))
	}
	return v
}

func notesWords(written, children int) string {
	switch {
	case written == children:
		return "Every report holds a note to the parents."
	case written == 0:
		return "No report holds a note to the parents yet. A sentence or two says what figures cannot."
	}
	return fmt.Sprintf("%d of %d reports hold a note to the parents.", written, children)
}

func upTo(lessons int) string {
	if lessons == 1 {
		return "one lesson"
	}
	return fmt.Sprintf("up to %d lessons", lessons)
}

func themIt(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

func viewOf(c app.ReportChild, url string) childLine {
	line := childLine{ID: c.ID.String(), Name: c.Name, URL: "/children/" + c.ID.String(), PDF: url + "/" + c.ID.String() + ".pdf", Lessons: lessons(c), Turns: fmt.Sprint(c.Turns),
		Secured: fmt.Sprint(len(c.Secured)), Working: fmt.Sprint(len(c.Working)), Recheck: fmt.Sprint(len(c.Recheck)), Few: c.Few}
	if c.Released != nil {
		line.Released = "marks up to " + day(c.Released.AsOf) + ", released on " + day(c.Released.ReleasedAt)
	}
	if c.LeftOn != nil {
		line.Left = "until " + day(*c.LeftOn)
	}
	for _, list := range []struct {
		heading string
		rungs   []string
	}{{"Secured", c.Secured}, {"Working on", c.Working}, {"Recheck", c.Recheck}, {"What comes next", c.Coming}} {
		line.Names = append(line.Names, kit.Def{Term: list.heading, Text: names(list.rungs)})
	}
	line.Names = append(line.Names, kit.Def{Term: "At home", Text: homeWords(c.AtHome)})
	return line
}

// names sets a dot between names: many hold commas themselves.
func names(rungs []string) string {
	if len(rungs) == 0 {
		return "None"
	}
	return strings.Join(rungs, " · ")
}

func homeWords(drills int) string {
	switch drills {
	case 0:
		return "Nothing to practise for now"
	case 1:
		return "One drill"
	}
	return fmt.Sprintf("%d drills", drills)
}

func lessons(c app.ReportChild) string {
	if c.Noted == 0 {
		return "none noted"
	}
	return fmt.Sprintf("%d\u00a0of\u00a0%d", c.Attended, c.Noted)
}
