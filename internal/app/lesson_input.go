package app

import (
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/engine/load"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// changeover is the time between two rotations that nobody works in.
const changeover = 60 * time.Second

// evening is an evening with what the engines made of it.
type evening struct {
	postgres.Evening
	*ladders
	marks  []postgres.SeenMark // of the children, oldest first
	boards map[uuid.UUID]standing.Board
	week   map[uuid.UUID]otherLoad
	last   *lastPlan // nil when the class had no plan before
	day    time.Time
}

// lastPlan is the last plan of the class before the lesson, and its day.
type lastPlan struct {
	studio.Plan
	day time.Time
}

func (e *evening) present() []postgres.EveningChild {
	var here []postgres.EveningChild
	for _, c := range e.Children {
		if c.Present == nil || *c.Present {
			here = append(here, c)
		}
	}
	return here
}

func (e *evening) staffHere() []postgres.EveningStaff {
	var here []postgres.EveningStaff
	for _, s := range e.Staff {
		if s.Present == nil || *s.Present {
			here = append(here, s)
		}
	}
	return here
}

// adultsNeeded is the least number of adults free of spotting for the children who are here.
func (e *evening) adultsNeeded() int {
	var ages []int
	for _, c := range e.present() {
		ages = append(ages, studio.AgeOn(c.BirthDate, e.day))
	}
	return cover.AdultsNeeded(ages, ratios(e.settings.Cover))
}

// stationMinutes is how long the stations block lasts.
func (e *evening) stationMinutes() int {
	minutes := 0
	for _, b := range e.Blocks {
		if b.Kind == studio.StationsBlock {
			minutes += b.Minutes
		}
	}
	return minutes
}

// workSeconds is the working time of one rotation.
func (e *evening) workSeconds() int {
	return e.stationMinutes()*60/e.Class.Rotations - int(changeover.Seconds())
}

// input puts the evening into the planner's words; pins are those of the plan that is there.
func (e *evening) input(plan *studio.Plan) lesson.Input {
	in := lesson.Input{
		Seed:             e.Lesson.StartsAt.Unix(),
		Rotations:        e.Class.Rotations,
		WorkSeconds:      e.workSeconds(),
		Groups:           e.Class.Groups,
		MaxActivities:    e.Class.MaxActivities,
		TurnFloor:        e.Class.TurnFloor,
		StationsPerLead:  e.stationsPerLead(),
		AdultsFreeNeeded: e.adultsNeeded(),
		AllowBackInRow:   e.settings.HardInRow,
		AllowWristsInRow: e.settings.HardInRow,
	}
	options := e.options(plan)
	for _, c := range e.present() {
		in.Children = append(in.Children, e.child(c, favoured(options[c.ID], e.favour(c.ID))))
	}
	used := usedActivities(options)
	for _, l := range e.Ladders {
		if used.stations[l.Key] {
			in.Stations = append(in.Stations, lesson.Station{ID: l.Key, Name: l.Name})
		}
	}
	for _, id := range used.activities {
		in.Activities = append(in.Activities, e.activity(id))
	}
	for _, s := range e.staffHere() {
		in.Staff = append(in.Staff, e.helper(s, used.activities))
	}
	in.Stock = []lesson.Stock{{Key: floor, Name: "Room to work", Count: e.Class.Groups}}
	for _, q := range e.Equipment {
		in.Stock = append(in.Stock, lesson.Stock{Key: q.Key, Name: q.Name, Count: q.Stock})
	}
	if e.last != nil {
		in.LastGroups = lastGroups(e.last.Members)
	}
	in.KeepTogether, in.KeepApart = e.pairsHere(studio.Together), e.pairsHere(studio.Apart)
	if plan != nil {
		in.Pins = pinsFor(in, *plan)
	}
	return in
}

// stationsPerLead is how many stations one person may run at once: one where enough people are here, two where not.
func (e *evening) stationsPerLead() int {
	leads := 0
	for _, s := range e.staffHere() {
		if e.helper(s, nil).CanLead {
			leads++
		}
	}
	if leads >= e.Class.Groups {
		return 1
	}
	return 2
}

func (e *evening) child(c postgres.EveningChild, options []lesson.Option) lesson.Child {
	child := lesson.Child{ID: c.ID.String(), Name: c.ShortName(), Options: options}
	child.Caps = e.capsLeft(c)
	for _, l := range e.Limits {
		if l.ChildID == c.ID {
			child.AvoidBack = child.AvoidBack || l.AvoidBack
			child.AvoidWrists = child.AvoidWrists || l.AvoidWrists
			child.AvoidLanding = child.AvoidLanding || l.AvoidLanding
			child.AvoidInverted = child.AvoidInverted || l.AvoidInverted
		}
	}
	return child
}

// helper puts a person into the planner's words. A sign-off for a rung is one for the drills that prepare it.
func (e *evening) helper(s postgres.EveningStaff, activities []activityID) lesson.Staff {
	age := studio.AgeOn(s.BirthDate, e.day)
	helper := lesson.Staff{ID: s.ID.String(), Name: s.Name, Adult: age >= cover.AdultAge && !s.Trainee,
		MaySpot: age >= cover.DefaultSpotterAge && !s.Trainee, CanLead: s.CanLead}
	if e.Class.TeacherRoams && s.Duty == studio.TeacherDuty {
		helper.MaySpot, helper.CanLead = false, false
	}
	for _, a := range activities {
		if e.signedOff(s.ID, a) {
			helper.SignedOff = append(helper.SignedOff, string(a))
		}
	}
	return helper
}

func (e *evening) signedOff(person uuid.UUID, a activityID) bool {
	rungs := []string{a.key()}
	if a.isDrill() {
		rungs = e.drills[a.key()].Prepares
	}
	for _, o := range e.SignOffs {
		if o.StaffID != person || !o.HoldsOn(e.day) {
			continue
		}
		for _, r := range rungs {
			if r == o.RungKey {
				return true
			}
		}
	}
	return false
}

func (e *evening) activity(id activityID) lesson.Activity {
	if id.isDrill() {
		d := e.drills[id.key()]
		return lesson.Activity{ID: string(id), Name: d.Name, TurnSeconds: d.TurnSeconds, Load: load.Load(d.Load), SpottersNeeded: d.Spotting.People,
			TwoSided: d.TwoSided, Inverted: d.Inverted, Equipment: e.needs(d.Equipment)}
	}
	r := e.rungs[id.key()]
	return lesson.Activity{ID: string(id), Name: r.Name, TurnSeconds: r.TurnSeconds, Load: load.Load(r.Load), SpottersNeeded: r.Spotting.People,
		TwoSided: r.TwoSided, Inverted: r.Inverted, Equipment: e.needs(r.Equipment)}
}

// floor stands for room to work; no equipment can have such a key. A child rests and watches at least as long as it works: half of a group works at once (common
// practice, no source).
const floor = "(floor)"

// atOnce is how many children of a group work at the same time at most.
func (e *evening) atOnce() int {
	group := (len(e.present()) + e.Class.Groups - 1) / e.Class.Groups
	return max(1, (group+1)/2)
}

// needs gives a station room for half of a group, and its fair share of the equipment: as many working places as fit when every group
// works on the same kind at once.
func (e *evening) needs(list []studio.EquipmentNeed) []lesson.Need {
	atOnce := e.atOnce()
	out := []lesson.Need{{Key: floor, Count: 1, Places: atOnce}}
	for _, n := range list {
		times := 1
		if i := slices.IndexFunc(e.Equipment, func(q studio.Equipment) bool { return q.Key == n.Key }); i >= 0 {
			times = e.Equipment[i].Stock / (n.Count * e.Class.Groups)
		}
		times = max(1, min(times, (atOnce+n.Places-1)/n.Places))
		out = append(out, lesson.Need{Key: n.Key, Count: n.Count * times, Places: n.Places * times})
	}
	return out
}

func lastGroups(members []studio.PlanMember) [][]string {
	var groups [][]string
	for _, m := range members {
		for len(groups) < m.GroupNo {
			groups = append(groups, nil)
		}
		groups[m.GroupNo-1] = append(groups[m.GroupNo-1], m.ChildID.String())
	}
	return groups
}
