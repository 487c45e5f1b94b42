package report

// mostPages is how many pages a child's part may take. Only a note too long for the room may take more.
const mostPages = 2

// density is how closely a child's part is set. The looser one is taken with which the part fits on its pages.
type density struct {
	beside    bool // what is said of a rung stands beside its name, and the ladder's name is left out
	figures   bool // drills are drawn
	rows      int  // of a block; further rungs are only named; 0 is all
	lines     int  // of what is said of a rung; 0 is all
	abreast   int  // ladders in a row
	packed    bool // low ladders come first, so that those of a row are alike
	rungs     int  // of a ladder, at most, about where the child stands; 0 is all up to the next one
	flat      bool // a rung takes one line
	joinsNote bool // the note's paragraphs are run together
}

// densities are those tried, the loosest first. The last one holds the most that the studio can enter, the note aside.
func densities() []density {
	return []density{
		{figures: true, abreast: 3},
		{figures: true, abreast: 4},
		{figures: true, abreast: 4, beside: true},
		{figures: true, abreast: 4, beside: true, packed: true},
		{figures: true, abreast: 4, beside: true, packed: true, rungs: 6},
		{figures: true, abreast: 4, beside: true, packed: true, rungs: 4},
		{abreast: 4, beside: true, packed: true, rungs: 5, flat: true, rows: 12, lines: 3},
		{abreast: 4, beside: true, packed: true, rungs: 4, flat: true, rows: 8, lines: 2, joinsNote: true},
		{abreast: 4, beside: true, packed: true, rungs: 3, flat: true, rows: 4, lines: 1, joinsNote: true},
		{abreast: 4, beside: true, packed: true, rungs: 2, flat: true, rows: 2, lines: 1, joinsNote: true},
	}
}

// fitting tries each density on a dry sheet, and gives the loosest that fits.
func (s *sheet) fitting(draw func()) density {
	all := densities()
	s.dry = true
	defer func() { s.dry = false }()
	for _, s.density = range all {
		if draw(); s.page <= mostPages {
			break
		}
	}
	return s.density
}
