package app

import (
	"cmp"
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// The ladders that the page of a class may show.
const (
	TermLadders    = "term"    // those that the term leans on; all where it leans on none
	TonightLadders = "tonight" // those in the plan of the next lesson that is not over
	AllLadders     = "all"
)

// The orders of the children of a class, beside the key of a ladder: furthest on that ladder first.
const (
	ByName      = "name"
	ByReadiness = "ready" // most rungs ready first; see Readiness
)

// ClassAsk is how the page of a class is asked for. What cannot be had takes the first choice.
type ClassAsk struct{ Show, Sort string }

// ClassView is a class with its children and lessons.
type ClassView struct {
	ClassLine
	ClassAsk                   // as it was answered
	Shows    []string          // the choices of ladders that there are
	Rule     studio.SecureRule // by which Close is judged
	Ladders  []LadderSpread
	Children []ClassChild
	Next     []LessonLine // soonest first
	Past     []LessonLine // latest first
}

// Readiness counts a child's rungs of the ladders shown that the teacher can take up now: Open are not begun and all that they need
// is secure; Close are being worked at and lack at most one clean mark of the studio's rule, on the weaker side.
type Readiness struct{ Open, Close int }

// Sum is the number of rungs that are ready.
func (r Readiness) Sum() int { return r.Open + r.Close }

// ClassChild is a row of a class: where one child is on each ladder shown.
type ClassChild struct {
	ID      uuid.UUID
	Name    string
	Age     int
	Limits  []string // what not to do for now
	Cells   []GridCell
	Ready   Readiness
	Done    int // rungs secure or to recheck, over all ladders
	Recheck int // of those, to recheck
}

// GridCell is where a child is on a ladder. States are those of its rungs, bottom first; Next is the place of the rung to take next,
// -1 when every rung is done or waits.
type GridCell struct {
	States []string
	Next   int
	Done   int
}

// LadderSpread is a ladder with how the children of a class stand on it: for each rung the children whose next rung it is.
type LadderSpread struct {
	Key, Name string
	Names     []string     // of its rungs, bottom first
	Rungs     []SpreadRung // without the rungs that are nobody's next
}

// SpreadRung counts children at a rung; Names are theirs.
type SpreadRung struct {
	Name  string
	Names []string
}

// ClassOf shows a class: its children on some ladders, in some order.
func (a *App) ClassOf(ctx context.Context, actor studio.Actor, class uuid.UUID, ask ClassAsk) (ClassView, error) {
	var view ClassView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeClass, Target{Class: class}); err != nil {
			return err
		}
		page, err := t.ClassPage(ctx, class)
		if err != nil {
			return err
		}
		view, err = classView(page, ask, t)
		return err
	})
	return view, err
}

func classView(page postgres.ClassPage, ask ClassAsk, t *postgres.Tx) (ClassView, error) {
	view := ClassView{ClassLine: classLine(page.Card, t.Today), ClassAsk: ask, Rule: t.Settings.Secure}
	view.ClassLine.Children = len(page.Pupils)
	view.Next, view.Past = splitLessons(page.Lessons, t.Now)
	shown := view.choose(page)
	library, err := laddersOf(studio.Library{Ladders: page.Ladders}, t)
	if err != nil {
		return view, err
	}
	boards, err := library.boardsOf(idsOf(page.Pupils), page.Marks, t)
	if err != nil {
		return view, err
	}
	limits := holding(page.Limits, t.Today)
	for _, p := range page.Pupils {
		child := ClassChild{ID: p.ID, Name: p.FullName(), Age: studio.AgeOn(p.BirthDate, t.Today), Limits: mindful(limits[p.ID], t.Today)}
		library.fill(&child, boards[p.ID], shown)
		view.Children = append(view.Children, child)
	}
	view.Ladders = spread(shown, view.Children)
	view.order()
	return view, nil
}

// choose answers which ladders are shown, and what else could be.
func (v *ClassView) choose(page postgres.ClassPage) []studio.Ladder {
	keys := map[string][]string{TermLadders: page.Card.Focus, TonightLadders: page.Tonight}
	for _, show := range []string{TermLadders, TonightLadders} {
		if len(keys[show]) > 0 {
			v.Shows = append(v.Shows, show)
		}
	}
	v.Shows = append(v.Shows, AllLadders)
	if !slices.Contains(v.Shows, v.Show) {
		v.Show = v.Shows[0]
		if len(page.Card.Focus) == 0 {
			v.Show = AllLadders
		}
	}
	if v.Show == AllLadders {
		return page.Ladders
	}
	return slices.DeleteFunc(slices.Clone(page.Ladders), func(l studio.Ladder) bool { return !slices.Contains(keys[v.Show], l.Key) })
}

// fill stands a child on the ladders shown, and counts over all.
func (l *ladders) fill(child *ClassChild, board standing.Board, shown []studio.Ladder) {
	for _, s := range board.Rungs {
		if s.Met() {
			child.Done++
		}
		if s.State == standing.Recheck {
			child.Recheck++
		}
	}
	for _, ladder := range shown {
		cell := GridCell{Next: -1, States: make([]string, len(ladder.Rungs))}
		for i, r := range ladder.Rungs {
			s, _ := board.On(r.Key) // the graph is made of these rungs
			cell.States[i] = string(s.State)
			if s.Met() {
				cell.Done++
			}
			if cell.Next < 0 && mayBeTaken(s) {
				cell.Next = i
			}
			child.Ready.add(s, l.settings.Secure)
		}
		child.Cells = append(child.Cells, cell)
	}
}

// mayBeTaken reports whether a rung is one to take next: neither waiting nor secure.
func mayBeTaken(s standing.Standing) bool {
	return s.State == standing.Open || s.State == standing.Working || s.State == standing.Recheck
}

func (r *Readiness) add(s standing.Standing, rule studio.SecureRule) {
	switch s.State {
	case standing.Open:
		r.Open++
	case standing.Working:
		if !slices.ContainsFunc(s.Sides, func(side standing.Tally) bool { return side.Clean < rule.Clean-1 }) {
			r.Close++
		}
	}
}

// order sorts the children, who come by name.
func (v *ClassView) order() {
	at := slices.IndexFunc(v.Ladders, func(l LadderSpread) bool { return l.Key == v.Sort })
	switch {
	case v.Sort == ByReadiness:
		slices.SortStableFunc(v.Children, func(x, y ClassChild) int {
			return cmp.Or(cmp.Compare(y.Ready.Sum(), x.Ready.Sum()), cmp.Compare(y.Ready.Close, x.Ready.Close))
		})
	case at >= 0:
		slices.SortStableFunc(v.Children, func(x, y ClassChild) int {
			return cmp.Or(cmp.Compare(y.Cells[at].Done, x.Cells[at].Done), cmp.Compare(y.Cells[at].Next, x.Cells[at].Next))
		})
	default:
		v.Sort = ByName
	}
}

// spread turns the children's ladders round: for each ladder, who is at which rung.
func spread(shown []studio.Ladder, children []ClassChild) []LadderSpread {
	var all []LadderSpread
	for i, ladder := range shown {
		s := LadderSpread{Key: ladder.Key, Name: ladder.Name}
		for j, r := range ladder.Rungs {
			s.Names = append(s.Names, r.Name)
			s.add(r.Name, children, func(c ClassChild) bool { return c.Cells[i].Next == j })
		}
		s.add("Every rung done", children, func(c ClassChild) bool { return c.Cells[i].Next < 0 && c.Cells[i].Done == len(ladder.Rungs) })
		s.add("Waiting for other ladders", children, func(c ClassChild) bool { return c.Cells[i].Next < 0 && c.Cells[i].Done < len(ladder.Rungs) })
		all = append(all, s)
	}
	return all
}

func (s *LadderSpread) add(name string, children []ClassChild, at func(ClassChild) bool) {
	rung := SpreadRung{Name: name}
	for _, c := range children {
		if at(c) {
			rung.Names = append(rung.Names, c.Name)
		}
	}
	if len(rung.Names) > 0 {
		s.Rungs = append(s.Rungs, rung)
	}
}
