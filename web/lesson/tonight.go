package lesson

import (
	"fmt"
	"net/http"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Tonight is what somebody who helps has to know of the lesson: own stations, in order.
func (h *Handler) Tonight(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	stations, err := h.app.Stations(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	view := newTonightView(stations)
	page := h.kit.Page(w, r, stations.Class, kit.SectionToday)
	page.Intro = stations.StartsAt.Format(day) + ", " + span(stations.StartsAt, stations.EndsAt)
	page.Crumbs = []kit.Crumb{{Label: "Today", URL: "/"}}
	return h.kit.Render(w, r, http.StatusOK, tonightPage(page, view))
}

// tonightView is the assistant's page.
type tonightView struct {
	Shared   bool
	Blocks   []blockView
	Turns    []turnView
	Cautions []string
}

// turnView is one rotation of the reader's.
type turnView struct {
	ID       string
	Heading  string
	Place    string
	Duty     string
	With     string
	Children []turnChild
	Work     []workView
}

type turnChild struct {
	Name, Does, Limit, Stop string
	Cues                    []string
}

// workView is what to know of an activity.
type workView struct {
	Name    string
	Figure  []string
	Shape   []string // from where, to where
	Steps   bool     // Look is the steps of a drill
	Look    []string
	Cues    []string
	Spot    string
	Caution string
}

func newTonightView(s app.Stations) tonightView {
	v := tonightView{Shared: s.Shared, Blocks: newBlockViews(app.LessonSheet{Blocks: s.Blocks}), Cautions: app.LessonCautions()}
	for _, t := range s.Turns {
		turn := turnView{ID: fmt.Sprintf("rotation-%d-%d", t.Rotation, t.Group), Heading: fmt.Sprintf("Rotation %d, %s", t.Rotation, span(t.From, t.To)),
			Place: fmt.Sprintf("%s, group %d", t.Ladder, t.Group), Duty: dutyOf(t), With: kit.List(t.With)}
		for _, c := range t.Children {
			turn.Children = append(turn.Children, turnChild{c.Name, c.Activity + ", " + kit.Count(c.Turns, "turn", "turns"), limits(c.Limits), stopWords(c), c.Cues})
		}
		for _, w := range t.Work {
			turn.Work = append(turn.Work, newWorkView(w))
		}
		v.Turns = append(v.Turns, turn)
	}
	return v
}

// stopWords says that a child's plan asks for what a limit forbids by now.
func stopWords(c app.StationChild) string {
	if c.Stop == "" {
		return ""
	}
	return "Not this tonight: " + c.Stop + ". Ask the teacher what " + c.Name + " does instead."
}

func dutyOf(t app.StationTurn) string {
	switch {
	case t.Runs && t.Spots:
		return "You run this station and spot."
	case t.Runs:
		return "You run this station."
	case t.Spots:
		return "You spot here."
	}
	return ""
}

func newWorkView(w app.StationWork) workView {
	v := workView{Name: w.Name, Figure: w.Figure, Steps: w.Drill, Look: w.Look, Cues: w.Cues, Caution: w.Caution, Spot: kit.SpotWords(w.Spotting)}
	if w.Start != "" && w.Finish != "" {
		v.Shape = []string{"From: " + w.Start, "To: " + w.Finish}
	}
	if w.TwoSided {
		v.Look = append(v.Look[:len(v.Look):len(v.Look)], "Both sides, in turn.")
	}
	return v
}
