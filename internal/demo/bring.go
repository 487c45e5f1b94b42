package demo

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// addHistory makes the past up and records it.
func (h *house) addHistory(ctx context.Context) error {
	meetings, err := h.pastMeetings(ctx)
	if err != nil {
		return err
	}
	earlier, err := h.meetingsOf(ctx, h.earlierClasses)
	if err != nil {
		return err
	}
	past := makeHistory(h.skills, earlier, meetings, h.term.StartsOn, limits(h.today))
	if err := h.recordEarlier(ctx, earlier, *past.earlier); err != nil {
		return err
	}
	var lessons []app.PastLesson
	notes := h.notesOf(meetings)
	for i, m := range meetings {
		lessons = append(lessons, app.PastLesson{Lesson: m.lesson.ID, Children: h.byID(past.present[i]), Staff: h.staffAt(m), Note: notes[m.lesson.ID]})
	}
	var marks []studio.Mark
	for _, t := range past.turns {
		marks = append(marks, h.markOf(t, meetings))
	}
	return h.use.RecordPast(ctx, studio.ProgramActor(), lessons, marks)
}

// pastMeetings lists the lessons of this term's classes before today, in order of time.
func (h *house) pastMeetings(ctx context.Context) ([]meeting, error) {
	return h.meetingsOf(ctx, h.classes)
}

// meetingsOf lists the lessons of classes, by their names, before today.
func (h *house) meetingsOf(ctx context.Context, classes map[string]uuid.UUID) ([]meeting, error) {
	var meetings []meeting
	for _, c := range courses() {
		record, err := h.use.ClassRecord(ctx, studio.ProgramActor(), classes[c.name])
		if err != nil {
			return nil, err
		}
		round := 0
		for _, l := range record.Lessons {
			if dayOf(l.StartsAt).Before(h.today) {
				meetings = append(meetings, meeting{course: c, lesson: l.Lesson, round: round, markers: h.markers(c)})
				round++
			}
		}
	}
	slices.SortStableFunc(meetings, func(a, b meeting) int { return a.lesson.StartsAt.Compare(b.lesson.StartsAt) })
	return meetings, nil
}

// markers are those of a class who can mark: who has an account.
func (h *house) markers(c course) []string {
	var out []string
	for _, name := range slices.Concat(c.teachers, c.helpers) {
		if _, joined := h.accounts[staffEmail(name)]; joined {
			out = append(out, staffEmail(name))
		}
	}
	return out
}

func (h *house) byID(present map[string]bool) map[uuid.UUID]bool {
	out := map[uuid.UUID]bool{}
	for name, came := range present {
		out[h.children[name]] = came
	}
	return out
}

// staffAt lets everybody come to a past lesson, but for one helper at one of them.
func (h *house) staffAt(m meeting) map[uuid.UUID]bool {
	out := map[uuid.UUID]bool{}
	for _, name := range slices.Concat(m.course.teachers, m.course.helpers) {
		out[h.staff[name]] = name != expiredSignOff || m.round != 2
	}
	return out
}

// notesOf gives the newest past lessons of each class the teacher's notes.
func (h *house) notesOf(meetings []meeting) map[uuid.UUID]string {
	notes, given := lessonNotes(), map[string]int{}
	out := map[uuid.UUID]string{}
	for _, m := range slices.Backward(meetings) {
		if n := given[m.course.name]; n < len(notes[m.course.name]) {
			out[m.lesson.ID] = notes[m.course.name][n]
			given[m.course.name]++
		}
	}
	return out
}

func (h *house) markOf(t seenTurn, meetings []meeting) studio.Mark {
	by := h.accounts[t.by]
	m := studio.Mark{ID: t.id, ChildID: h.children[t.child], RungKey: t.rung, Side: t.side, Outcome: t.outcome, Faults: t.faults, MarkedBy: &by, MarkedAt: t.at}
	if t.meeting >= 0 {
		m.LessonID = &meetings[t.meeting].lesson.ID
	}
	return m
}

// meetTonight lets the first class meet at about this time; one helper is noted as away, unless the lesson was there before.
func (h *house) meetTonight(ctx context.Context, fresh bool) error {
	lesson, changed, err := h.use.MeetAt(ctx, studio.ProgramActor(), h.tonight.ID, startTonight(h.now, h.today))
	if err != nil || !changed && !fresh {
		return err
	}
	away := map[uuid.UUID]bool{}
	for _, s := range h.tonight.Staff {
		if s.StaffName == absentTonight {
			away[s.StaffID] = false
		}
	}
	if err := h.use.KeepBlocks(ctx, studio.ProgramActor(), lesson.ID, blocksTonight(lesson.Minutes)); err != nil {
		return err
	}
	if err := h.use.NotePresent(ctx, studio.ProgramActor(), lesson.ID, nil, away); err != nil {
		return err
	}
	err = plan(ctx, h.use, lesson.ID)
	if studio.CodeOf(err) == studio.Invalid { // no plan keeps every rule, once sign-offs have run out: the lesson's page says which
		return nil
	}
	return err
}

// blocksTonight share out the minutes of tonight's lesson.
func blocksTonight(minutes int) []studio.Block {
	return []studio.Block{
		{Position: 1, Kind: studio.ArriveBlock, Minutes: 3},
		{Position: 2, Kind: studio.WarmUpBlock, Minutes: 8, Drills: []string{"d-warm-joints", "d-warm-squat-rise", "d-warm-leg-swings"}},
		{Position: 3, Kind: studio.ConditioningBlock, Minutes: 7, Drills: []string{"d-hollow-hold", "d-hand-wall-push"}},
		{Position: 4, Kind: studio.StationsBlock, Minutes: minutes - 23},
		{Position: 5, Kind: studio.CoolDownBlock, Minutes: 5, Drills: []string{"d-calm-wrist-care", "d-calm-legs-wall"}},
	}
}

// startTonight is ten minutes from now, to the next five minutes, and not after today.
func startTonight(now, today time.Time) time.Time {
	start := now.Add(10*time.Minute - 1).Truncate(5 * time.Minute).Add(5 * time.Minute)
	if dayOf(start).After(today) {
		return start.Add(-10 * time.Minute)
	}
	return start
}
