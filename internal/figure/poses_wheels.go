package figure

// wheels are the poses of wheels, seen from the front.
var wheels = []Pose{
	{Key: "wheel-in", Says: "the first hand set on the line, one leg driving up sideways", View: FromFront,
		Lean: 113, Spine: Spine{6, 12, 5}, Arms: [2]Arm{{129, 0, 83, 0}, {161, 0, 0, 0}}, Legs: [2]Leg{{92, -1, 24, 0}, {7, 0, 85, 0}},
		Rests: []Rest{{NearTips, 0}, {NearToes, 0}}},
	{Key: "wheel-over", Says: "a wheel over both hands, legs wide open", View: FromFront,
		Lean: 180, Arms: twice(Arm{170, 0, -80, 0}), Legs: twice(Leg{84, 1, 85, 0}),
		Rests: []Rest{{Hands, 0}}, Still: true},
	{Key: "wheel-small", Says: "a small wheel over both hands, legs a little open", View: FromFront,
		Lean: 180, Arms: twice(Arm{172, 0, -82, 0}), Legs: twice(Leg{32, 7, 85, 0}),
		Rests: []Rest{{Hands, 0}}, Still: true},
	{Key: "wheel-bench", Says: "hands on a low bench, feet stepping over", View: FromFront,
		Lean: 158, Spine: Spine{6, 15, -3}, Arms: [2]Arm{{169, 1, -81, 0}, {174, -1, -82, 0}}, Legs: [2]Leg{{98, -4, 84, 0}, {-16, 0, 85, 0}},
		Rests: []Rest{{Hands, 0.2}}, Props: []Prop{{Block, Hands, 0.6}}},
	{Key: "wheel-near-hand", Says: "a wheel over the first hand alone, legs wide open", View: FromFront,
		Lean: 174, Spine: Spine{2, 4, 0}, Arms: [2]Arm{{176, 0, -86, 0}, {40, -132, 0, 0}}, Legs: [2]Leg{{84, 1, 85, 0}, {82, 0, 85, 0}},
		Rests: []Rest{{NearHand, 0}}},
	{Key: "wheel-far-hand", Says: "a wheel over the second hand alone, legs wide open", View: FromFront,
		Lean: -174, Spine: Spine{-2, -4, 0}, Arms: [2]Arm{{40, -132, 0, 0}, {176, 0, -86, 0}}, Legs: [2]Leg{{82, 0, 85, 0}, {84, 1, 85, 0}},
		Rests: []Rest{{FarHand, 0}}},
	{Key: "wheel-free", Says: "a wheel in the air without hands, arms drawn in, legs wide open", View: FromFront,
		Lean: -180, Arms: twice(Arm{38, -124, 0, 0}), Legs: twice(Leg{84, 1, 85, 0}),
		Lift: 0.2},
	{Key: "wheel-touch", Says: "a wheel with one hand brushing a soft block", View: FromFront,
		Lean: 176, Spine: Spine{2, 2, 0}, Arms: [2]Arm{{176, 0, -16, 0}, {40, -132, 0, 0}}, Legs: [2]Leg{{84, 1, 85, 0}, {82, 0, 85, 0}},
		Rests: []Rest{{NearTips, 0.16}}, Props: []Prop{{Block, NearTips, 0.3}}},
}
