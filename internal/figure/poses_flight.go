package figure

// flight are the poses in the air, and the landing on a soft mat.
var flight = []Pose{
	{Key: "spring-front", Says: "over and off the hands, body long and a little arched, feet leading down",
		Lean: -128, Spine: Spine{-10, -10, -4}, Arms: twice(Arm{184, 0, 0, 0}), Legs: twice(Leg{-16, 12, 70, 0}),
		Lift: 0.22},
	{Key: "spring-back", Says: "jumping back, arms by the ears, body long and arched",
		Lean: -52, Spine: Spine{-14, -18, -8}, Arms: twice(Arm{186, 0, 0, 0}), Legs: twice(Leg{-18, 12, 65, 0}),
		Lift: 0.2},
	{Key: "snap-down", Says: "hands leaving the floor, both feet snapped down under the body",
		Lean: 92, Spine: Spine{6, 6, -4}, Arms: twice(Arm{162, 0, 0, 0}), Legs: twice(Leg{91, -2, 7, 0}),
		Lift: 0.06},
	{Key: "dive-flat", Says: "lying flat and tight on a thick soft mat, arms by the ears",
		Lean: -90, Spine: Spine{0, 1, 11}, Arms: twice(Arm{179, 1, 0, 0}), Legs: twice(Leg{0, 0, 66, 0}),
		Rests: []Rest{{Back, 0.2}}, Props: []Prop{{Block, Back, 1.9}}},
}
