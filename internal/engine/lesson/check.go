package lesson

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/internal/engine/load"
)

// Check lists every hard rule that a plan breaks, by rotation and group. It trusts nothing that the plan says about
// itself and shares no code with the planner, not even the clock of a cell. The Input must be one that Propose accepts.
func Check(in Input, p Plan) []Breach {
	c := newChecker(in, p)
	if !c.shape() {
		return c.found
	}
	c.groups()
	for r := 1; r <= in.Rotations; r++ {
		c.rotation(r)
	}
	c.visits()
	for _, child := range in.Children {
		c.child(child)
	}
	c.pins()
	slices.SortStableFunc(c.found, byPlace)
	return c.found
}

func byPlace(a, b Breach) int {
	if a.Rotation != b.Rotation {
		return a.Rotation - b.Rotation
	}
	return a.Group - b.Group
}

// checker holds an input by id, and what was found.
type checker struct {
	in         Input
	plan       Plan
	children   map[string]Child
	activities map[string]Activity
	staff      map[string]Staff
	stations   map[string]string
	stock      map[string]Stock
	groupOf    map[string]int
	cells      map[[2]int]Cell
	found      []Breach
}

func newChecker(in Input, p Plan) *checker {
	c := &checker{in: in, plan: p, children: map[string]Child{}, activities: map[string]Activity{}, staff: map[string]Staff{},
		stations: map[string]string{}, stock: map[string]Stock{}, groupOf: map[string]int{}, cells: map[[2]int]Cell{}}
	for _, x := range in.Children {
		c.children[x.ID] = x
	}
	for _, x := range in.Activities {
		c.activities[x.ID] = x
	}
	for _, x := range in.Staff {
		c.staff[x.ID] = x
	}
	for _, x := range in.Stations {
		c.stations[x.ID] = x.Name
	}
	for _, x := range in.Stock {
		c.stock[x.Key] = x
	}
	return c
}

func (c *checker) add(b Breach, format string, args ...any) {
	b.Sentence = fmt.Sprintf(format, args...)
	c.found = append(c.found, b)
}

func (c *checker) childName(id string) string { return firstOf(c.children[id].Name, id) }
func (c *checker) staffName(id string) string { return firstOf(c.staff[id].Name, id) }
func (c *checker) doing(id string) string     { return firstOf(c.activities[id].Name, id) }
func (c *checker) place(id string) string     { return firstOf(c.stations[id], id) }

func firstOf(name, id string) string {
	if name != "" {
		return name
	}
	return id
}

// shape reports whether the plan is whole: only then can the other rules be judged.
func (c *checker) shape() bool {
	c.shapeOfGroups()
	c.shapeOfCells()
	return len(c.found) == 0
}

func (c *checker) shapeOfGroups() {
	if len(c.plan.Groups) != c.in.Groups {
		c.add(Breach{Rule: RuleShape}, "The plan has %d groups, the lesson %d.", len(c.plan.Groups), c.in.Groups)
	}
	for i, group := range c.plan.Groups {
		for _, id := range group {
			b := Breach{Rule: RuleShape, Group: i + 1, ChildID: id}
			if _, known := c.children[id]; !known {
				c.add(b, "Group %d holds a child who is not here.", i+1)
			} else if other := c.groupOf[id]; other > 0 {
				c.add(b, "%s is in group %d and in group %d.", c.childName(id), other, i+1)
			}
			c.groupOf[id] = i + 1
		}
	}
	for _, child := range c.in.Children {
		if c.groupOf[child.ID] == 0 {
			c.add(Breach{Rule: RuleShape, ChildID: child.ID}, "%s is in no group.", c.childName(child.ID))
		}
	}
}

func (c *checker) shapeOfCells() {
	for _, cell := range c.plan.Cells {
		key := [2]int{cell.Rotation, cell.Group}
		if _, twice := c.cells[key]; twice {
			c.add(Breach{Rule: RuleShape, Rotation: cell.Rotation, Group: cell.Group},
				"Group %d is planned twice in rotation %d.", cell.Group, cell.Rotation)
		}
		c.cells[key] = cell
		c.shapeOfCell(cell)
	}
	for r := 1; r <= c.in.Rotations; r++ {
		for g := 1; g <= c.in.Groups; g++ {
			if _, there := c.cells[[2]int{r, g}]; !there {
				c.add(Breach{Rule: RuleShape, Rotation: r, Group: g}, "Group %d has no station in rotation %d.", g, r)
			}
		}
	}
}

func (c *checker) shapeOfCell(cell Cell) {
	b := Breach{Rule: RuleShape, Rotation: cell.Rotation, Group: cell.Group, StationID: cell.StationID}
	if cell.Rotation < 1 || cell.Rotation > c.in.Rotations || cell.Group < 1 || cell.Group > c.in.Groups {
		c.add(b, "Rotation %d of group %d is not part of this lesson.", cell.Rotation, cell.Group)
		return
	}
	if _, known := c.stations[cell.StationID]; !known {
		c.add(b, "Group %d goes to a station in rotation %d that cannot be set up tonight.", cell.Group, cell.Rotation)
	}
	if cell.Lead != "" && !c.knownStaff(cell.Lead) {
		c.add(b, "Somebody who is not here runs the station of group %d in rotation %d.", cell.Group, cell.Rotation)
	}
	for _, id := range cell.Spotters {
		if !c.knownStaff(id) {
			c.add(b, "Somebody who is not here spots group %d in rotation %d.", cell.Group, cell.Rotation)
		}
	}
	seen := map[string]bool{}
	for _, e := range cell.Entries {
		b.ChildID = e.ChildID
		if c.groupOf[e.ChildID] != cell.Group || seen[e.ChildID] {
			c.add(b, "%s does not belong to group %d, or is there twice, in rotation %d.", c.childName(e.ChildID), cell.Group, cell.Rotation)
		}
		seen[e.ChildID] = true
		if _, known := c.activities[e.ActivityID]; !known {
			c.add(b, "%s has no known activity in rotation %d.", c.childName(e.ChildID), cell.Rotation)
		}
	}
	if cell.Group <= len(c.plan.Groups) && len(seen) < len(c.plan.Groups[cell.Group-1]) {
		b.ChildID = ""
		c.add(b, "Not every child of group %d has something to do in rotation %d.", cell.Group, cell.Rotation)
	}
}

func (c *checker) knownStaff(id string) bool {
	_, known := c.staff[id]
	return known
}

// sizes are the limits of a group: those asked for, or as even as can be.
func (c *checker) sizes() (least, most int) {
	n := len(c.in.Children)
	least, most = c.in.GroupMin, c.in.GroupMax
	if least == 0 {
		least = n / c.in.Groups
		if most > 0 && most < least {
			least = most
		}
	}
	if most == 0 {
		most = (n + c.in.Groups - 1) / c.in.Groups
		if most < least {
			most = least
		}
	}
	return least, most
}

func (c *checker) groups() {
	least, most := c.sizes()
	for i, group := range c.plan.Groups {
		if len(group) < least || len(group) > most {
			c.add(Breach{Rule: RuleGroupSize, Group: i + 1}, "Group %d has %d children; a group has %d to %d.", i+1, len(group), least, most)
		}
	}
	for _, pair := range c.in.KeepTogether {
		if c.groupOf[pair.A] != c.groupOf[pair.B] {
			c.add(Breach{Rule: RuleTogether, Group: c.groupOf[pair.A], ChildID: pair.A},
				"%s and %s are to stay together and are not.", c.childName(pair.A), c.childName(pair.B))
		}
	}
	for _, pair := range c.in.KeepApart {
		if c.groupOf[pair.A] == c.groupOf[pair.B] {
			c.add(Breach{Rule: RuleApart, Group: c.groupOf[pair.A], ChildID: pair.A},
				"%s and %s are to be kept apart and are both in group %d.", c.childName(pair.A), c.childName(pair.B), c.groupOf[pair.A])
		}
	}
}

// visits judges where the groups go over the whole lesson.
func (c *checker) visits() {
	used := map[string]bool{}
	for g := 1; g <= c.in.Groups; g++ {
		been := map[string]int{}
		for r := 1; r <= c.in.Rotations; r++ {
			id := c.cells[[2]int{r, g}].StationID
			used[id] = true
			if been[id] > 0 && !c.in.AllowRepeatStation {
				c.add(Breach{Rule: RuleStation, Rotation: r, Group: g, StationID: id},
					"Group %d is at %s in rotation %d and again in rotation %d.", g, c.place(id), been[id], r)
			}
			been[id] = r
		}
	}
	most := c.in.MaxStations
	if most == 0 {
		most = max(c.in.Groups, c.in.Rotations)
	}
	if len(used) > most {
		c.add(Breach{Rule: RuleStation}, "The plan sets up %d stations; the lesson has room for %d.", len(used), most)
	}
}

// child judges what a child does over the whole lesson.
func (c *checker) child(child Child) {
	name := c.childName(child.ID)
	var sum load.Load
	var before Activity
	for r := 1; r <= c.in.Rotations; r++ {
		cell := c.cells[[2]int{r, c.groupOf[child.ID]}]
		e := cell.Entries[slices.IndexFunc(cell.Entries, func(e Entry) bool { return e.ChildID == child.ID })]
		act := c.activities[e.ActivityID]
		b := Breach{Rotation: r, Group: cell.Group, StationID: cell.StationID, ChildID: child.ID}
		c.mayDo(child, act, b)
		if r > 1 {
			c.inRow(name, before, act, b)
		}
		before = act
		sum = sum.Plus(act.Load.Times(e.Turns))
		if over := sum.Over(child.Caps); len(over) > 0 {
			b.Rule = RuleLoad
			c.add(b, "%s goes over the limit for %s in rotation %d.", name, load.Words(over), r)
		}
	}
}

func (c *checker) mayDo(child Child, act Activity, b Breach) {
	name := c.childName(child.ID)
	listed := slices.ContainsFunc(child.Options, func(o Option) bool { return o.ActivityID == act.ID && o.StationID == b.StationID })
	if !listed {
		b.Rule = RuleEligible
		c.add(b, "%s is not yet open for %s at %s.", c.doing(act.ID), name, c.place(b.StationID))
	}
	var limits []string
	if child.AvoidBack && act.Load.Back > 0 {
		limits = append(limits, "back")
	}
	if child.AvoidWrists && act.Load.Wrists > 0 {
		limits = append(limits, "wrists")
	}
	if child.AvoidLanding && act.Load.Landing > 0 {
		limits = append(limits, "landing")
	}
	if child.AvoidInverted && act.Inverted {
		limits = append(limits, "being upside down")
	}
	if len(limits) > 0 {
		b.Rule = RuleCare
		c.add(b, "%s has a care limit (%s) that rules out %s.", name, strings.Join(limits, ", "), c.doing(act.ID))
	}
}

func (c *checker) inRow(name string, before, now Activity, b Breach) {
	b.Rule = RuleHardInRow
	hard := c.in.HardFrom
	if hard == 0 {
		hard = 2
	}
	if !c.in.AllowBackInRow && before.Load.Back >= hard && now.Load.Back >= hard {
		c.add(b, "%s works the back hard in rotations %d and %d, one after the other.", name, b.Rotation-1, b.Rotation)
	}
	if !c.in.AllowWristsInRow && before.Load.Wrists >= hard && now.Load.Wrists >= hard {
		c.add(b, "%s works the wrists hard in rotations %d and %d, one after the other.", name, b.Rotation-1, b.Rotation)
	}
}
