package app

import (
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/engine/standing"
	"rungbook/internal/studio"
)

// activityID names a rung or a drill to the planner.
type activityID string

func rungActivity(key string) activityID  { return activityID("rung " + key) }
func drillActivity(key string) activityID { return activityID("drill " + key) }

func (a activityID) isDrill() bool { return strings.HasPrefix(string(a), "drill ") }

func (a activityID) key() string {
	_, key, _ := strings.Cut(string(a), " ")
	return key
}

// mostStations bounds how many ladders the planner chooses from; those that matter most to the children here come first.
const mostStations = 8

// What a rung matters to a child now, before focus. The studio's settings; no published figures exist.
const (
	workingWorth = 0.6  // and up to workingNear more, the nearer it is to secure
	workingNear  = 0.4  //
	openWorth    = 0.7  // a new rung
	recheckWorth = 0.75 // a rung that may be slipping
	secureWorth  = 0.15 // keeping what is secure
	focusFactor  = 1.5  // a ladder that the term leans on
	newFactor    = 1.5  // a rung that the term has new in this week
	againFactor  = 1.25 // or sees again in it
	unlockEach   = 0.04 // for each rung that this one opens the way to, up to unlockMost
	unlockMost   = 0.2  //
	drillFactor  = 0.6  // a drill instead of the rung it prepares
	mostFavour   = 0.15 // what a child gets more on all of it, at most, who waited more than the class last time
)

// options lists for each child who is here what it may do at each ladder, and how much that matters now. What the plan (nil: none)
// already asks of a child stays an option as long as the child may do it.
func (e *evening) options(plan *studio.Plan) map[uuid.UUID][]lesson.Option {
	all := map[uuid.UUID][]lesson.Option{}
	weight := map[string]float64{}
	for _, c := range e.present() {
		for _, l := range e.Ladders {
			here := e.ladderOptions(l, e.boards[c.ID])
			all[c.ID] = append(all[c.ID], here...)
			if len(here) > 0 {
				weight[l.Key] += here[0].Priority
			}
		}
	}
	kept := heaviest(weight, max(mostStations, e.Class.Rotations, e.Class.Groups))
	if plan != nil {
		for _, cell := range plan.Cells {
			kept = append(kept, cell.LadderKey)
		}
	}
	for id, list := range all {
		all[id] = slices.DeleteFunc(list, func(o lesson.Option) bool { return !slices.Contains(kept, o.StationID) })
		if plan != nil {
			all[id] = e.withChosen(all[id], id, *plan)
		}
	}
	return all
}

// withChosen adds what a teacher chose by hand for a child, where the child may do it.
func (e *evening) withChosen(list []lesson.Option, child uuid.UUID, plan studio.Plan) []lesson.Option {
	for _, entry := range plan.Entries {
		cell := plan.Cell(entry.Rotation, plan.GroupOf(child))
		id := activityOf(entry)
		there := func(o lesson.Option) bool { return o.ActivityID == string(id) && o.StationID == cell.LadderKey }
		if entry.ChildID != child || cell == nil || slices.ContainsFunc(list, there) || !e.eligible(id, cell.LadderKey, child) {
			continue
		}
		list = append(list, lesson.Option{ActivityID: string(id), StationID: cell.LadderKey, Priority: secureWorth})
	}
	return list
}

// eligible reports whether a rung of the ladder, or a drill that prepares one, is not waiting for the child.
func (e *evening) eligible(id activityID, ladder string, child uuid.UUID) bool {
	rungs := []string{id.key()}
	if id.isDrill() {
		rungs = e.drills[id.key()].Prepares
	}
	return slices.ContainsFunc(rungs, func(key string) bool {
		s, ok := e.boards[child].On(key)
		return ok && e.of[key] == ladder && s.State != standing.Waiting
	})
}

// ladderOptions lists what a child may do at a ladder, what matters most first: each rung that is begun or may be begun, the
// highest secure one, and a drill for each of the first that needs no spotter where the rung needs one.
func (e *evening) ladderOptions(l studio.Ladder, board standing.Board) []lesson.Option {
	var options []lesson.Option
	add := func(id activityID, priority float64) {
		if slices.Contains(e.Class.Focus, l.Key) {
			priority *= focusFactor
		}
		options = append(options, lesson.Option{ActivityID: string(id), StationID: l.Key, Priority: priority})
	}
	var highest string
	for _, r := range l.Rungs {
		s, _ := board.On(r.Key)
		switch s.State {
		case standing.Secure:
			highest = r.Key
		case standing.Working, standing.Open, standing.Recheck:
			p := e.priority(s) * e.inTerm(r.Key)
			add(rungActivity(r.Key), p)
			if d, ok := e.drillFor(r); ok {
				add(drillActivity(d), p*drillFactor)
			}
		}
	}
	if highest != "" {
		add(rungActivity(highest), secureWorth)
	}
	slices.SortStableFunc(options, func(a, b lesson.Option) int {
		switch {
		case a.Priority > b.Priority:
			return -1
		case a.Priority < b.Priority:
			return 1
		}
		return strings.Compare(a.ActivityID, b.ActivityID)
	})
	seen := map[string]bool{} // one drill may prepare several rungs: it counts for the one that matters most
	return slices.DeleteFunc(options, func(o lesson.Option) bool {
		twice := seen[o.ActivityID]
		seen[o.ActivityID] = true
		return twice
	})
}

// priority is what a rung matters to a child now: how near it is to secure, how likely it slips, and what it opens the way to.
func (e *evening) priority(s standing.Standing) float64 {
	p := openWorth
	switch s.State {
	case standing.Working:
		p = workingWorth + workingNear*s.Near
	case standing.Recheck:
		p = recheckWorth
	}
	return p + min(unlockMost, unlockEach*float64(len(e.graph.After(s.RungID))))
}

// inTerm is how much more a rung matters because the term has it in the week of the lesson.
func (e *evening) inTerm(key string) float64 {
	i := slices.IndexFunc(e.WeekRungs, func(r studio.WeekRung) bool { return r.RungKey == key })
	switch {
	case i < 0:
		return 1
	case e.WeekRungs[i].New:
		return newFactor
	}
	return againFactor
}

// termWords say what the term has in the week of the lesson; "" when nothing.
func (e *evening) termWords() string {
	var fresh, again []string
	for _, r := range e.WeekRungs {
		if name := e.rungs[r.RungKey].Name; r.New {
			fresh = append(fresh, name)
		} else {
			again = append(again, name)
		}
	}
	var parts []string
	if len(fresh) > 0 {
		parts = append(parts, "new: "+strings.Join(fresh, ", "))
	}
	if len(again) > 0 {
		parts = append(parts, "seen again: "+strings.Join(again, ", "))
	}
	return strings.Join(parts, "; ")
}

// drillFor is the drill of a lesson's stations that prepares a rung with the least spotting and load, if there is one.
func (e *evening) drillFor(r studio.Rung) (string, bool) {
	best := ""
	for _, d := range e.Drills {
		if d.Kind != studio.SkillDrill && d.Kind != studio.Conditioning || d.Spotting.People > 0 || !slices.Contains(d.Prepares, r.Key) {
			continue
		}
		if best == "" || effort(d) < effort(e.drills[best]) || effort(d) == effort(e.drills[best]) && d.Key < best {
			best = d.Key
		}
	}
	return best, best != ""
}

func effort(d studio.Drill) int { return d.Load.Back + d.Load.Wrists + d.Load.Landing }

func heaviest(weight map[string]float64, most int) []string {
	var keys []string
	for k := range weight {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		if weight[a] != weight[b] {
			if weight[a] > weight[b] {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	return keys[:min(most, len(keys))]
}

// used is what any option names.
type used struct {
	stations   map[string]bool
	activities []activityID
}

func usedActivities(options map[uuid.UUID][]lesson.Option) used {
	u := used{stations: map[string]bool{}}
	seen := map[activityID]bool{}
	for _, list := range options {
		for _, o := range list {
			u.stations[o.StationID] = true
			seen[activityID(o.ActivityID)] = true
		}
	}
	for id := range seen {
		u.activities = append(u.activities, id)
	}
	slices.Sort(u.activities)
	return u
}
