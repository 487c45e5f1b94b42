package lesson

import (
	"maps"
	"slices"
)

// rotation judges what happens in the hall at one time.
func (c *checker) rotation(r int) {
	at := map[string]int{}
	for g := 1; g <= c.in.Groups; g++ {
		cell := c.cells[[2]int{r, g}]
		if other := at[cell.StationID]; other > 0 {
			c.add(Breach{Rule: RuleStation, Rotation: r, Group: g, StationID: cell.StationID},
				"Groups %d and %d are both at %s in rotation %d.", other, g, c.place(cell.StationID), r)
		}
		at[cell.StationID] = g
		c.lead(cell)
		c.variety(cell)
		c.clock(cell, c.spotting(cell))
	}
	c.pieces(r)
	c.people(r)
}

func (c *checker) lead(cell Cell) {
	b := Breach{Rule: RuleLead, Rotation: cell.Rotation, Group: cell.Group, StationID: cell.StationID, StaffID: cell.Lead}
	if cell.Lead == "" {
		c.add(b, "Nobody runs %s in rotation %d.", c.place(cell.StationID), cell.Rotation)
	} else if !c.staff[cell.Lead].CanLead {
		c.add(b, "%s runs %s in rotation %d and may not run a station.", c.staffName(cell.Lead), c.place(cell.StationID), cell.Rotation)
	}
}

func (c *checker) variety(cell Cell) {
	most := c.in.MaxActivities
	if most == 0 {
		most = 2
	}
	if n := len(c.activitiesOf(cell)); n > most {
		c.add(Breach{Rule: RuleActivities, Rotation: cell.Rotation, Group: cell.Group, StationID: cell.StationID},
			"Group %d does %d different things at %s in rotation %d; one person can look after %d.",
			cell.Group, n, c.place(cell.StationID), cell.Rotation, most)
	}
}

// activitiesOf lists, sorted, the different activities of a cell.
func (c *checker) activitiesOf(cell Cell) []string {
	set := map[string]bool{}
	for _, e := range cell.Entries {
		set[e.ActivityID] = true
	}
	return slices.Sorted(maps.Keys(set))
}

// spotting judges a cell's spotters and gives the children whom they can spot at once.
func (c *checker) spotting(cell Cell) int {
	b := Breach{Rule: RuleSpotting, Rotation: cell.Rotation, Group: cell.Group, StationID: cell.StationID}
	served := map[string]bool{}
	places, needed := len(cell.Entries), false
	for _, id := range c.activitiesOf(cell) {
		act := c.activities[id]
		if act.SpottersNeeded == 0 {
			continue
		}
		needed = true
		signed := 0
		for _, s := range cell.Spotters {
			if c.staff[s].MaySpot && slices.Contains(c.staff[s].SignedOff, id) {
				served[s] = true
				signed++
			}
		}
		places = min(places, signed/act.SpottersNeeded)
		if signed < act.SpottersNeeded {
			c.add(b, "%s in rotation %d needs %d signed-off to spot; there are %d.", c.doing(id), cell.Rotation, act.SpottersNeeded, signed)
		}
	}
	for _, s := range cell.Spotters {
		b.StaffID = s
		if !c.staff[s].MaySpot {
			c.add(b, "%s spots in rotation %d and may not spot.", c.staffName(s), cell.Rotation)
		} else if needed && !served[s] {
			c.add(b, "%s is not signed off for anything at %s in rotation %d.", c.staffName(s), c.place(cell.StationID), cell.Rotation)
		}
	}
	return places
}

// clock judges the turns of a cell against the time there is. Spotted is how many children can be spotted at once.
func (c *checker) clock(cell Cell, spotted int) {
	places, sum, longest := spotted, 0, 0
	for _, e := range cell.Entries {
		act := c.activities[e.ActivityID]
		sum += act.TurnSeconds
		longest = max(longest, act.TurnSeconds)
		for _, need := range act.Equipment {
			places = min(places, need.Places)
		}
	}
	if places == 0 || len(cell.Entries) == 0 {
		return
	}
	// A round takes as long as all turns over the places, and never less than its longest turn.
	turns := min(c.in.WorkSeconds*places/sum, c.in.WorkSeconds/longest)
	for _, e := range cell.Entries {
		b := Breach{Rule: RuleTurn, Rotation: cell.Rotation, Group: cell.Group, StationID: cell.StationID, ChildID: e.ChildID}
		switch {
		case e.Turns > turns:
			c.add(b, "%s has %d turns at %s in rotation %d; there is time for %d.",
				c.childName(e.ChildID), e.Turns, c.doing(e.ActivityID), cell.Rotation, turns)
		case e.Turns < 1:
			c.add(b, "%s gets no turn at %s in rotation %d.", c.childName(e.ChildID), c.doing(e.ActivityID), cell.Rotation)
		}
	}
}

// pieces judges the equipment in use at one time. Activities of a cell share theirs.
func (c *checker) pieces(r int) {
	used := map[string]int{}
	for g := 1; g <= c.in.Groups; g++ {
		cell := map[string]int{}
		for _, e := range c.cells[[2]int{r, g}].Entries {
			for _, need := range c.activities[e.ActivityID].Equipment {
				cell[need.Key] = max(cell[need.Key], need.Count)
			}
		}
		for key, n := range cell {
			used[key] += n
		}
	}
	for _, key := range slices.Sorted(maps.Keys(used)) {
		if have := c.stock[key].Count; used[key] > have {
			c.add(Breach{Rule: RuleEquipment, Rotation: r}, "Rotation %d needs %d × %s; the hall has %d.",
				r, used[key], firstOf(c.stock[key].Name, key), have)
		}
	}
}

// people judges where everybody stands at one time, and who is left to watch the room.
func (c *checker) people(r int) {
	leads, spots := map[string][]int{}, map[string][]int{}
	for g := 1; g <= c.in.Groups; g++ {
		cell := c.cells[[2]int{r, g}]
		if cell.Lead != "" {
			leads[cell.Lead] = append(leads[cell.Lead], g)
		}
		for _, s := range cell.Spotters {
			spots[s] = append(spots[s], g)
		}
	}
	free := 0
	for _, person := range c.in.Staff {
		if person.Adult && len(spots[person.ID]) == 0 {
			free++
		}
		c.onePlace(r, person.ID, leads[person.ID], spots[person.ID])
	}
	// Somebody grown up has every station in sight, whatever the ratio says.
	if needed := max(1, c.in.AdultsFreeNeeded); free < needed {
		c.add(Breach{Rule: RuleSupervision, Rotation: r},
			"Rotation %d leaves %d of the adults free of spotting; these children need %d.", r, free, needed)
	}
}

func (c *checker) onePlace(r int, id string, leads, spots []int) {
	most := max(1, c.in.StationsPerLead)
	if len(spots) > 0 {
		most = 1
	}
	b := Breach{Rule: RuleTwoPlaces, Rotation: r, StaffID: id}
	switch {
	case len(spots) > 1:
		b.Group = spots[1]
		c.add(b, "%s spots groups %d and %d at once in rotation %d.", c.staffName(id), spots[0], spots[1], r)
	case len(leads) > most:
		b.Group = leads[most]
		c.add(b, "%s runs %d stations at once in rotation %d; %d can be asked.", c.staffName(id), len(leads), r, most)
	case len(leads) > 0 && len(spots) > 0 && leads[0] != spots[0]:
		b.Group = spots[0]
		c.add(b, "%s runs the station of group %d and spots group %d at once in rotation %d.", c.staffName(id), leads[0], spots[0], r)
	}
}

// pins judges what the teacher fixed.
func (c *checker) pins() {
	for _, pin := range c.in.Pins.Groups {
		if c.groupOf[pin.ChildID] != pin.Group {
			c.add(Breach{Rule: RulePin, Group: c.groupOf[pin.ChildID], ChildID: pin.ChildID},
				"%s is pinned to group %d.", c.childName(pin.ChildID), pin.Group)
		}
	}
	for _, pin := range c.in.Pins.Stations {
		if c.cells[[2]int{pin.Rotation, pin.Group}].StationID != pin.StationID {
			c.add(Breach{Rule: RulePin, Rotation: pin.Rotation, Group: pin.Group, StationID: pin.StationID},
				"Group %d is pinned to %s in rotation %d.", pin.Group, c.place(pin.StationID), pin.Rotation)
		}
	}
	for _, pin := range c.in.Pins.Activities {
		cell := c.cells[[2]int{pin.Rotation, c.groupOf[pin.ChildID]}]
		kept := slices.ContainsFunc(cell.Entries, func(e Entry) bool { return e.ChildID == pin.ChildID && e.ActivityID == pin.ActivityID })
		if !kept {
			c.add(Breach{Rule: RulePin, Rotation: pin.Rotation, Group: cell.Group, StationID: cell.StationID, ChildID: pin.ChildID},
				"%s is pinned to %s in rotation %d.", c.childName(pin.ChildID), c.doing(pin.ActivityID), pin.Rotation)
		}
	}
	for _, pin := range c.in.Pins.Duties {
		c.dutyPin(pin)
	}
}

func (c *checker) dutyPin(pin DutyPin) {
	for g := 1; g <= c.in.Groups; g++ {
		cell := c.cells[[2]int{pin.Rotation, g}]
		if cell.StationID != pin.StationID {
			continue
		}
		if pin.Duty == LeadDuty && cell.Lead == pin.StaffID || pin.Duty == SpotDuty && slices.Contains(cell.Spotters, pin.StaffID) {
			return
		}
	}
	c.add(Breach{Rule: RulePin, Rotation: pin.Rotation, StationID: pin.StationID, StaffID: pin.StaffID},
		"%s is pinned to %s in rotation %d (%s).", c.staffName(pin.StaffID), c.place(pin.StationID), pin.Rotation, pin.Duty)
}
