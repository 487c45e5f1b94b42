package report

import (
	"fmt"
	"time"
)

func on(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// sample is an invented class with a full child, an empty one, and names beyond ASCII.
func sample() TermReport {
	return TermReport{
		Studio: "Gullwing Room", Class: "Tuesday Swifts", Term: "Spring term",
		From: on(2026, 1, 13), To: on(2026, 3, 31), Prepared: on(2026, 4, 2),
		Children: []Child{fullChild(), {Name: "Ngọc Ánh Strauẞ", Attended: 0, Lessons: 0}, smallChild()},
		Cautions: UsualCautions(),
	}
}

func smallChild() Child {
	return Child{Name: "Łucja Ðorić", Attended: 1, Lessons: 10,
		Working: []Working{{Ladder: "Rolls", Rung: "Rocking ball", Clean: 1, Marks: 2, Low: 0.0945, High: 0.9055}},
		Ladders: []Ladder{{Name: "Rolls", Rungs: []Rung{{"Rocking ball", StateWorking, 1, 2}, {"Forward roll down a wedge", StateWaiting, 0, 0}}}}}
}

// The intervals are Wilson's: 8/10 as computed for this project from the formula, 18/20 and 4/20 as printed by statsmodels'
// test results (.6989664-.9721335, .0806577-.4160174).
func fullChild() Child {
	return Child{
		Name: "Zoë Okonkwo-Lindqvist", Attended: 9, Lessons: 11,
		Secured: []Secured{
			{"Upside down", "Bunny hop with tall hips", on(2026, 2, 3), "5 of the last 5 clean, in 3 lessons"},
			{"Wheels", "Low wheel over a rope", on(2026, 3, 10), "4 of the last 5 clean on each side, in 2 lessons"},
			{"Rolls", "Forward roll to standing", on(2026, 3, 24), "4 of the last 5 clean, in 2 lessons"},
		},
		Working: []Working{
			{"Wheels", "Wheel on a line", 18, 20, .6989664, .9721335},
			{"Arches", "Bridge from the back, arms pushed long", 8, 10, .4901625, .9433178},
			{"Upside down", "Kick up to a wall, one leg", 4, 20, .0806577, .4160174},
			{"Shapes", "Hollow hold", 0, 0, 0, 0},
		},
		Recheck:    []Recheck{{"Rolls", "Backward roll down a wedge", on(2026, 1, 20), "Secure last term, not seen for ten weeks."}},
		Next:       []Next{{"Upside down", "Kick up to a wall, two legs", "Everything before it is secure."}, {"Wheels", "Wheel to a lunge finish", "Opens once the wheel on a line is secure."}},
		HomeDrills: []HomeDrill{{"Tabletop rocks", "2 times 8", "On a mat or carpet, hands flat; stop if the wrists ache.", []string{"all-fours", "all-fours-forward"}}, {"Long-legged sit", "3 times 20 seconds", "", nil}},
		Note:       "Zoë listens with her whole body and waits for her turn without being asked. Her wheel has become straight.\nNext term we spend time on holding the hollow shape, which is what the wall work needs.",
		Ladders: []Ladder{
			{"Upside down", []Rung{{"Bear walk", StateSecure, 12, 12}, {"Bunny hop with tall hips", StateSecure, 14, 16}, {"Kick up to a wall, one leg", StateWorking, 4, 20}, {"Kick up to a wall, two legs", StateOpen, 0, 0}, {"Wall handstand, belly to the wall", StateWaiting, 0, 0}}},
			{"Wheels", []Rung{{"Low wheel over a rope", StateSecure, 17, 21}, {"Wheel on a line", StateWorking, 18, 20}, {"Wheel to a lunge finish", StateWaiting, 0, 0}, {"One-handed wheel, near hand", StateWaiting, 0, 0}}},
			{"Rolls", []Rung{{"Rocking ball", StateSecure, 6, 6}, {"Forward roll to standing", StateSecure, 9, 11}, {"Backward roll down a wedge", StateRecheck, 1, 3}, {"Backward roll on the flat, hands beside the ears and knees together", StateWaiting, 0, 0}}},
			{"Arches", []Rung{{"Seal stretch", StateSecure, 8, 8}, {"Bridge from the back, arms pushed long", StateWorking, 8, 10}, {"Bridge rocking", StateWaiting, 0, 0}}},
			{"Shapes", []Rung{{"Hollow hold", StateWorking, 0, 0}, {"Arch hold", StateOpen, 0, 0}}},
		},
	}
}

// bigClass is a class of n full children.
func bigClass(n int) TermReport {
	r := sample()
	r.Children = nil
	for i := range n {
		c := fullChild()
		c.Name = fmt.Sprintf("%s %d", c.Name, i+1)
		r.Children = append(r.Children, c)
	}
	return r
}
