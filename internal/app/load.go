package app

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// LoadWeek is what a week asked of a child, every class together. Ahead is the part of Load that is planned and still to come. Sessions
// are the lessons that have ended and from which the child was not noted away; SessionLoad sums effort times minutes of those whose
// effort was noted. Monotony and Strain hold where Spread does.
type LoadWeek struct {
	Monday           time.Time
	Load, Ahead      studio.Load
	Turns            int
	Left, Right      int
	Sessions         int
	NoEffort         int
	SessionLoad      int
	Spread           bool
	Monotony, Strain float64
}

// LoadKind is one kind of load, in words: this week against the weeks before, and its part of the load of the weeks shown.
type LoadKind struct {
	Name  string // "Back"
	Words string
	Share string // "" while there is no load at all
}

// LoadView is a child's body load over every class.
type LoadView struct {
	ChildHead
	Weeks    []LoadWeek // oldest first; the last is this week
	Kinds    []LoadKind
	Lesson   studio.Load // the caps at the child's age
	Week     studio.Load
	Home     studio.Load // what the drills at home ask this week when all are done
	Over     []string    // kinds above the week's cap this week, home left out
	Sides    string
	Weaker   []string // rungs with a weaker side, a sentence each
	Effort   string   // this week's session load in words
	Missing  []string // what was not noted
	HasTurns bool
}

// LoadCounting says how load is counted, for every page that shows it.
func LoadCounting() []string {
	return []string{
		"Each turn at a station counts the load of its rung or drill: 0, nothing, to 3, much, for back, wrists and landing. ",
		"A drill of warm-up, conditioning or cool-down counts for everybody who is there: the drills of a part share its time equally, and a child works in half of it, one turn at least.",
		"In a lesson a rung counts as many turns as were planned or as were marked, whichever is more. A lesson from which the child was noted away counts only what was marked.",
		"Of a rung with two sides the marked turns count on their side; what was planned beyond them levels the sides out, and the odd turn goes to the weaker side.",
	}
}

const (
	loadWeeks  = 12 // that the page shows
	meanWeeks  = 4  // before them, for the means
	sidesWeeks = 4  // of which the balance of sides is given
)

// LoadOf shows what has loaded a child's body in the last weeks.
func (a *App) LoadOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (LoadView, error) {
	var view LoadView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeChild, Target{Child: child}); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		b, err := readBody(ctx, t, head)
		if err != nil {
			return err
		}
		view, err = b.view()
		return err
	})
	return view, err
}

// body is all that a child's load is worked out from.
type body struct {
	head     ChildHead
	caps     load.Caps
	today    time.Time
	since    time.Time
	entries  []load.Entry
	sessions []postgres.LoadSession
	home     load.Load
	weaker   map[string]load.Side // by rung
	library  *ladders
}

func readBody(ctx context.Context, t *postgres.Tx, head ChildHead) (*body, error) {
	b := &body{head: head, caps: capsAt(t.Settings, head.Age), today: t.Today, since: mondayOf(t.Today).AddDate(0, 0, -7*(loadWeeks-1))}
	children := []uuid.UUID{head.ID}
	var err error
	if b.library, err = readLadders(ctx, t); err != nil {
		return nil, err
	}
	boards, err := b.library.boards(ctx, t, children)
	if err != nil {
		return nil, err
	}
	b.weaker = map[string]load.Side{}
	for key, rung := range b.library.rungs {
		if s, ok := boards[head.ID].On(key); ok && rung.TwoSided {
			b.weaker[key] = load.Side(s.Weaker)
		}
	}
	var turns []postgres.LoadTurns
	var doses []postgres.HomeDose
	err = t.AsProgram(ctx, func() error {
		if turns, b.sessions, err = t.LoadOf(ctx, children, b.since.AddDate(0, 0, -7*meanWeeks)); err != nil {
			return err
		}
		doses, err = t.HomeDosesOf(ctx, children, mondayOf(t.Today))
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read the load: %w", err)
	}
	b.home = homeLoad(doses, t.Settings.HomeDays)[head.ID]
	for _, x := range turns {
		b.entries = append(b.entries, entryOf(x, b.weaker[x.RungKey]))
	}
	return b, nil
}

func entryOf(x postgres.LoadTurns, weaker load.Side) load.Entry {
	e := load.Entry{Day: x.Day, Load: load.Load{Back: x.Back, Wrists: x.Wrists, Landing: x.Landing}, Turns: load.Counted(x.Planned, x.Marked), Ahead: x.Ahead}
	if x.TwoSided && x.RungKey != "" {
		e.Sides = load.CountedSides(x.Planned, load.Balance{Left: x.Left, Right: x.Right}, weaker)
		e.Turns = max(e.Turns, e.Sides.Left+e.Sides.Right)
	}
	return e
}

// capsAt are the studio's caps for a child of an age in years.
func capsAt(s studio.Settings, age int) load.Caps {
	c := s.CapsAt(age)
	return load.Caps{Lesson: load.Load(c.Lesson), Week: load.Load(c.Week)}
}

// homeLoad sums what drills at home ask in a week when all are done on so many days.
func homeLoad(doses []postgres.HomeDose, days int) map[uuid.UUID]load.Load {
	sums := map[uuid.UUID]load.Load{}
	for _, d := range doses {
		turns := d.Sets * d.Repeats * days
		if d.TwoSided {
			turns *= 2
		}
		sums[d.ChildID] = sums[d.ChildID].Plus(load.Load{Back: d.Back, Wrists: d.Wrists, Landing: d.Landing}.Times(turns))
	}
	return sums
}

func (b *body) view() (LoadView, error) {
	v := LoadView{ChildHead: b.head, Lesson: studio.Load(b.caps.Lesson), Week: studio.Load(b.caps.Week), Home: studio.Load(b.home)}
	var all load.Week
	for _, w := range load.WeeksTo(b.entries, b.today, loadWeeks) {
		effort, err := load.EffortWeekOf(b.attended(), w.Monday)
		if err != nil {
			return v, err
		}
		v.Weeks = append(v.Weeks, LoadWeek{Monday: w.Monday, Load: studio.Load(w.Load), Ahead: studio.Load(w.Ahead), Turns: w.Turns, Left: w.Sides.Left,
			Right: w.Sides.Right, Sessions: effort.Sessions, NoEffort: effort.Missing, SessionLoad: int(effort.Load), Spread: effort.Defined,
			Monotony: effort.Monotony, Strain: effort.Strain})
		all.Load, all.Turns = all.Load.Plus(w.Load), all.Turns+w.Turns
		v.Effort = effortWords(effort)
	}
	v.HasTurns = all.Turns > 0
	for _, k := range load.Kinds() {
		kind := LoadKind{Name: strings.ToUpper(string(k[:1])) + string(k[1:]), Words: load.AgainstOf(b.entries, b.today, k).Words}
		if all.Load.Sum() > 0 {
			kind.Share = fmt.Sprintf("%.0f%% of all load", 100*all.Share(k))
		}
		v.Kinds = append(v.Kinds, kind)
	}
	for _, k := range load.WeekOf(b.entries, b.today).Load.Over(b.caps.Week) {
		v.Over = append(v.Over, string(k))
	}
	v.Sides, v.Weaker = b.balance().Words(), b.weakerWords()
	v.Missing = b.missing()
	return v, nil
}

// attended are the lessons that count for session load: those from which the child was not noted away.
func (b *body) attended() []load.Session {
	var all []load.Session
	for _, s := range b.sessions {
		if s.Present != nil && !*s.Present {
			continue
		}
		session := load.Session{Day: s.Day, Minutes: s.Minutes}
		if s.Effort != nil {
			session.Effort, session.Known = *s.Effort, true
		}
		all = append(all, session)
	}
	return all
}

func effortWords(w load.EffortWeek) string {
	switch {
	case w.Sessions == 0:
		return "No lesson has ended this week."
	case w.Missing == w.Sessions:
		return fmt.Sprintf("Nobody noted how hard this week's %s.", lessonsWere(w.Sessions))
	case w.Missing > 0:
		return fmt.Sprintf("Session load %.0f this week without %s whose effort nobody noted; monotony and strain need them all.", w.Load, countOf(w.Missing, "lesson"))
	case !w.Defined:
		return fmt.Sprintf("Session load %.0f this week. Monotony and strain are undefined: every day is the same.", w.Load)
	}
	return fmt.Sprintf("Session load %.0f this week; monotony %.2f, strain %.0f, with the days without a lesson as rest.", w.Load, w.Monotony, w.Strain)
}

func lessonsWere(n int) string {
	if n == 1 {
		return "lesson was"
	}
	return fmt.Sprintf("%d lessons were", n)
}

// balance counts the turns of rungs with two sides in the last weeks, this one with what is planned.
func (b *body) balance() load.Balance {
	var sum load.Balance
	for _, w := range load.WeeksTo(b.entries, b.today, sidesWeeks) {
		sum.Left, sum.Right = sum.Left+w.Sides.Left, sum.Right+w.Sides.Right
	}
	return sum
}

// weakerWords names the weaker side of each rung that has one, in reading order.
func (b *body) weakerWords() []string {
	var words []string
	for _, l := range b.library.Ladders {
		for _, r := range l.Rungs {
			if side := b.weaker[r.Key]; side != load.NoSide {
				words = append(words, fmt.Sprintf("%s: the %s side is weaker; the odd turn is planned for it.", r.Name, side))
			}
		}
	}
	return words
}

// missing says what nobody noted of the lessons shown, since it changes the sums.
func (b *body) missing() []string {
	var unasked, unknown, unplanned, effortless int
	for _, s := range b.sessions {
		if s.Day.Before(b.since) || s.Present != nil && !*s.Present {
			continue
		}
		if s.Present == nil {
			unasked++
		}
		switch {
		case !s.Planned && !s.Marked:
			unknown++
		case !s.Planned:
			unplanned++
		}
		if s.Effort == nil {
			effortless++
		}
	}
	var words []string
	add := func(n int, rest string) {
		if n > 0 {
			words = append(words, countOf(n, "lesson")+" "+rest)
		}
	}
	add(unasked, "without a note of who was there: the child counts as there.")
	add(unknown, "without a plan and without a mark: no turns at stations are counted.")
	add(unplanned, "without a plan: only marked turns are counted at stations, so those weeks look lighter than they were.")
	add(effortless, "without a note of how hard it was: no session load is counted.")
	return words
}
