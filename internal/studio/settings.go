package studio

import (
	"fmt"

	"golang.org/x/text/language"
)

// Settings are what a studio sets for itself. Unless a field says otherwise its default is a cautious start of ours to be changed:
// no published figure exists.
type Settings struct {
	Secure    SecureRule    `json:"secure"`
	Memory    MemoryRule    `json:"memory"`
	Agreement float64       `json:"agreement"` // kappa, 0 to 1, below which two people should mark together again
	Caps      []AgeCaps     `json:"caps"`      // youngest first; the first starts at age 0
	HardInRow bool          `json:"hardInRow"` // a child may work the back hard, or the wrists hard, at two stations in a row
	Cues      int           `json:"cues"`      // at most so many corrections for a child at a station, 1 to 4; two is common practice
	HomeDays  int           `json:"homeDays"`  // days a week on which a drill for home is done, 1 to 7
	Exception int           `json:"exception"` // weeks for which a child may at most be let do a drill at home that is not safe alone, 1 to 12
	Cover     CoverRule     `json:"cover"`     // adults in the room
	Confirm   bool          `json:"confirm"`   // marks of assistants wait for a teacher before they count
	Retention RetentionRule `json:"retention"` // how long things are kept
	Pacing    PacingRule    `json:"pacing"`    // what fills the weeks of a term
	Guarded   bool          `json:"guarded"`   // owners and teachers sign in with a code or a passkey; postgres/session.go reads it too
	Language  string        `json:"language"`  // BCP 47 tag of what the studio writes itself: names, steps, messages, notes
}

// SecureRule says when a rung is secure: Clean of the last Window marks, over at least Lessons lessons.
type SecureRule struct {
	Clean   int `json:"clean"`
	Window  int `json:"window"`
	Lessons int `json:"lessons"`
}

// MemoryRule says how long a secure rung is trusted unseen: a half-life of First days that grows by Growth, up to Most days, with
// each clean mark at least Gap days after the last that counted; below a recall of Recheck (0 to 1) it is due another look.
type MemoryRule struct {
	First   float64 `json:"first"`
	Growth  float64 `json:"growth"`
	Most    float64 `json:"most"`
	Gap     int     `json:"gap"`
	Recheck float64 `json:"recheck"`
}

// AgeCaps are the most body load of one child, from an age in years up to the next band, in a lesson and in a week over every class.
type AgeCaps struct {
	FromAge int  `json:"fromAge"`
	Lesson  Load `json:"lesson"`
	Week    Load `json:"week"`
}

// DefaultSettings are those of a studio that has set nothing: 4 of 5 clean in 2 lessons; a half-life from 21 days, growing by 1.7, to a
// year; about three, five, eight and ten of the hardest back-bends in a lesson by age, twice as much on the hands, and two full
// lessons a week.
func DefaultSettings() Settings {
	return Settings{
		Secure:    SecureRule{Clean: 4, Window: 5, Lessons: 2},
		Memory:    MemoryRule{First: 21, Growth: 1.7, Most: 365, Gap: 3, Recheck: 0.5},
		Agreement: 0.6,
		Caps:      []AgeCaps{capsFrom(0, 9), capsFrom(6, 15), capsFrom(9, 24), capsFrom(13, 30)},
		Cues:      2,
		HomeDays:  3,
		Exception: 4,
		Cover:     RecommendedCover(),
		Retention: DefaultRetention(),
		Pacing:    DefaultPacing(),
		Language:  "en-GB",
	}
}

func capsFrom(age, back int) AgeCaps {
	return AgeCaps{FromAge: age, Lesson: Load{back, 2 * back, 2 * back}, Week: Load{2 * back, 4 * back, 4 * back}}
}

// CapsAt are the caps of a child of an age in whole years.
func (s Settings) CapsAt(age int) AgeCaps {
	found := s.Caps[0]
	for _, c := range s.Caps {
		if c.FromAge <= age {
			found = c
		}
	}
	return found
}

// Validate refuses settings that make no sense, field by field.
func (s Settings) Validate() error {
	var wrong []FieldError
	refuse := func(bad bool, field, problem string) {
		if bad {
			wrong = append(wrong, FieldError{Field: field, Problem: problem})
		}
	}
	r, m := s.Secure, s.Memory
	refuse(r.Window < 1 || r.Window > 20, "secure-window", "Give 1 to 20 marks.")
	refuse(r.Clean < 1 || r.Clean > r.Window, "secure-clean", "Give at least 1, and no more than the marks looked at.")
	refuse(r.Lessons < 1 || r.Lessons > r.Clean, "secure-lessons", "Give at least 1, and no more than the clean marks.")
	refuse(!(m.First >= 1 && m.First <= 365), "memory-first", "Give 1 to 365 days.")
	refuse(!(m.Most >= m.First && m.Most <= 3650), "memory-most", "Give no less than the first half-life, and at most 3650 days.")
	refuse(!(m.Growth >= 1 && m.Growth <= 10), "memory-growth", "Give 1 to 10.")
	refuse(m.Gap < 1 || m.Gap > 60, "memory-gap", "Give 1 to 60 days.")
	refuse(!(m.Recheck >= 0 && m.Recheck < 1), "memory-recheck", "Give 0 to 99 percent.")
	refuse(!(s.Agreement >= 0 && s.Agreement <= 1), "agreement", "Give 0 to 1.")
	refuse(s.Cues < 1 || s.Cues > 4, "cues", "Give 1 to 4 corrections.")
	refuse(s.HomeDays < 1 || s.HomeDays > 7, "home-days", "Give 1 to 7 days.")
	_, err := language.Parse(s.Language)
	refuse(err != nil, "language", "Give a language tag, such as en-GB or de.")
	refuse(s.Exception < 1 || s.Exception > MostExceptionWeeks, "home-exception", "Give 1 to 12 weeks.")
	wrong = append(wrong, s.Cover.problems()...)
	wrong = append(wrong, s.Retention.problems()...)
	wrong = append(wrong, s.Pacing.problems()...)
	refuse(len(s.Caps) == 0 || s.Caps[0].FromAge != 0, "caps-age-0", "The first age band starts at 0.")
	for i, c := range s.Caps {
		refuse(i > 0 && c.FromAge <= s.Caps[i-1].FromAge, fmt.Sprintf("caps-age-%d", i), "Each band starts at a higher age than the one before.")
		refuse(!c.Lesson.within(0, 1000), fmt.Sprintf("caps-lesson-%d", i), "Give 0 to 1000.")
		refuse(!c.Week.within(0, 5000), fmt.Sprintf("caps-week-%d", i), "Give 0 to 5000.")
	}
	return Refuse("Nothing was saved.", wrong)
}

func (l Load) within(least, most int) bool {
	return min(l.Back, l.Wrists, l.Landing) >= least && max(l.Back, l.Wrists, l.Landing) <= most
}
