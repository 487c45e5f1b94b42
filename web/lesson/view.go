package lesson

import (
	"fmt"
	"strings"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

func lessonURL(l studio.Lesson) string { return "/lessons/" + l.ID.String() }

// lessonView is the page of a lesson.
type lessonView struct {
	URL       string
	Title     string
	When      string
	Cancelled bool
	Here      hereView
	Blocks    []blockView
	Plan      planView
	Effort    *effortView // nil before the lesson
	Note      typedNote
}

// typedNote is the note as it is kept or was typed.
type typedNote struct {
	Text, Error string
}

// hereView is who is here.
type hereView struct {
	Action   string
	Summary  string
	Noted    bool // somebody has said
	Open     bool
	Asked    []string // ids of the children on the form
	Expected []string // ids of the staff on the form
	Children kit.ChoiceField
	Staff    kit.ChoiceField
	Cover    string
	Short    bool // of adults
	Caution  string
	Pairs    string // address of the children to keep together or apart
}

// blockView is a part of the lesson.
type blockView struct {
	Time, Name, Minutes string
	Drills              []linkView
	Focus               bool // the stations, which the plan fills
}

type linkView struct{ Name, URL string }

func newLessonView(s app.LessonSheet, open cellAt, answer refusal) lessonView {
	v := lessonView{
		URL:       lessonURL(s.Lesson),
		Title:     s.Class.Name + ", " + s.Lesson.StartsAt.Format(day),
		When:      fmt.Sprintf("%s, %d minutes", span(s.Lesson.StartsAt, s.Lesson.EndsAt()), s.Lesson.Minutes),
		Cancelled: s.Lesson.CancelledAt != nil,
		Here:      newHereView(s),
		Blocks:    newBlockViews(s),
		Plan:      newPlanView(s, open, answer.plan),
		Effort:    newEffortView(s),
		Note:      typedNote{Text: s.Lesson.Note},
	}
	if answer.note != nil {
		v.Note = *answer.note
	}
	return v
}

func newHereView(s app.LessonSheet) hereView {
	v := hereView{Action: lessonURL(s.Lesson) + "/present", Pairs: lessonURL(s.Lesson) + "/pairs", Open: s.Plan == nil, Caution: app.CoverCaution,
		Cover: s.Cover.Reason, Short: !s.Cover.Enough,
		Children: kit.ChoiceField{Name: "child", Label: "Children"}, Staff: kit.ChoiceField{Name: "staff", Label: "Staff"}}
	children, staff := 0, 0
	for _, c := range s.Children {
		id := c.ID.String()
		v.Asked = append(v.Asked, id)
		v.Noted = v.Noted || c.Noted
		v.Children.Choices = append(v.Children.Choices, kit.Choice{Value: id, Label: fmt.Sprintf("%s, %d", c.FullName, c.Age), Hint: limits(c.Limits)})
		if c.Present {
			children++
			v.Children.Values = append(v.Children.Values, id)
		}
	}
	for _, p := range s.Staff {
		id := p.ID.String()
		v.Expected = append(v.Expected, id)
		v.Staff.Choices = append(v.Staff.Choices, kit.Choice{Value: id, Label: p.Name + ", " + string(p.Duty), Hint: notes(p)})
		if p.Present {
			staff++
			v.Staff.Values = append(v.Staff.Values, id)
		}
	}
	v.Summary = fmt.Sprintf("%d of %s, %d of %s", children, kit.Count(len(s.Children), "child", "children"), staff, kit.Count(len(s.Staff), "grown-up or helper", "grown-ups and helpers"))
	return v
}

// limits are care limits as one line.
func limits(actions []string) string { return strings.Join(actions, "; ") }

func newBlockViews(s app.LessonSheet) []blockView {
	var views []blockView
	for _, b := range s.Blocks {
		v := blockView{Time: span(b.From, b.To), Name: blockNames[b.Kind], Minutes: kit.Count(b.Minutes, "minute", "minutes"), Focus: b.Kind == studio.StationsBlock}
		for _, d := range b.Named {
			v.Drills = append(v.Drills, linkView{d.Name, "/drills/" + d.Key})
		}
		views = append(views, v)
	}
	return views
}

// printView is the plan on paper.
type printView struct {
	Title    string
	Words    string
	Blocks   string
	Breaches []string
	Board    *kit.BoardView
	Cautions string
}

func newPrintView(s app.LessonSheet) printView {
	v := printView{Title: fmt.Sprintf("%s, %s, %s", s.Class.Name, s.Lesson.StartsAt.Format(day), span(s.Lesson.StartsAt, s.Lesson.EndsAt())),
		Words: "There is no plan yet.", Cautions: strings.Join(app.LessonCautions(), " ")}
	var blocks, away []string
	for _, b := range s.Blocks {
		text := fmt.Sprintf("%s %s %d min", b.From.Format(clock), blockNames[b.Kind], b.Minutes)
		var drills []string
		for _, d := range b.Named {
			drills = append(drills, d.Name)
		}
		if len(drills) > 0 {
			text += " (" + strings.Join(drills, ", ") + ")"
		}
		blocks = append(blocks, text)
	}
	v.Blocks = strings.Join(blocks, " · ")
	for _, c := range s.Children {
		if !c.Present {
			away = append(away, c.Name)
		}
	}
	for _, p := range s.Staff {
		if !p.Present {
			away = append(away, p.Name)
		}
	}
	if s.Plan != nil {
		board := newBoard(s, false)
		v.Words, v.Board, v.Breaches = quality(*s.Plan), &board, s.Plan.Breaches
	}
	if len(away) > 0 {
		v.Words += " Not here: " + kit.List(away) + "."
	}
	return v
}

// workOf is the working time of all rotations.
func workOf(p app.SheetPlan) time.Duration {
	return time.Duration(p.Rotations*p.WorkSeconds) * time.Second
}
