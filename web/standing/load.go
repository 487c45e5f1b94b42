package standing

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Load shows what has loaded a child's body over every class.
func (h *Handler) Load(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.LoadOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.childPage(w, r, view.ChildHead, view.Name+": load")
	return h.kit.Render(w, r, http.StatusOK, loadPage(page, view))
}

// Measures of a chart of weeks, in units of its view box.
const (
	weekWidth   = 28
	weekBar     = 20
	chartTop    = 18
	chartHeight = 96
	chartFoot   = 20
)

// weekChart is one kind of load over the weeks as columns, with the week's cap as a line.
type weekChart struct {
	Name, Words, Share, Title string
	Cap                       int
	Columns                   []weekColumn
}

// weekColumn is a week: Done below Ahead, as heights; Label is its Monday, "" where it is left out.
type weekColumn struct {
	X                 int
	Value             int
	DoneY, DoneHeight float64
	AheadY, Ahead     float64
	Over              bool
	Label             string
}

func (c weekChart) width() int   { return len(c.Columns)*weekWidth + weekWidth }
func (c weekChart) height() int  { return chartTop + chartHeight + chartFoot }
func (c weekChart) capY() string { return number(c.y(float64(c.Cap))) }

// top is the value at the full height: the cap, or the greatest value above it.
func (c weekChart) top() float64 {
	top := max(c.Cap, 1)
	for _, col := range c.Columns {
		top = max(top, col.Value)
	}
	return float64(top)
}

func (c weekChart) y(v float64) float64 { return chartTop + chartHeight*(1-v/c.top()) }

func number(f float64) string { return strconv.FormatFloat(f, 'f', 1, 64) }

// charts are the three kinds in reading order.
func charts(v app.LoadView) []weekChart {
	of := []func(studio.Load) int{func(l studio.Load) int { return l.Back }, func(l studio.Load) int { return l.Wrists }, func(l studio.Load) int { return l.Landing }}
	var all []weekChart
	for i, k := range v.Kinds {
		c := weekChart{Name: k.Name, Words: k.Words, Share: k.Share, Cap: of[i](v.Week)}
		var values []string
		for n, w := range v.Weeks {
			col := weekColumn{X: n * weekWidth, Value: of[i](w.Load), Over: of[i](w.Load) > c.Cap}
			if (len(v.Weeks)-1-n)%4 == 0 {
				col.Label = w.Monday.Format("2 Jan")
			}
			c.Columns = append(c.Columns, col)
			values = append(values, strconv.Itoa(col.Value))
		}
		for n, w := range v.Weeks {
			col := &c.Columns[n]
			all, ahead := float64(col.Value), float64(of[i](w.Ahead))
			col.AheadY, col.DoneY = c.y(all), c.y(all-ahead)
			col.Ahead, col.DoneHeight = col.DoneY-col.AheadY, chartTop+chartHeight-col.DoneY
		}
		c.Title = fmt.Sprintf("%s by week, oldest first: %s. The cap for a week is %d.", k.Name, strings.Join(values, ", "), c.Cap)
		all = append(all, c)
	}
	return all
}

func weekName(w app.LoadWeek, this bool) string {
	if this {
		return "This week"
	}
	return w.Monday.Format("2 Jan")
}

// sum is an amount of a week, with what of it is to come and whether it is above the cap.
func sum(all, ahead, limit int) string {
	text := strconv.Itoa(all)
	if ahead > 0 {
		text += fmt.Sprintf(" (%d ahead)", ahead)
	}
	if all > limit {
		text += ", above the cap"
	}
	return text
}

func sidesOf(w app.LoadWeek) string {
	if w.Left+w.Right == 0 {
		return "–"
	}
	return fmt.Sprintf("%d / %d", w.Left, w.Right)
}

// effortOf is the session load of a week: "–" without lessons, with what is not known.
func effortOf(w app.LoadWeek) string {
	switch {
	case w.Sessions == 0:
		return "–"
	case w.NoEffort == w.Sessions:
		return "not noted"
	case w.NoEffort > 0:
		return fmt.Sprintf("%d, %d not noted", w.SessionLoad, w.NoEffort)
	}
	return strconv.Itoa(w.SessionLoad)
}

// spreadOf is monotony or strain of a week where it is defined.
func spreadOf(w app.LoadWeek, text string) string {
	if !w.Spread {
		return "undefined"
	}
	return text
}

// noted reports whether any lesson of the weeks shown has an effort.
func noted(v app.LoadView) bool {
	for _, w := range v.Weeks {
		if w.Sessions > w.NoEffort {
			return true
		}
	}
	return false
}

// homeWords says what the drills at home ask, "" when nothing.
func homeWords(l studio.Load) string {
	var parts []string
	for _, p := range []struct {
		n    int
		name string
	}{{l.Back, "back"}, {l.Wrists, "wrists"}, {l.Landing, "landing"}} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", p.name, p.n))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "The drills at home ask for " + kit.List(parts) + " a week when all of them are done. The lesson planner counts them as done; the columns do not show them."
}

func capsWords(v app.LoadView) string {
	return fmt.Sprintf("The studio's caps at %d years: back %d, wrists %d, landing %d in a lesson; %d, %d and %d in a week.", v.Age,
		v.Lesson.Back, v.Lesson.Wrists, v.Lesson.Landing, v.Week.Back, v.Week.Wrists, v.Week.Landing)
}
