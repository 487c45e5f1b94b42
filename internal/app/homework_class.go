package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/home"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ClassHomeView is what may go home with the children of a class: drills ranked by what they answer for all of them, and for a chosen one
// each child. Lesson is uuid.Nil, or the lesson whose children alone are meant.
type ClassHomeView struct {
	ID       uuid.UUID
	Class    string
	Lesson   uuid.UUID
	Drills   []ClassDrill
	Chosen   *studio.Drill // nil while none is chosen
	Children []ClassHomeChild
	Today    time.Time
}

// ClassDrill is a drill that suits at least one child of a class.
type ClassDrill struct {
	Key, Name, Dose string
	Figure          []string // names of poses
	Adult           bool
	Suits           []string // the children
	Others          []string // those of the class whom it does not suit now
	Answers         []string // what it answers, each with how many children it does so for
}

// ClassHomeChild is a child with whom a drill may go home, or not. Useful is that it answers something now.
type ClassHomeChild struct {
	ID          uuid.UUID
	Name        string
	May, Useful bool
	Reason      string
}

// ClassSend is a drill for children of a class. Lesson is as in ClassHomeView.
type ClassSend struct {
	Class, Lesson uuid.UUID
	Drill         string
	Dose          studio.Dose
	From, Until   time.Time
	Why           string
	Children      []uuid.UUID
}

// ClassSent says with whom drills went home, by name, and with whom not.
type ClassSent struct {
	Sent []string
	Not  []NotSent
}

// NotSent is a child with whom a drill did not go home, and why.
type NotSent struct{ Name, Reason string }

// Words is the outcome in a sentence or two.
func (s ClassSent) Words() string {
	var words []string
	if len(s.Sent) > 0 {
		words = append(words, "Sent home with "+strings.Join(s.Sent, ", ")+".")
	}
	for _, n := range s.Not {
		words = append(words, "Not with "+n.Name+": "+n.Reason)
	}
	return strings.Join(words, " ")
}

// err is the refusal of all, where not one drill was sent.
func (s ClassSent) err(field string) error {
	if len(s.Sent) > 0 {
		return nil
	}
	return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: field, Problem: s.Words()}})
}

// add sends one drill where no rule forbids it, and keeps with whom, by that name.
func (s *ClassSent) add(ctx context.Context, t *postgres.Tx, h *homework, name string, n NewHome) error {
	err := h.send(ctx, t, n)
	var refused *studio.Error
	if errors.As(err, &refused) && refused.Problem("drill") != "" {
		s.Not = append(s.Not, NotSent{name, refused.Problem("drill")})
		return nil
	}
	if err == nil {
		s.Sent = append(s.Sent, name)
	}
	return err
}

// HomeOfClass ranks the drills that may go home with a class, and judges the one with the key drill for each child; "" for none.
func (a *App) HomeOfClass(ctx context.Context, actor studio.Actor, class, lesson uuid.UUID, drill string) (ClassHomeView, error) {
	view := ClassHomeView{ID: class, Lesson: lesson}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		all, name, err := a.classHomeworks(ctx, t, class, lesson)
		if err != nil {
			return err
		}
		view.Class, view.Today = name, t.Today
		if drill == "" || len(all) == 0 {
			view.Drills = classDrills(all)
			return nil
		}
		d, ok := all[0].drills[drill]
		if !ok {
			return studio.Missing()
		}
		view.Chosen = &d
		for _, h := range all {
			view.Children = append(view.Children, h.classChild(d))
		}
		return nil
	})
	return view, err
}

// classHomeworks are those of the children of a class today, or of those who were not noted away from one of its lessons. An exception is
// for one child, on the child's own page: here none counts.
func (a *App) classHomeworks(ctx context.Context, t *postgres.Tx, class, lesson uuid.UUID) ([]*homework, string, error) {
	if err := a.may(ctx, t, studio.AssignHome, Target{Class: class}); err != nil {
		return nil, "", err
	}
	record, err := t.Class(ctx, class)
	if err != nil {
		return nil, "", err
	}
	pupils, err := t.PupilsOf(ctx, class)
	if err != nil {
		return nil, "", err
	}
	if pupils, err = here(ctx, t, class, lesson, pupils); err != nil {
		return nil, "", err
	}
	all, err := readPlain(ctx, t, idsOf(pupils))
	return all, record.Name, err
}

// here leaves out who was noted away from a lesson of the class; uuid.Nil leaves all.
func here(ctx context.Context, t *postgres.Tx, class, lesson uuid.UUID, pupils []postgres.Pupil) ([]postgres.Pupil, error) {
	if lesson == uuid.Nil {
		return pupils, nil
	}
	roll, err := t.SheetRoll(ctx, lesson)
	if err != nil {
		return nil, err
	}
	if roll.Class.ID != class {
		return nil, studio.Missing()
	}
	return of(pupils, func(p postgres.Pupil) bool {
		return slices.ContainsFunc(roll.Children, func(c postgres.RollChild) bool { return c.ID == p.ID && (c.Present == nil || *c.Present) })
	}), nil
}

// SendClass sends a drill home with children of a class. Each child is judged by itself: where a rule forbids it the drill stays here,
// with the reason, and goes home with the others.
func (a *App) SendClass(ctx context.Context, actor studio.Actor, n ClassSend) (ClassSent, error) {
	var sent ClassSent
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		all, _, err := a.classHomeworks(ctx, t, n.Class, n.Lesson)
		if err != nil {
			return err
		}
		if len(n.Children) == 0 {
			return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "child", Problem: "Tick at least one child."}})
		}
		for _, child := range n.Children {
			h, ok := homeworkOf(all, child)
			if !ok {
				return studio.Missing()
			}
			if err := sent.add(ctx, t, h, h.head.Name, NewHome{Child: child, Drill: n.Drill, Dose: n.Dose, From: n.From, Until: n.Until, Why: n.Why}); err != nil {
				return err
			}
		}
		return sent.err("child")
	})
	return sent, err
}

func homeworkOf(all []*homework, child uuid.UUID) (*homework, bool) {
	i := slices.IndexFunc(all, func(h *homework) bool { return h.head.ID == child })
	if i < 0 {
		return nil, false
	}
	return all[i], true
}

// readPlain is readHomeworks where no exception counts.
func readPlain(ctx context.Context, t *postgres.Tx, children []uuid.UUID) ([]*homework, error) {
	all, err := readHomeworks(ctx, t, children)
	for _, h := range all {
		h.child.Excepted = nil
	}
	return all, err
}

func classDrills(all []*homework) []ClassDrill {
	if len(all) == 0 {
		return nil
	}
	children := make([]home.Child, len(all))
	for i, h := range all {
		children[i] = h.child
	}
	answers := all[0].answers()
	var drills []ClassDrill
	for _, s := range home.ForClass(children, all[0].homeDrills()) {
		d := all[0].drills[s.Drill]
		line := ClassDrill{Key: d.Key, Name: d.Name, Figure: d.Figure, Adult: d.Home.Adult, Dose: DoseWords(d.Dose, d.TwoSided, all[0].settings.HomeDays)}
		times := map[string]int{}
		for i, h := range all {
			if !slices.Contains(s.Suits, i) || d.Home.Adult && !h.adults {
				line.Others = append(line.Others, h.head.Name)
				continue
			}
			line.Suits = append(line.Suits, h.head.Name)
			line.count(times, h.child, d, answers[d.Key])
		}
		for i, name := range line.Answers {
			line.Answers[i] = fmt.Sprintf("%s (%s)", name, childCount(times[name]))
		}
		if len(line.Suits) > 0 {
			drills = append(drills, line)
		}
	}
	return drills
}

// count adds what the drill answers for a child to the line, and how many children that is so for to times.
func (l *ClassDrill) count(times map[string]int, c home.Child, d studio.Drill, answers []string) {
	add := func(name string) {
		if times[name]++; times[name] == 1 {
			l.Answers = append(l.Answers, name)
		}
	}
	for _, s := range c.Seen {
		if s.Times > 0 && slices.Contains(answers, s.Cause) {
			add(s.Name)
		}
	}
	for _, g := range c.Goals {
		if slices.Contains(d.Prepares, g.Rung) {
			add("prepares " + g.Name)
		}
	}
}

// classChild judges a drill in its usual dose for the child.
func (h *homework) classChild(d studio.Drill) ClassHomeChild {
	line := ClassHomeChild{ID: h.head.ID, Name: h.head.Name}
	if line.Reason = h.refusal(d, d.Dose); line.Reason != "" {
		return line
	}
	line.May = true
	if found := home.Suggest(h.child, []home.Drill{h.homeDrill(d, h.answers()[d.Key])}).Suggested; len(found) > 0 {
		line.Useful, line.Reason = true, found[0].Reason
		return line
	}
	line.Reason = "It answers nothing seen lately and prepares no open rung of this child."
	return line
}
