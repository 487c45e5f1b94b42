package load

// CapsNote belongs beside every cap that people see.
const CapsNote = "Caps are the teacher's settings. No published limit for back-bends or wrist loads at these ages was found."

// Caps are the most load for one child in one lesson and in one week over every class. Teacher's settings.
type Caps struct {
	Lesson Load
	Week   Load
}

// DefaultCaps is a cautious start for a child of this age in years, for the teacher to change. There is no published cap;
// the figures are ours: about three, five, eight and ten of the hardest back-bends in a lesson, twice as many turns on
// the hands, and two full lessons a week.
func DefaultCaps(age int) Caps {
	lesson := Load{Back: 30, Wrists: 60, Landing: 60}
	switch {
	case age < 6:
		lesson = Load{Back: 9, Wrists: 18, Landing: 18}
	case age < 9:
		lesson = Load{Back: 15, Wrists: 30, Landing: 30}
	case age < 13:
		lesson = Load{Back: 24, Wrists: 48, Landing: 48}
	}
	return Caps{Lesson: lesson, Week: lesson.Times(2)}
}

// Remaining is what a cap leaves after what is done, never below zero.
func Remaining(limit, done Load) Load {
	return Load{max(0, limit.Back-done.Back), max(0, limit.Wrists-done.Wrists), max(0, limit.Landing-done.Landing)}
}

// Left is what one more lesson may still ask of a child who has done this much in the lesson and in the week.
func (c Caps) Left(lesson, week Load) Load {
	return Remaining(c.Lesson, lesson).Least(Remaining(c.Week, week))
}
