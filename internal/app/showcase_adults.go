package app

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/studio"
)

// StageSpotting is whom a piece needs beside its children, by the sign-offs on its day.
type StageSpotting struct {
	Rungs   []StageRung
	Fewest  []string // the fewest of the class's own staff who between them may spot all that can be spotted
	Verdict string   // how many adults must watch, and how many of the class's staff there are
}

// StageRung is a rung of a piece that is spotted. Doers counts the children who do it, in place of another too.
type StageRung struct {
	Key, Name string
	Doers     int
	People    int      // who spot one turn
	Own       []string // of the class's staff, signed off on the day
	Others    []string // of the studio's, signed off on the day
	Expires   []string // of the class's staff, whose sign-off ends before the day
	AtOnce    int      // children who can be spotted at the same time by the class's own
	Short     bool     // not even one
	Words     string
}

// StageNeed is equipment that the children of a piece take, all at once at the most.
type StageNeed struct {
	Name, Rung  string
	Children    int
	Takes, Have int
}

// doers counts the children by what they do in a piece: the rung, or what was accepted in its place; not what a care limit forbids.
func doers(v PieceView) map[string]int {
	n := map[string]int{}
	for _, c := range v.Children {
		done := map[string]bool{}
		for _, r := range c.Rungs {
			key := r.Key
			switch r.Fit {
			case SwappedFit:
				key = r.Swap.Key
			case LimitedFit:
				key = ""
			}
			if key != "" && !done[key] {
				done[key] = true
				n[key]++
			}
		}
	}
	return n
}

// shown are the rungs that somebody does, as the library orders them.
func (s *stage) shown(v PieceView) (rungs []studio.Rung, children map[string]int) {
	children = doers(v)
	for _, l := range s.Ladders {
		for _, r := range l.Rungs {
			if children[r.Key] > 0 {
				rungs = append(rungs, r)
			}
		}
	}
	return rungs, children
}

func (s *stage) spotting(v PieceView) StageSpotting {
	var out StageSpotting
	n := s.stageNight(v)
	rungs, children := s.shown(v)
	var spotted []cover.Rung
	for _, r := range rungs {
		if r.Spotting.People == 0 {
			continue
		}
		need := cover.Rung{ID: r.Key, Name: r.Name, Spotters: r.Spotting.People}
		spotted = append(spotted, need)
		line := StageRung{Key: r.Key, Name: r.Name, Doers: children[r.Key], People: r.Spotting.People}
		run := n.Runnable([]cover.Rung{need})[0]
		line.Own = s.staffNames(run.May)
		line.Others, line.Expires = s.others(r.Key, run.May, v.Day), s.endsBefore(r.Key, v.Day)
		line.AtOnce = len(run.May) / r.Spotting.People
		line.Short = line.AtOnce == 0
		line.Words = atOnceWords(line)
		out.Rungs = append(out.Rungs, line)
	}
	if len(spotted) > 0 {
		fewest, _ := n.Fewest(spotted)
		out.Fewest = s.staffNames(fewest)
	}
	out.Verdict = verdict(n).Reason
	return out
}

func atOnceWords(r StageRung) string {
	switch {
	case r.Short:
		return fmt.Sprintf("It takes %s for one turn: too few of the class's staff are signed off on the day, so nobody does it.", people(r.People))
	case r.AtOnce >= r.Doers:
		return fmt.Sprintf("All %d could be spotted at the same time.", r.Doers)
	}
	return fmt.Sprintf("At most %d of %d at the same time: set the turns one after the other.", r.AtOnce, r.Doers)
}

func people(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

// stageNight puts the day into the engine's words: the class's own staff and the children of the piece.
func (s *stage) stageNight(v PieceView) cover.Night {
	n := cover.Night{Date: v.Day, Ratios: ratios(s.settings.Cover)}
	for _, c := range s.pupils {
		if slices.ContainsFunc(v.Children, func(x PieceChild) bool { return x.ID == c.ID }) {
			n.Ages = append(n.Ages, studio.AgeOn(c.BirthDate, v.Day))
		}
	}
	for _, p := range s.show.People {
		if !p.Here || p.Trainee {
			continue
		}
		n.Present = append(n.Present, cover.Person{ID: p.StaffID.String(), Name: p.Name, Age: studio.AgeOn(p.BirthDate, v.Day)})
		n.SignOffs = append(n.SignOffs, s.signed(p.StaffID)...)
	}
	return n
}

func (s *stage) signed(person uuid.UUID) []cover.SignOff {
	var held []cover.SignOff
	for _, x := range s.show.SignOffs {
		if x.StaffID == person {
			held = append(held, cover.SignOff{Person: person.String(), Rungs: []string{x.RungKey}, From: x.GrantedOn, Until: x.ExpiresOn})
		}
	}
	return held
}

func (s *stage) staffNames(ids []string) []string {
	var names []string
	for _, p := range s.show.People {
		if slices.Contains(ids, p.StaffID.String()) {
			names = append(names, p.Name)
		}
	}
	return names
}

// others are those of the studio who are signed off on the day, old enough, and not among the class's own.
func (s *stage) others(rung string, own []string, day time.Time) []string {
	var ids []string
	for _, p := range s.show.People {
		if p.Trainee || p.Here || studio.AgeOn(p.BirthDate, day) < cover.DefaultSpotterAge || slices.Contains(own, p.StaffID.String()) {
			continue
		}
		if len(cover.SignedOff(s.signed(p.StaffID), rung, day)) > 0 {
			ids = append(ids, p.StaffID.String())
		}
	}
	return s.staffNames(ids)
}

// endsBefore are those of the class's staff who are signed off today and not on the day.
func (s *stage) endsBefore(rung string, day time.Time) []string {
	var names []string
	for _, p := range s.show.People {
		held := s.signed(p.StaffID)
		if p.Here && len(cover.SignedOff(held, rung, s.today)) > 0 && len(cover.SignedOff(held, rung, day)) == 0 {
			names = append(names, p.Name)
		}
	}
	return names
}

// equipment is what each rung takes when all who do it do so at once.
func (s *stage) equipment(v PieceView) []StageNeed {
	stock := map[string]studio.Equipment{}
	for _, e := range s.show.Stock {
		stock[e.Key] = e
	}
	var all []StageNeed
	rungs, children := s.shown(v)
	for _, r := range rungs {
		for _, e := range r.Equipment {
			sets := (children[r.Key] + max(e.Places, 1) - 1) / max(e.Places, 1)
			all = append(all, StageNeed{Name: cmp.Or(stock[e.Key].Name, e.Key), Rung: r.Name, Children: children[r.Key], Takes: sets * e.Count, Have: stock[e.Key].Stock})
		}
	}
	return all
}
