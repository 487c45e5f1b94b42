package lesson

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Loss is what a lesson loses when a person is not there. Possible is false when no plan keeps the rules then; Words says
// why. Worth is what the best plan found loses, and Gap how uncertain that is, both in worth.
type Loss struct {
	Possible bool
	Worth    float64
	Gap      float64
	Children []ChildLoss // who gets fewer turns or less of what matters, the greatest loss first
	Words    string
}

// ChildLoss is what one child loses.
type ChildLoss struct {
	ChildID string
	Turns   int      // turns fewer, negative when more
	Worth   float64  // worth less
	Gone    []string // ids of activities that the child no longer works at
}

// WithoutHelper plans the lesson with and without a person and says what is lost. Their pins go with them. The errors are
// those of Propose for the lesson as it is.
func WithoutHelper(ctx context.Context, in Input, staffID string) (Loss, error) {
	with, err := Propose(ctx, in)
	if err != nil {
		return Loss{}, err
	}
	at := slices.IndexFunc(in.Staff, func(s Staff) bool { return s.ID == staffID })
	if at < 0 {
		return Loss{}, wrong("staffID", "person %q is not here", staffID)
	}
	name := named(in.Staff[at].Name, staffID)
	in.Staff = slices.Delete(slices.Clone(in.Staff), at, at+1)
	in.Pins.Duties = slices.DeleteFunc(slices.Clone(in.Pins.Duties), func(p DutyPin) bool { return p.StaffID == staffID })
	without, err := Propose(ctx, in)
	var none *Infeasible
	if errors.As(err, &none) {
		return Loss{Worth: with.Plan.Worth, Words: fmt.Sprintf("Without %s there is no plan that keeps every rule. %s", name, none.words())}, nil
	}
	if err != nil {
		return Loss{}, err
	}
	return lossBetween(in, name, with, without), nil
}

func lossBetween(in Input, name string, with, without Result) Loss {
	out := Loss{Possible: true, Worth: max(0, with.Plan.Worth-without.Plan.Worth), Gap: without.Bound - without.Plan.Worth}
	for i, was := range with.Plan.Totals {
		is := without.Plan.Totals[i]
		loss := ChildLoss{ChildID: was.ChildID, Turns: was.Turns - is.Turns, Worth: was.Worth - is.Worth}
		after := activitiesOf(without.Plan, was.ChildID)
		for _, id := range activitiesOf(with.Plan, was.ChildID) {
			if !slices.Contains(after, id) {
				loss.Gone = append(loss.Gone, id)
			}
		}
		if loss.Worth > 1e-9 {
			out.Children = append(out.Children, loss)
		}
	}
	slices.SortStableFunc(out.Children, func(a, b ChildLoss) int {
		if a.Worth > b.Worth {
			return -1
		} else if a.Worth < b.Worth {
			return 1
		}
		return 0
	})
	out.Words = lossWords(newProblem(in), name, with, out)
	return out
}

func lossWords(p *problem, name string, with Result, loss Loss) string {
	if loss.Worth < 1e-9 {
		return fmt.Sprintf("Without %s nothing is lost.", name)
	}
	s := fmt.Sprintf("Without %s the lesson is worth %.1f%% less.", name, 100*loss.Worth/with.Plan.Worth)
	for _, c := range loss.Children[:min(3, len(loss.Children))] {
		child := p.childName(p.childNo[c.ChildID])
		switch {
		case len(c.Gone) > 0:
			names := make([]string, len(c.Gone))
			for i, id := range c.Gone {
				names[i] = p.actName(p.actNo[id])
			}
			s += fmt.Sprintf(" %s misses %s.", child, strings.Join(names, ", "))
		case c.Turns > 0:
			s += fmt.Sprintf(" %s has %d turns fewer.", child, c.Turns)
		}
	}
	return s
}

func activitiesOf(plan Plan, childID string) []string {
	var out []string
	for _, cell := range plan.Cells {
		for _, e := range cell.Entries {
			if e.ChildID == childID {
				out = append(out, e.ActivityID)
			}
		}
	}
	return out
}

func (p *problem) actName(no int) string { return named(p.acts[no].Name, p.acts[no].ID) }

// WhyNot says in a sentence why a child does not work at an activity in a plan: the first rule that forbids it, or what
// it would cost. The error is an *InputError.
func WhyNot(in Input, plan Plan, childID, activityID string) (string, error) {
	plan, err := Evaluate(in, plan)
	if err != nil {
		return "", err
	}
	p := newProblem(in)
	i, known := p.childNo[childID]
	act, there := p.actNo[activityID]
	if !known || !there {
		return "", wrong("WhyNot", "child %q or activity %q is not part of the lesson", childID, activityID)
	}
	child, name, doing := p.children[i], p.childName(i), p.actName(act)
	if slices.Contains(activitiesOf(plan, childID), activityID) {
		return fmt.Sprintf("%s does work at %s in this plan.", name, doing), nil
	}
	if !slices.ContainsFunc(child.Options, func(o Option) bool { return o.ActivityID == activityID }) {
		return fmt.Sprintf("%s is not open for %s yet.", doing, name), nil
	}
	if rule := p.forbids(child, act); rule != "" {
		return p.forbidden(rule, name, doing), nil
	}
	return p.whatIf(plan, i, act), nil
}

// forbidden says why a child can never work at an activity tonight.
func (p *problem) forbidden(rule Rule, name, doing string) string {
	switch rule {
	case RuleCare:
		return fmt.Sprintf("A care limit of %s rules out %s.", name, doing)
	case RuleLoad:
		return fmt.Sprintf("One turn of %s is more than what is left of the load limit of %s.", doing, name)
	case RuleTurn:
		return fmt.Sprintf("One turn of %s takes longer than a rotation.", doing)
	case RuleEquipment:
		return fmt.Sprintf("The hall does not have the equipment for %s.", doing)
	}
	return fmt.Sprintf("Too few people who are here may spot %s and leave enough adults free.", doing)
}

// whatIf tries the activity in every rotation in which the child is at a station for it.
func (p *problem) whatIf(plan Plan, child, act int) string {
	name, doing := p.childName(child), p.actName(act)
	known, answer := Check(p.in, plan), ""
	for c, cell := range plan.Cells {
		at := slices.IndexFunc(cell.Entries, func(e Entry) bool { return e.ChildID == p.children[child].ID })
		if at < 0 || p.priority(child, p.placeNo[cell.StationID], act) == 0 {
			continue
		}
		changed, err := Evaluate(p.in, withActivity(plan, c, at, p.acts[act].ID))
		if err != nil {
			return err.Error()
		}
		for _, b := range Check(p.in, changed) {
			if answer == "" && !slices.Contains(known, b) {
				answer = fmt.Sprintf("In rotation %d it would break a rule. %s", cell.Rotation, b.Sentence)
			}
		}
		if answer == "" {
			return costWords(plan, changed, cell.Rotation, c, name, doing)
		}
	}
	if answer == "" {
		answer = fmt.Sprintf("The group of %s does not come to a station for %s in this plan.", name, doing)
	}
	return answer
}

func withActivity(plan Plan, cell, entry int, activityID string) Plan {
	plan.Cells = slices.Clone(plan.Cells)
	plan.Cells[cell].Entries = slices.Clone(plan.Cells[cell].Entries)
	plan.Cells[cell].Entries[entry].ActivityID = activityID
	return plan
}

func costWords(was, is Plan, rotation, cell int, name, doing string) string {
	s := fmt.Sprintf("It can be done: %s at %s in rotation %d", name, doing, rotation)
	before, after := was.Cells[cell].Turns, is.Cells[cell].Turns
	switch lost := was.Worth - is.Worth; {
	case is.Short > was.Short:
		s += fmt.Sprintf(" leaves %d more turns missing to the floor", is.Short-was.Short)
	case lost > 1e-9:
		s += fmt.Sprintf(" makes the plan worth %.1f%% less", 100*lost/was.Worth)
	default:
		s += " costs nothing"
	}
	if after != before {
		s += fmt.Sprintf(", and everybody there gets %d turns in place of %d", after, before)
	}
	return s + "."
}
