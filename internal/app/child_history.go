package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// historyShown is how many entries of a child's history are shown; the owner's trail holds all.
const historyShown = 200

// HistoryLine is one thing that was done about a child. By is "" for somebody who is not of the staff.
type HistoryLine struct {
	At     time.Time
	By     string
	Did    string // as the trail says it, such as "corrected a mark"
	About  string // the rung or drill, "" where it is about neither
	Change string // of a correction: "clean instead of missed"
	Why    string // the reason that was given
}

// HistoryView is who did what about a child, the newest first; More says that there is more than is shown.
type HistoryView struct {
	ChildHead
	Lines []HistoryLine
	More  bool
	Day   Day
}

// HistoryOf tells who did what about a child. Of each entry only what is about marks, drills and reasons given is told.
func (a *App) HistoryOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (HistoryView, error) {
	var view HistoryView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		page, err := t.HistoryPage(ctx, child, historyShown+1)
		if err != nil {
			return err
		}
		if view.ChildHead, err = a.headFor(ctx, t, studio.SeeHistory, page.ChildFacts); err != nil {
			return err
		}
		view.More, view.Day = len(page.Entries) > historyShown, t.Day()
		for _, e := range page.Entries[:min(len(page.Entries), historyShown)] {
			view.Lines = append(view.Lines, historyLine(e))
		}
		return nil
	})
	return view, err
}

func historyLine(e studio.TrailEntry) HistoryLine {
	line := HistoryLine{At: e.At, By: e.ActorName, Did: e.Action, About: e.Name}
	line.Why, _ = e.Detail["why"].(string)
	from, _ := e.Detail["from"].(string)
	to, _ := e.Detail["to"].(string)
	if from != "" && to != "" {
		line.Change = to + " instead of " + from
	}
	return line
}
