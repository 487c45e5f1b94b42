package demo

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// The term before the present one, in weeks from its first Monday.
const (
	earlierWeeks   = 12
	weeksBetween   = 1
	earlierHoliday = 5
	thinLesson     = 7 // lesson of each class to which two helpers could not come
)

// earlierTerm is the term before one that starts on a Monday.
func earlierTerm(start time.Time) (studio.Term, studio.Holiday) {
	monday := start.AddDate(0, 0, -7*(earlierWeeks+weeksBetween))
	off := monday.AddDate(0, 0, 7*earlierHoliday)
	return studio.Term{Name: "Term of the small lanterns", StartsOn: monday, EndsOn: start.AddDate(0, 0, -7*weeksBetween-1)},
		studio.Holiday{Name: "Herring week", StartsOn: off, EndsOn: off.AddDate(0, 0, 6)}
}

// former are the children who were there in the earlier term and are in no class now; the last of them is still with the studio.
func former() []pupil {
	return []pupil{
		{"Ebba", "Lindqvist-Rey", 6, 330, sandpipers, 0.55, weakLeft, ""},
		{"Cormac", "Tully", 8, 190, terns, 0.45, weakLeft, ""},
		{"Noor", "van Asselt", 9, 260, terns, 0.65, weakRight, ""},
		{"Délia", "Marchetti", 12, 210, cormorants, 0.50, weakLeft, ""},
		{"Ilse", "Rautavaara", 14, 300, petrels, 0.60, weakLeft, ""},
	}
}

func stillHere(p pupil) bool { return p.given == "Ilse" }

// newcomers joined with the present term.
func newcomers() []string {
	return []string{"Mateus Conceição", "Zuri Nkemelu", "Tāne Rangihuna", "Maeve O’Shaughnessy", "Ravi Chandrasekar"}
}

// earlierClass is where a child was in the earlier term, "" for nowhere: some have moved up since.
func (p pupil) earlierClass() string {
	if slices.Contains(newcomers(), p.fullName()) {
		return ""
	}
	moved := map[string]string{"Mila Novak": sandpipers, "Søren Kjærgaard": sandpipers, "Luca Bellandi": terns, "Zoë van der Meij": terns,
		"Hollie Vane": cormorants, "Blessing Adeoye": cormorants}
	if from := moved[p.fullName()]; from != "" {
		return from
	}
	return p.class
}

// earlierPupils are the children of a class of the earlier term.
func earlierPupils(class string) []pupil {
	return slices.DeleteFunc(slices.Concat(pupils(), former()), func(p pupil) bool { return p.earlierClass() != class })
}

// learnt says on which days a child came by a rung before the present term, and whether it was seen once more after that.
type learnt struct {
	rung  string
	days  []time.Time
	again bool
}

// earlierLessons makes up the lessons of the earlier term: who came, and what was tried there. Between the days on which a child was
// clean at a rung, lessons show it trying; a try that fails always comes early and is followed by one that does not, so that where
// everybody stands now is the same with these lessons and without them.
func (st *story) earlierLessons(meetings []meeting, known map[string][]learnt) history {
	dice := rand.New(rand.NewPCG(seed, 3))
	past := history{present: map[int]map[string]bool{}}
	for i, m := range meetings {
		past.present[i] = map[string]bool{}
		for _, p := range earlierPupils(m.course.name) {
			came := dice.Float64() < 0.8+0.16*p.gift
			past.present[i][p.fullName()] = came
			if came {
				past.turns = append(past.turns, st.earlierTurns(dice, i, m, p, known[p.fullName()])...)
			}
		}
	}
	return past
}

// earlierTurns are those of one child in one lesson.
func (st *story) earlierTurns(dice *rand.Rand, i int, m meeting, p pupil, known []learnt) []seenTurn {
	var turns []seenTurn
	at, day := m.lesson.StartsAt.Add(15*time.Minute), dayOf(m.lesson.StartsAt)
	by := m.markersAt(i)[0]
	for _, k := range known {
		gap := gapOf(k.days, day)
		if gap < 0 {
			continue
		}
		for _, side := range st.sides(k.rung) {
			for _, outcome := range outcomes(dice, gap, k.again) {
				turns = append(turns, seenTurn{id: st.newIDFrom(dice, at), child: p.fullName(), meeting: i, rung: k.rung, side: side, outcome: outcome, by: by, at: at})
				at = at.Add(40 * time.Second)
			}
		}
	}
	return turns
}

// gapOf is between which of the days another one lies, 0 for the first two; -1 when it is one of them or outside.
func gapOf(days []time.Time, day time.Time) int {
	for i := range len(days) - 1 {
		if dayOf(days[i]).Before(day) && day.Before(dayOf(days[i+1])) {
			return i
		}
	}
	return -1
}

// outcomes are tries and then a clean turn or two. Tries may fail only where four of the last five marks are clean by the last day all the
// same, and where the marks of this term push them out before they could tell.
func outcomes(dice *rand.Rand, gap int, again bool) []studio.Outcome {
	tries := 0
	switch {
	case gap == 0:
		tries = 1 + dice.IntN(3)
	case gap == 1 && again:
		tries = 1
	}
	var all []studio.Outcome
	for range tries {
		all = append(all, []studio.Outcome{studio.Missed, studio.Supported, studio.Supported}[dice.IntN(3)])
	}
	for range 1 + dice.IntN(2) {
		all = append(all, studio.Clean)
	}
	return all
}

// addEarlierTerm makes the earlier term with its classes and who was in them. Its lessons come with the history.
func (h *house) addEarlierTerm(ctx context.Context) error {
	term, holiday := earlierTerm(h.term.StartsOn)
	var err error
	if term.ID, err = h.use.AddTerm(ctx, studio.ProgramActor(), term, []studio.Holiday{holiday}); err != nil {
		return err
	}
	h.earlier = term
	if err := h.addFormer(ctx); err != nil {
		return err
	}
	h.earlierClasses = map[string]uuid.UUID{}
	for _, c := range courses() {
		class := h.classOf(c, term.ID)
		if h.earlierClasses[c.name], err = h.use.AddClass(ctx, studio.ProgramActor(), class); err != nil {
			return err
		}
		if err := h.fillEarlier(ctx, c, h.earlierClasses[c.name]); err != nil {
			return err
		}
	}
	return nil
}

func (h *house) addFormer(ctx context.Context) error {
	for i, p := range former() {
		record := studio.ChildDetail{Child: studio.Child{GivenName: p.given, JoinedOn: h.ago(1, 7*i)}, FamilyName: p.family, BirthDate: h.ago(p.years, p.days),
			RosterRef: fmt.Sprintf("TB-%03d", 201+i)}
		if !stillHere(p) {
			record.LeftOn = &h.earlier.EndsOn
		}
		id, err := h.use.AddChild(ctx, studio.ProgramActor(), record)
		if err != nil {
			return err
		}
		h.children[p.fullName()] = id
	}
	return nil
}

// fillEarlier gives a class of the earlier term its lessons, its people and its children, until its last day.
func (h *house) fillEarlier(ctx context.Context, c course, id uuid.UUID) error {
	if _, err := h.use.MakeLessons(ctx, studio.ProgramActor(), id); err != nil {
		return err
	}
	from, until := h.earlier.StartsOn, h.earlier.EndsOn
	for duty, names := range map[studio.Duty][]string{studio.TeacherDuty: c.teachers, studio.AssistantDuty: c.helpers} {
		for _, name := range names {
			if err := h.use.Roster(ctx, studio.ProgramActor(), studio.ClassStaff{ClassID: id, StaffID: h.staff[name], Duty: duty, FromOn: from, UntilOn: &until}); err != nil {
				return err
			}
		}
	}
	var places []studio.Enrolment
	for _, p := range earlierPupils(c.name) {
		places = append(places, studio.Enrolment{ClassID: id, ChildID: h.children[p.fullName()], FromOn: from, UntilOn: &until})
	}
	return h.use.RecordPlaces(ctx, studio.ProgramActor(), places)
}

// recordEarlier records the lessons of the earlier term and puts it away.
func (h *house) recordEarlier(ctx context.Context, meetings []meeting, past history) error {
	var lessons []app.PastLesson
	for i, m := range meetings {
		staff := h.staffAt(m)
		if m.round == thinLesson {
			for _, name := range m.course.helpers[:min(2, len(m.course.helpers))] {
				staff[h.staff[name]] = false
			}
		}
		lessons = append(lessons, app.PastLesson{Lesson: m.lesson.ID, Children: h.byID(past.present[i]), Staff: staff})
	}
	var marks []studio.Mark
	for _, t := range past.turns {
		marks = append(marks, h.markOf(t, meetings))
	}
	if err := h.use.RecordPast(ctx, studio.ProgramActor(), lessons, marks); err != nil {
		return err
	}
	return h.use.PutTermAway(ctx, studio.ProgramActor(), h.earlier.ID, true)
}
