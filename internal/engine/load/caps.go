package load

// CapsNote belongs beside every cap that people see.
const CapsNote = "Caps are the studio's settings. No published limit for back-bends or wrist loads at these ages was found."

// Caps are the most load for one child in one lesson and in one week over every class. The studio's settings: there is no published cap.
type Caps struct {
	Lesson Load
	Week   Load
}

// Remaining is what a cap leaves after what is done, never below zero.
func Remaining(limit, done Load) Load {
	return Load{max(0, limit.Back-done.Back), max(0, limit.Wrists-done.Wrists), max(0, limit.Landing-done.Landing)}
}

// Left is what one more lesson may still ask of a child whose week already holds so much elsewhere.
func (c Caps) Left(elsewhere Load) Load {
	return c.Lesson.Least(Remaining(c.Week, elsewhere))
}

// HeldByWeek lists the kinds in which the week, not the lesson, is what holds the child: the week leaves less than a lesson may ask.
func (c Caps) HeldByWeek(elsewhere Load) []Kind {
	return c.Lesson.Over(Remaining(c.Week, elsewhere))
}
