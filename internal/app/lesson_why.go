package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// WhyNot says in a sentence or two why a child does not work at an activity in the plan of a lesson: what it still needs, the rule that
// forbids it, or what it would cost. activity is as in SheetChoice.
func (a *App) WhyNot(ctx context.Context, actor studio.Actor, id, child uuid.UUID, activity string) (string, error) {
	var words string
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, plan, err := readEvening(ctx, t, id)
		if err != nil {
			return err
		}
		if plan == nil {
			return studio.Missing()
		}
		words, err = e.whyNot(*plan, child, activityID(activity))
		return err
	})
	return words, err
}

func (e *evening) whyNot(plan studio.Plan, child uuid.UUID, id activityID) (string, error) {
	at := slices.IndexFunc(e.Children, func(c postgres.EveningChild) bool { return c.ID == child })
	rungs := e.rungsFor(id)
	if at < 0 || len(rungs) == 0 {
		return "", studio.Missing()
	}
	c := e.Children[at]
	switch {
	case c.Present != nil && !*c.Present:
		return c.ShortName() + " is not here.", nil
	case plan.GroupOf(child) == 0:
		return c.ShortName() + " is in no group of this plan.", nil
	}
	if words := e.waits(c, id, rungs); words != "" {
		return words, nil
	}
	plan = e.stillHere(plan)
	words, err := lesson.WhyNot(e.asking(plan, child, id), enginePlan(plan), child.String(), string(id))
	if err != nil {
		return "", planRefusal(err, "")
	}
	return words, nil
}

// rungsFor are the rungs that an activity works at: itself, or those that a drill prepares. It is empty for an unknown activity.
func (e *evening) rungsFor(id activityID) []string {
	if id.isDrill() {
		return e.drills[id.key()].Prepares
	}
	if _, known := e.rungs[id.key()]; known {
		return []string{id.key()}
	}
	return nil
}

// mostNeeds bounds how many needs an answer names: a high rung may rest on dozens.
const mostNeeds = 3

// waits says what a child still needs before an activity: first what it can work at now, and how far it is there; "" when the activity is
// open. Of the rungs that a drill prepares, the nearest one counts.
func (e *evening) waits(c postgres.EveningChild, id activityID, rungs []string) string {
	var missing []string
	for i, key := range rungs {
		s, ok := e.boards[c.ID].On(key)
		if !ok || s.State != standing.Waiting {
			return ""
		}
		if i == 0 || len(s.Missing) < len(missing) {
			missing = s.Missing
		}
	}
	var needs []string
	for _, key := range missing {
		s, _ := e.boards[c.ID].On(key)
		if s.State != standing.Waiting && len(needs) < mostNeeds {
			needs = append(needs, fmt.Sprintf("%s (%s)", e.rungs[key].Name, strings.TrimSuffix(s.Reason, ".")))
		}
	}
	words := fmt.Sprintf("%s is not open for %s yet. Needs first: %s", e.activity(id).Name, c.ShortName(), strings.Join(needs, "; "))
	if more := len(missing) - len(needs); more > 0 {
		words += fmt.Sprintf("; and %s after that", countOf(more, "more rung"))
	}
	return words + "."
}

// asking is the evening as a plan has it, with an activity among the options of a child wherever the child may do it.
func (e *evening) asking(p studio.Plan, child uuid.UUID, id activityID) lesson.Input {
	in := e.asPlanned(p)
	in.Pins = pinsFor(in, p)
	if !slices.ContainsFunc(in.Activities, func(a lesson.Activity) bool { return a.ID == string(id) }) {
		in.Activities = append(in.Activities, e.activity(id))
		for i, s := range in.Staff {
			if e.signedOff(uuid.MustParse(s.ID), id) {
				in.Staff[i].SignedOff = append(slices.Clone(s.SignedOff), string(id))
			}
		}
	}
	at := slices.IndexFunc(in.Children, func(c lesson.Child) bool { return c.ID == child.String() })
	for _, l := range e.Ladders {
		if at >= 0 && e.eligible(id, l.Key, child) {
			in.Children[at].Options = e.withOption(in.Children[at].Options, l, child, id)
			if !slices.ContainsFunc(in.Stations, func(s lesson.Station) bool { return s.ID == l.Key }) {
				in.Stations = append(in.Stations, lesson.Station{ID: l.Key, Name: l.Name})
			}
		}
	}
	return in
}

func (e *evening) withOption(list []lesson.Option, l studio.Ladder, child uuid.UUID, id activityID) []lesson.Option {
	asked := func(o lesson.Option) bool { return o.ActivityID == string(id) && o.StationID == l.Key }
	if slices.ContainsFunc(list, asked) {
		return list
	}
	option := lesson.Option{ActivityID: string(id), StationID: l.Key, Priority: secureWorth}
	open := e.ladderOptions(l, e.boards[child])
	if i := slices.IndexFunc(open, asked); i >= 0 {
		option = open[i]
	}
	return append(slices.Clone(list), favoured([]lesson.Option{option}, e.favour(child))...)
}

// whyThis says why a child does what it does: the planner's reason, the turns and the waiting in numbers, and where the child stands.
func (e *evening) whyThis(entry studio.PlanEntry, workSeconds int) string {
	id := activityOf(entry)
	var parts []string
	if entry.Why != "" {
		parts = append(parts, entry.Why)
	}
	parts = append(parts, fmt.Sprintf("%s of %d s in %d min; waits or rests %.0f%% of that time.",
		countOf(entry.Turns, "turn"), e.activity(id).TurnSeconds, workSeconds/60, 100*entry.WaitShare))
	if !id.isDrill() {
		if s, ok := e.boards[entry.ChildID].On(entry.RungKey); ok {
			parts = append(parts, s.Reason)
		}
	} else if rungs := e.rungsFor(id); len(rungs) > 0 {
		var names []string
		for _, r := range rungs {
			names = append(names, e.rungs[r].Name)
		}
		parts = append(parts, "Prepares "+strings.Join(names, ", ")+".")
	}
	if words := e.favourWords(entry.ChildID); words != "" {
		parts = append(parts, words)
	}
	return strings.Join(parts, " ")
}

// asked lists all that somebody may ask about: every rung, and every drill that prepares one.
func (e *evening) asked() []SheetChoice {
	var all []SheetChoice
	for _, l := range e.Ladders {
		for _, r := range l.Rungs {
			all = append(all, SheetChoice{string(rungActivity(r.Key)), l.Name + ": " + r.Name})
		}
	}
	for _, d := range e.Drills {
		if len(d.Prepares) > 0 && (d.Kind == studio.SkillDrill || d.Kind == studio.Conditioning) {
			all = append(all, SheetChoice{string(drillActivity(d.Key)), "Drill: " + d.Name})
		}
	}
	return all
}
