package app

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"rungbook/internal/engine/cover"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// shown puts one lesson into words.
func (c *coverage) shown(l postgres.LessonLine, n cover.Night, rungs []cover.Rung, wishes []cover.Wish) CoverNight {
	night := CoverNight{Lesson: lessonLine(l), Children: len(n.Ages), Verdict: verdict(n)}
	night.Spare = max(0, night.Verdict.Free-night.Verdict.Needed)
	for _, p := range c.people {
		switch {
		case p.LessonID != l.ID:
		case p.Away:
			night.Away = append(night.Away, p.Name)
		default:
			night.Here = append(night.Here, CoverPerson{p.Name, countsAs(p, n.Date)})
		}
	}
	ready := map[string]int{}
	for _, w := range wishes {
		ready[w.Rung]++
	}
	for i, run := range n.Runnable(rungs) {
		line := CoverRung{Key: run.Rung, Name: rungs[i].Name, Ladder: c.ladder[c.of[run.Rung]].Name, Children: ready[run.Rung], Reason: run.Reason}
		if run.OK {
			night.Open = append(night.Open, line)
		} else {
			night.Closed = append(night.Closed, line)
		}
	}
	if len(n.Ages) > 0 {
		night.Absences = c.absences(n, rungs)
	}
	return night
}

// verdict counts the adults of a night before anybody spots.
func verdict(n cover.Night) cover.Verdict {
	room := cover.Room{Ages: n.Ages}
	for _, p := range n.Present {
		if p.Age >= cover.AdultAge {
			room.Adults++
		}
	}
	return cover.Check(room, n.Ratios)
}

func countsAs(p postgres.NightPerson, day time.Time) string {
	age := studio.AgeOn(p.BirthDate, day)
	switch {
	case p.Trainee:
		return "trainee: neither watches nor spots"
	case age < cover.DefaultSpotterAge:
		return fmt.Sprintf("under %d: neither watches nor spots", cover.DefaultSpotterAge)
	case age < cover.AdultAge:
		return fmt.Sprintf("under %d: may spot, does not count as an adult", cover.AdultAge)
	case p.Roams:
		return "adult, walks about and does not spot"
	}
	return "adult"
}

// absences says what is lost without each person, for those who would be missed.
func (c *coverage) absences(n cover.Night, rungs []cover.Rung) []string {
	var lines []string
	enough := verdict(n).Enough
	for _, a := range n.Absences(rungs) {
		without := n
		without.Present = slices.DeleteFunc(slices.Clone(n.Present), func(p cover.Person) bool { return p.ID == a.Person })
		short := enough && !verdict(without).Enough
		if len(a.Closes) == 0 && !short {
			continue
		}
		line := a.Reason
		if !short {
			line = strings.TrimSuffix(line, ".") + ": " + listOf(c.namesOf(a.Closes)) + "."
		}
		lines = append(lines, line)
	}
	return lines
}

// ending lists what has expired or expires soon and was not renewed, by person and day, the earliest first.
func (c *coverage) ending(today time.Time) []CoverEnding {
	var all []CoverEnding
	for _, e := range ending(c.signOffs, today) {
		i := slices.IndexFunc(all, func(x CoverEnding) bool { return x.Staff.String() == e.Person && x.Until.Equal(e.Until) })
		if i < 0 {
			at := slices.IndexFunc(c.signOffs, func(s studio.SignOff) bool { return s.StaffID.String() == e.Person })
			i = len(all)
			all = append(all, CoverEnding{Person: c.signOffs[at].StaffName, Staff: c.signOffs[at].StaffID, Until: e.Until, DaysLeft: e.DaysLeft})
		}
		all[i].Keys = append(all[i].Keys, e.Rung)
		all[i].Rungs = append(all[i].Rungs, c.rungs[e.Rung].Name)
	}
	return all
}

// sole lists who alone may spot what today, by name.
func (c *coverage) sole(today time.Time) []CoverSole {
	var held []cover.SignOff
	for _, s := range c.signOffs {
		held = append(held, cover.SignOff{Person: s.StaffID.String(), Rungs: []string{s.RungKey}, From: s.GrantedOn, Until: s.ExpiresOn})
	}
	var rungs []cover.Rung
	for _, ladder := range c.Ladders {
		for _, r := range ladder.Rungs {
			rungs = append(rungs, cover.Rung{ID: r.Key, Name: r.Name, Spotters: r.Spotting.People})
		}
	}
	var all []CoverSole
	for _, h := range cover.Sole(held, rungs, today) {
		at := slices.IndexFunc(c.signOffs, func(s studio.SignOff) bool { return s.StaffID.String() == h.Person })
		i := slices.IndexFunc(all, func(x CoverSole) bool { return x.Staff.String() == h.Person })
		if i < 0 {
			i = len(all)
			all = append(all, CoverSole{Person: c.signOffs[at].StaffName, Staff: c.signOffs[at].StaffID})
		}
		if h.Needs > 1 {
			all[i].Short = append(all[i].Short, c.rungs[h.Rung].Name)
		} else {
			all[i].Rungs = append(all[i].Rungs, c.rungs[h.Rung].Name)
		}
	}
	slices.SortFunc(all, func(a, b CoverSole) int { return strings.Compare(a.Person, b.Person) })
	return all
}

// coverWords counts the lessons of the next days that are short of adults.
func coverWords(ctx context.Context, t *postgres.Tx) (string, error) {
	c, err := readCover(ctx, t)
	if err != nil || len(c.lessons) == 0 {
		return "", err
	}
	short := 0
	for _, l := range c.lessons {
		if !verdict(c.night(l)).Enough {
			short++
		}
	}
	within := fmt.Sprintf("the next %d days", coverDays)
	switch {
	case short == 1:
		return "1 lesson of " + within + " is short of adults, even before anybody spots.", nil
	case short > 1:
		return fmt.Sprintf("%d lessons of %s are short of adults, even before anybody spots.", short, within), nil
	}
	lessons := "every one of the " + countOf(len(c.lessons), "lesson")
	if len(c.lessons) == 1 {
		lessons = "the one lesson"
	}
	return "There are enough adults at " + lessons + " of " + within + ", before anybody spots.", nil
}
