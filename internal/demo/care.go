package demo

import (
	"context"
	"fmt"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// limit is a care limit of a child from a day on.
type limit struct {
	child  string
	from   time.Time
	limit  studio.CareLimit
	reason string
}

func (l limit) forbids(r studio.Rung) bool {
	return l.limit.AvoidBack && r.Load.Back > 0 || l.limit.AvoidWrists && r.Load.Wrists > 0 ||
		l.limit.AvoidLanding && r.Load.Landing > 0 || l.limit.AvoidInverted && r.Inverted
}

// limits are set by teachers; the one that follows from a report of soreness is the program's own.
func limits(today time.Time) []limit {
	from, review := today.AddDate(0, 0, -9), today.AddDate(0, 0, 5)
	return []limit{{child: "Wren Ashdown", from: from, reason: "Fell on the left wrist in the playground; the family is seeing a physiotherapist.",
		limit: studio.CareLimit{AvoidWrists: true, Action: "No weight on the hands", FromOn: from, ReviewOn: &review}}}
}

// ache is a report that something hurt.
type ache struct {
	child, by, place, doing string
	howMuch                 int
}

func aches() []ache {
	return []ache{{child: "Leonie Weiß", by: "henrike.weiss@post.example", place: "Knee", howMuch: 3, doing: "Landing from the round-off; sore again on the stairs the next morning"}}
}

// homeDrill is a drill that a child has been given for home.
type homeDrill struct{ child, drill, why string }

func homeDrills() []homeDrill {
	return []homeDrill{
		{"Elowen Pascoe", "d-hand-tall-stand", "Ribs drift forward when you kick up."},
		{"Elowen Pascoe", "d-wheel-hand-order", "Your hands land together at the start of the wheel."},
		{"Jago Pascoe", "d-warm-squat-rise", "Heels come up in the deep squat."},
		{"Jago Pascoe", "d-hollow-tuck-hold", "To keep the back on the floor in the ball."},
		{"Amara Okonjo", "d-hand-wall-push", "Elbows soften when the weight comes over the hands."},
		{"Amara Okonjo", "d-wheel-finish-line", "So that the landing stands still."},
		{"Oisín Ó Faoláin", "d-roll-chin-hold", "Chin lifts in the roll."},
		{"Oisín Ó Faoláin", "d-hip-fold", "To sit taller in the straddle."},
		{"Wren Ashdown", "d-hip-side-raise", "Legs stay strong while the wrists rest."},
		{"Wren Ashdown", "d-split-half", "A stretch without the hands."},
		{"Bảo Châu Nguyễn", "d-shoulder-wall-slide", "Shoulders open before the bridge."},
		{"Kaito Fujimori", "d-hollow-hold", "For a straight line upside down."},
		{"Chiamaka Eze", "d-round-half-turn", "For the turn onto both feet."},
		{"Hollie Vane", "d-over-front-leg", "The leg leads the way back."},
		{"Blessing Adeoye", "d-hip-kneel-lean", "So that the hips travel, not the low back."},
		{"Ottilie Brandt", "d-warm-freeze", "Still feet when the music stops."},
	}
}

// exception is a drill that is not safe alone, and that a child may do at home by its teacher's tick.
type exception struct{ child, drill, reason, why string }

func exceptions() []exception {
	return []exception{{"Elowen Pascoe", "d-stand-hips-forward", "She lets the hips travel and keeps the ribs down; her mother has seen in class how it is done, and where it stops.",
		"So that the hips lead the way back, not the low back."}}
}

// addExceptions ticks them once the families have answered, and sends the drills.
func (h *house) addExceptions(ctx context.Context) error {
	for _, x := range exceptions() {
		child, teacher := h.children[x.child], h.teacherOf(x.child)
		if err := h.use.TickException(ctx, teacher, app.NewException{Child: child, Drill: x.drill, Reason: x.reason, Until: h.today.AddDate(0, 0, 20)}); err != nil {
			return fmt.Errorf("tick %s for %s: %w", x.drill, x.child, err)
		}
		n := app.NewHome{Child: child, Drill: x.drill, Dose: h.skills.doses[x.drill], From: h.today, Until: h.today.AddDate(0, 0, 13), Why: x.why}
		if err := h.use.SendHome(ctx, teacher, n); err != nil {
			return fmt.Errorf("send %s home with %s: %w", x.drill, x.child, err)
		}
	}
	return nil
}

// lessonNotes are the teachers' notes by class, from the newest past lesson back.
func lessonNotes() map[string][]string {
	return map[string][]string{
		terns:      {"Wheels travel straighter since the tape went down. Handstands: ask for the push before the kick. Less queue at the wedge with two lines.", "Rain on the roof, hard to hear the clock. Swap the bridge station away from the door."},
		sandpipers: {"Bear walks as a game worked far better than as a line. Stickers for quiet landings."},
		cormorants: {"Leonie sat out the last rotation. Ask how her knee is before the warm-up."},
		petrels:    {"Walk the showcase order next week. Nobody goes back to the floor without Marit or Zoë beside them."},
	}
}

// addCare sets the limits as the child's teacher, and reports what hurt as a parent, which puts a limit in place by itself.
func (h *house) addCare(ctx context.Context) error {
	for _, l := range limits(h.today) {
		l.limit.ChildID = h.children[l.child]
		if err := h.use.SetLimit(ctx, h.teacherOf(l.child), app.NewLimit{CareLimit: l.limit, Reason: l.reason}); err != nil {
			return err
		}
	}
	for _, a := range aches() {
		report := app.NewSoreness{Child: h.children[a.child], Place: a.place, HowMuch: a.howMuch, Doing: a.doing, Since: h.today.AddDate(0, 0, -1)}
		if _, err := h.use.ReportSoreness(ctx, h.as(a.by, studio.ParentRole), report); err != nil {
			return err
		}
	}
	return nil
}

// addHomeDrills sends the drills home since ten days ago, as the teacher of each child, in the dose that the library gives.
func (h *house) addHomeDrills(ctx context.Context) error {
	for _, d := range homeDrills() {
		n := app.NewHome{Child: h.children[d.child], Drill: d.drill, Dose: h.skills.doses[d.drill], From: h.today.AddDate(0, 0, -10), Until: h.today.AddDate(0, 0, 13), Why: d.why}
		if err := h.use.SendHome(ctx, h.teacherOf(d.child), n); err != nil {
			return fmt.Errorf("send %s home with %s: %w", d.drill, d.child, err)
		}
	}
	return nil
}

// teacherOf is the teacher of a child's first class, acting.
func (h *house) teacherOf(child string) studio.Actor {
	for _, p := range pupils() {
		for _, c := range courses() {
			if p.fullName() == child && p.class == c.name {
				teacher := h.as(staffEmail(c.teachers[0]), studio.TeacherRole)
				teacher.Name = c.teachers[0]
				return teacher
			}
		}
	}
	return studio.Actor{}
}
