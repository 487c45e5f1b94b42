package lesson_test

import (
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// sampleSheet is an invented evening: three stations, three rotations, a care limit, a pin, a helper who is away.
func sampleSheet() app.LessonSheet {
	start := time.Date(2026, time.March, 5, 16, 45, 0, 0, time.UTC)
	s := app.LessonSheet{
		Lesson: studio.Lesson{ID: sampleID(1), StartsAt: start, Minutes: 60},
		Class:  studio.Class{ID: sampleID(2), Name: "Terns", Rotations: 3, Groups: 3},
		Staff: []app.SheetStaff{
			{ID: sampleID(11), Name: "Zoë Adeyemi-Hart", Duty: studio.TeacherDuty, Adult: true, MaySpot: true, Present: true, SignOffs: 40},
			{ID: sampleID(12), Name: "Łucja Wróblewska", Duty: studio.AssistantDuty, Adult: true, MaySpot: true, Present: true, SignOffs: 21, Expired: 2},
			{ID: sampleID(13), Name: "Joss Penhale", Duty: studio.AssistantDuty, Adult: true, MaySpot: true, Present: true, SignOffs: 12},
			{ID: sampleID(14), Name: "Nguyễn Thị Ánh", Duty: studio.AssistantDuty, Adult: true, MaySpot: true},
		},
		CanBePlanned: true,
	}
	s.Ladders = []studio.Ladder{{Key: "cartwheel", Name: "Cartwheel"}, {Key: "handstand", Name: "Handstand"}, {Key: "bridge", Name: "Bridge"}}
	for i, name := range []string{"Oisín Ó.", "Mila N.", "Milla N.", "Bảo Châu N.", "Çağrı Y.", "Amara O.", "Elowen P.", "Søren K.", "Priya R.", "Jean-Luc D.", "Ximena P.", "Wren A."} {
		c := app.SheetChild{ID: sampleID(20 + i), Name: name, FullName: name, Age: 8 + i%3, Present: true, Noted: true, Group: i%3 + 1, Turns: 14, WaitShare: 0.45,
			Load: studio.Load{Back: 4, Wrists: 20, Landing: 12}, LoadLeft: studio.Load{Back: 24, Wrists: 48, Landing: 48}}
		if name == "Priya R." {
			c.Limits = []string{"No weight on the hands today"}
		}
		s.Children = append(s.Children, c)
	}
	s.Plan = samplePlan(s, start.Add(18*time.Minute))
	return s
}

func samplePlan(s app.LessonSheet, at time.Time) *app.SheetPlan {
	plan := &app.SheetPlan{Plan: studio.Plan{Version: 3, Rotations: 3, WorkSeconds: 600, Worth: 21.41, Bound: 21.63}, Words: "Within 1.0% of the best possible.", Stations: s.Ladders}
	for r := 1; r <= 3; r++ {
		row := app.SheetRotation{No: r, From: at, To: at.Add(11 * time.Minute)}
		for g := 1; g <= 3; g++ {
			row.Cells = append(row.Cells, sampleCell(s, r, g))
		}
		plan.Rows, at = append(plan.Rows, row), row.To
	}
	plan.Rows[0].Cells[1].Pinned = true
	return plan
}

var sampleWork = map[string][]string{
	"cartwheel": {"Wheel along a line", "Wheel over a low bench"},
	"handstand": {"Kick to handstand at the wall", "Walk the feet up the wall"},
	"bridge":    {"Bridge from lying", "Shoulder rocks in bridge"},
}

// sampleInstead is for the child whose hands must not bear weight.
var sampleInstead = map[string]string{"cartwheel": "Stand tall and reach", "handstand": "Hollow hold on the back", "bridge": "Hips lift from lying"}

func sampleCell(s app.LessonSheet, rotation, group int) app.SheetCell {
	station := (group + rotation - 2) % 3
	c := app.SheetCell{Rotation: rotation, Group: group, Ladder: s.Ladders[station], Lead: &s.Staff[station], Turns: 5, Wait: 280 * time.Second}
	if station == 1 {
		c.Spotters = []app.SheetStaff{s.Staff[station]}
	}
	for i, child := range s.Children {
		if child.Group != group {
			continue
		}
		e := app.SheetEntry{Child: child, Activity: "rung x", Name: sampleWork[c.Ladder.Key][i/3%2], State: []string{"working", "open", "secure", "recheck"}[i/3%4], Turns: 5}
		if len(child.Limits) > 0 {
			e.Name, e.Drill, e.State, e.Turns = sampleInstead[c.Ladder.Key], true, "", 6
		}
		c.Children = append(c.Children, e)
	}
	return c
}

func sampleID(n int) uuid.UUID {
	id := uuid.UUID{6: 0x40, 8: 0x80}
	id[14], id[15] = byte(n>>8), byte(n)
	return id
}
