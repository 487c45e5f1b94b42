package app

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/home"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// homeEquipment is what a home is taken to have.
func homeEquipment() []string { return []string{"wall", "line"} }

// HomeCautions belong on every page about practice at home.
func HomeCautions(b *words.Book) []string {
	return []string{b.Say("caution.space"), b.Say("caution.never"), emergency(b)}
}

func emergency(b *words.Book) string { return b.Say("caution.emergency") }

// GivenLine is a drill that a child was given for home.
type GivenLine struct {
	ID          uuid.UUID
	Drill       string
	Figure      []string // names of poses
	Dose        string
	From, Until time.Time
	Why         string
	Active      bool   // out now or later
	Days        int    // on which the family noted it
	OnHold      string // the care limit that forbids it for now
	By          string // who sent it, "" where that is not known any more
	TakenBack   *time.Time
	Excepted    bool // it is out only by an exception
}

// HomeSuggestion is a drill that may go home, with why and how much.
type HomeSuggestion struct {
	Key, Name, Reason, Dose string
	Figure                  []string // names of poses
	Adult                   bool
	Excepted                bool // only by the child's exception
}

// HomeRefusal is a drill that may not, with the rule against it.
type HomeRefusal struct {
	Name, Rule, Reason string
}

// HomeworkView is what a child has at home and what may go there.
type HomeworkView struct {
	ChildHead
	Given     []GivenLine
	Suggested []HomeSuggestion
	Refused   []HomeRefusal
	Chosen    *studio.Drill // the drill that is about to be sent, nil without
	Today     time.Time
	ExceptionsView
}

// NewHome is a drill to send home.
type NewHome struct {
	Child       uuid.UUID
	Drill       string
	Dose        studio.Dose
	From, Until time.Time
	Why         string
}

// DoseWords is a dose to read, done on so many days a week: "2 sets of 8, held 20 seconds each, on 3 days a week".
func DoseWords(d studio.Dose, twoSided bool, days int) string { return DoseIn(nil, d, twoSided, days) }

// DoseIn is DoseWords in the language of a Book.
func DoseIn(b *words.Book, d studio.Dose, twoSided bool, days int) string {
	parts := []string{b.Count("dose.sets", d.Sets, "Repeats", d.Repeats)}
	if d.Repeats == 1 {
		parts[0] = b.Count("dose.times", d.Sets)
	}
	if d.HoldSeconds > 0 {
		parts = append(parts, b.Count("dose.held", d.HoldSeconds))
	}
	if twoSided {
		parts = append(parts, b.Say("dose.each-side"))
	}
	return strings.Join(append(parts, b.Count("dose.days", days)), ", ")
}

// HomeworkOf shows what a child has at home and suggests more; drill is the key of one that is about to be sent, or "".
func (a *App) HomeworkOf(ctx context.Context, actor studio.Actor, child uuid.UUID, drill string) (HomeworkView, error) {
	var view HomeworkView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AssignHome, Target{Child: child}); err != nil {
			return err
		}
		h, err := readHomework(ctx, t, child)
		if err != nil {
			return err
		}
		view = h.view()
		if drill != "" {
			d, ok := h.drills[drill]
			if !ok {
				return studio.Missing()
			}
			view.Chosen = &d
		}
		return nil
	})
	return view, err
}

// homework is one child's home practice with all that decides what may go there.
type homework struct {
	*ladders
	head       ChildHead
	given      []studio.HomeAssignment
	practised  map[uuid.UUID]int // days, by assignment
	limits     []studio.CareLimit
	exceptions []studio.HomeException
	adults     bool         // the family agreed to drills that need an adult in the room
	entries    []load.Entry // this week's turns and those to come
	child      home.Child
	today      time.Time
}

// readHomework reads one child's; studio.Missing when there is none to be seen.
func readHomework(ctx context.Context, t *postgres.Tx, child uuid.UUID) (*homework, error) {
	all, err := readHomeworks(ctx, t, []uuid.UUID{child})
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, studio.Missing()
	}
	return all[0], nil
}

// readHomeworks reads those of children whom the actor may see, by name, in one round trip.
func readHomeworks(ctx context.Context, t *postgres.Tx, children []uuid.UUID) ([]*homework, error) {
	page, err := t.HomeOf(ctx, children, mondayOf(t.Today))
	if err != nil {
		return nil, fmt.Errorf("read what is at home: %w", err)
	}
	library, err := laddersOf(page.Library, t)
	if err != nil {
		return nil, err
	}
	boards, err := library.boardsOf(idsOf(page.Pupils), page.Marks, t)
	if err != nil {
		return nil, err
	}
	var all []*homework
	for _, p := range page.Pupils {
		h := &homework{ladders: library, today: t.Today, head: headOf(p, page.Limits, t.Today), practised: page.Practised, adults: page.Adults[p.ID]}
		marks := of(page.Marks, func(m postgres.SeenMark) bool { return m.ChildID == p.ID })
		h.given = of(page.Given, func(g studio.HomeAssignment) bool { return g.ChildID == p.ID })
		h.exceptions = of(page.Exceptions, func(x studio.HomeException) bool { return x.ChildID == p.ID })
		h.limits = openOf(of(page.Limits, func(l postgres.KeptLimit) bool { return l.ChildID == p.ID }), t.Today)
		for _, x := range of(page.Turns, func(x postgres.LoadTurns) bool { return x.ChildID == p.ID }) {
			h.entries = append(h.entries, entryOf(x, load.NoSide))
		}
		h.child = home.Child{Limits: homeLimits(h.limits), Equipment: homeEquipment(), Seen: h.seen(marks), Goals: goals(h.stands(boards[p.ID])), Excepted: h.excepted()}
		h.child.Has, h.child.Left = h.out(h.entries)
		all = append(all, h)
	}
	return all, nil
}

// of are the elements that belong to one.
func of[T any](all []T, belongs func(T) bool) []T {
	var some []T
	for _, x := range all {
		if belongs(x) {
			some = append(some, x)
		}
	}
	return some
}

// openLimits are a child's limits that hold today or begin later.
func openLimits(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]studio.CareLimit, error) {
	kept, err := t.CareLimitsOf(ctx, []uuid.UUID{child})
	return openOf(kept, t.Today), err
}

func openOf(kept []postgres.KeptLimit, today time.Time) []studio.CareLimit {
	var limits []studio.CareLimit
	for _, l := range kept {
		if l.ClearedAt == nil && (l.UntilOn == nil || !l.UntilOn.Before(today)) {
			limits = append(limits, l.CareLimit)
		}
	}
	return limits
}

func homeLimits(limits []studio.CareLimit) home.Limits {
	var all home.Limits
	for _, l := range limits {
		all.AvoidBack = all.AvoidBack || l.AvoidBack
		all.AvoidWrists = all.AvoidWrists || l.AvoidWrists
		all.AvoidLanding = all.AvoidLanding || l.AvoidLanding
		all.AvoidInverted = all.AvoidInverted || l.AvoidInverted
	}
	return all
}

// seen are the faults seen lately. Each goes by its own key: a drill answers it when it answers any of its causes.
func (h *homework) seen(marks []postgres.SeenMark) []home.Seen {
	times := faultTimes(marks, h.today)
	var seen []home.Seen
	for _, ladder := range h.Ladders {
		for _, r := range ladder.Rungs {
			for _, f := range r.Faults {
				if n := times[faultKey(r.Key, f.Key)]; n > 0 {
					seen = append(seen, home.Seen{Cause: faultKey(r.Key, f.Key), Name: "“" + f.Name + "” on " + r.Name, Times: n})
				}
			}
		}
	}
	return seen
}

// goals are the rungs being worked at, and the next one of each ladder that was begun.
func goals(stands []LadderStand) []home.Goal {
	var all []home.Goal
	for _, l := range stands {
		for _, r := range l.Rungs {
			if r.State == "working" || r.Next && l.Begun() {
				all = append(all, home.Goal{Rung: r.Key, Name: r.Name})
			}
		}
	}
	return all
}

// out are the drills at home now or later, and what their doses and this week's lessons leave of the week's cap.
func (h *homework) out(entries []load.Entry) (has []string, left home.Load) {
	week := load.WeekOf(entries, h.today).Load
	for _, g := range h.given {
		if !h.active(g) {
			continue
		}
		has = append(has, g.DrillKey)
		d := h.homeDrill(h.drills[g.DrillKey], nil)
		d.Dose = h.homeDose(g.Dose)
		week = week.Plus(load.Load(d.WeekLoad()))
	}
	return has, home.Load(load.Remaining(capsAt(h.settings, h.head.Age).Week, week))
}

func (h *homework) active(g studio.HomeAssignment) bool {
	return g.WithdrawnAt == nil && !g.UntilOn.Before(h.today)
}

func (h *homework) homeDose(d studio.Dose) home.Dose {
	return home.Dose{Sets: d.Sets, Repeats: d.Repeats, HoldSeconds: d.HoldSeconds, DaysAWeek: h.settings.HomeDays}
}

// homeDrill puts a drill into the engine's words; answers are the faults that it answers.
func (h *homework) homeDrill(d studio.Drill, answers []string) home.Drill {
	drill := home.Drill{ID: d.Key, Name: d.Name, HomeSafe: d.Home.Safe, HomeReason: d.Home.Reason, Adult: d.Home.Adult, Inverted: d.Inverted,
		BackBend: d.BackBend, Flight: d.Flight, Partner: d.Partner, TwoSided: d.TwoSided, Spotters: d.Spotting.People, Load: home.Load(d.Load),
		Answers: answers, Prepares: d.Prepares, Dose: h.homeDose(d.Dose)}
	for _, e := range d.Equipment {
		drill.Equipment = append(drill.Equipment, e.Key)
	}
	return drill
}

// answers lists, by drill, the faults of which the drill answers a cause.
func (l *ladders) answers() map[string][]string {
	all := map[string][]string{}
	for _, r := range l.rungs {
		for _, f := range r.Faults {
			for _, c := range f.Causes {
				for _, d := range c.Drills {
					if key := faultKey(r.Key, f.Key); !slices.Contains(all[d], key) {
						all[d] = append(all[d], key)
					}
				}
			}
		}
	}
	return all
}

func (h *homework) view() HomeworkView {
	view := HomeworkView{ChildHead: h.head, Today: h.today, Given: h.lines(), ExceptionsView: h.exceptionsView()}
	choice := home.Suggest(h.child, h.homeDrills())
	for _, s := range choice.Suggested {
		d := h.drills[s.Drill]
		if s.Adult && !h.adults {
			view.Refused = append(view.Refused, HomeRefusal{Name: d.Name, Rule: "consent", Reason: noAdult})
			continue
		}
		view.Suggested = append(view.Suggested, HomeSuggestion{Key: d.Key, Name: d.Name, Figure: d.Figure, Reason: s.Reason, Dose: DoseWords(d.Dose, d.TwoSided, h.settings.HomeDays), Adult: s.Adult, Excepted: s.Excepted})
	}
	for _, r := range choice.Refused {
		if r.Rule != home.NoUse && r.Rule != home.AlreadyHas {
			view.Refused = append(view.Refused, HomeRefusal{Name: h.drills[r.Drill].Name, Rule: string(r.Rule), Reason: r.Reason})
		}
	}
	return view
}

// lines are all drills that the child was given, the latest first.
func (h *homework) lines() []GivenLine {
	var lines []GivenLine
	for _, g := range h.given {
		d := h.drills[g.DrillKey]
		lines = append(lines, GivenLine{ID: g.ID, Drill: d.Name, Figure: d.Figure, Dose: DoseWords(g.Dose, d.TwoSided, h.settings.HomeDays), From: g.FromOn, Until: g.UntilOn,
			Why: g.Why, Active: h.active(g), Days: h.practised[g.ID], OnHold: onHold(d, h.limits, h.today), By: g.Signed, TakenBack: g.WithdrawnAt, Excepted: g.Exception != nil})
	}
	return lines
}

// homeDrills puts the whole library into the engine's words.
func (h *homework) homeDrills() []home.Drill {
	answers := h.answers()
	var drills []home.Drill
	for _, d := range h.Drills {
		drills = append(drills, h.homeDrill(d, answers[d.Key]))
	}
	return drills
}

// onHold is the action of the first limit in force that forbids a drill, or "".
func onHold(d studio.Drill, limits []studio.CareLimit, today time.Time) string {
	if l := holdOn(d, limits, today); l != nil {
		return l.Action
	}
	return ""
}

// holdOn is the first limit in force that forbids a drill, or nil.
func holdOn(d studio.Drill, limits []studio.CareLimit, today time.Time) *studio.CareLimit {
	for i, l := range limits {
		if l.HoldsOn(today) && l.Forbids(d.Load, d.Inverted) {
			return &limits[i]
		}
	}
	return nil
}
