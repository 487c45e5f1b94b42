package app

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// FamilyChild is one's own child in a list.
type FamilyChild struct {
	ID      uuid.UUID
	Name    string
	Classes []string
	Limits  []string
	Drills  int // at home today
	Next    []LessonLine
}

// HomeDrill is a drill to do at home, as a parent reads it.
type HomeDrill struct {
	Name     string
	Steps    []string
	Dose     string
	Space    string
	Caution  string
	Safe     string // why it is safe alone
	Adult    bool
	Why      string
	Until    time.Time
	OnHold   string // what a care limit says instead
	TwoSided bool
}

// NextRung is what comes next on a ladder.
type NextRung struct {
	Ladder, Name string
	Look         []string
	Begun        bool
}

// FamilyView is one's own child: drills, ladders and lessons, without anything that staff keep to themselves.
type FamilyView struct {
	ID      uuid.UUID
	Name    string
	Limits  []string
	Drills  []HomeDrill
	Ladders []LadderStand
	Next    []NextRung
	Lessons []LessonLine
	Reports []SorenessLine
}

// Family lists the actor's own children.
func (a *App) Family(ctx context.Context, actor studio.Actor) ([]FamilyChild, error) {
	var family []FamilyChild
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.offered(t, studio.SeeHome); err != nil {
			return err
		}
		children, err := t.OwnChildren(ctx)
		if err != nil {
			return err
		}
		for _, c := range children {
			child, err := familyChild(ctx, t, c)
			if err != nil {
				return err
			}
			family = append(family, child)
		}
		return nil
	})
	return family, err
}

func familyChild(ctx context.Context, t *postgres.Tx, p postgres.Pupil) (FamilyChild, error) {
	child := FamilyChild{ID: p.ID, Name: p.GivenName, Classes: p.ClassNames}
	limits, err := limitsInForce(ctx, t, []uuid.UUID{p.ID})
	if err != nil {
		return child, err
	}
	child.Limits = actions(limits[p.ID])
	given, err := t.HomeAssignmentsOf(ctx, p.ID)
	if err != nil {
		return child, err
	}
	for _, g := range given {
		if outOn(g, t.Today) {
			child.Drills++
		}
	}
	child.Next, err = nextLessons(ctx, t, p.ID)
	return child, err
}

func outOn(g studio.HomeAssignment, day time.Time) bool {
	return g.WithdrawnAt == nil && !day.Before(g.FromOn) && !day.After(g.UntilOn)
}

func nextLessons(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]LessonLine, error) {
	rows, err := t.NextLessonsOf(ctx, child)
	var lines []LessonLine
	for _, l := range rows {
		lines = append(lines, lessonLine(l))
	}
	slices.SortFunc(lines, func(x, y LessonLine) int { return x.StartsAt.Compare(y.StartsAt) })
	return lines, err
}

// FamilyChildOf shows one of the actor's own children.
func (a *App) FamilyChildOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (FamilyView, error) {
	var view FamilyView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeHome, Target{Child: child}); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		view.ID, view.Name, view.Limits = head.ID, head.GivenName, head.Limits
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		if err := view.addLadders(ctx, t, library); err != nil {
			return err
		}
		if view.Drills, err = homeDrills(ctx, t, library, child); err != nil {
			return err
		}
		if view.Reports, err = sorenessLines(ctx, t, child); err != nil {
			return err
		}
		view.Lessons, err = nextLessons(ctx, t, child)
		return err
	})
	return view, err
}

// addLadders takes the ladders that were begun, with their states in plain words instead of the staff's reasons.
func (v *FamilyView) addLadders(ctx context.Context, t *postgres.Tx, library *ladders) error {
	boards, err := library.boards(ctx, t, []uuid.UUID{v.ID})
	if err != nil {
		return err
	}
	for _, l := range library.stands(boards[v.ID]) {
		if !l.Begun() {
			continue
		}
		for i := range l.Rungs {
			l.Rungs[i].Reason, l.Rungs[i].Numbers = "", ""
		}
		v.Ladders = append(v.Ladders, l)
		if next := l.Next(); next != nil {
			v.Next = append(v.Next, NextRung{Ladder: l.Name, Name: next.Name, Look: library.rungs[next.Key].Look, Begun: next.Evidence != ""})
		}
	}
	return nil
}

// homeDrills are the drills at home today; one that a care limit forbids is on hold.
func homeDrills(ctx context.Context, t *postgres.Tx, library *ladders, child uuid.UUID) ([]HomeDrill, error) {
	given, err := t.HomeAssignmentsOf(ctx, child)
	if err != nil {
		return nil, err
	}
	limits, err := openLimits(ctx, t, child)
	var drills []HomeDrill
	for _, g := range given {
		if !outOn(g, t.Today) {
			continue
		}
		d := library.drills[g.DrillKey]
		drills = append(drills, HomeDrill{Name: d.Name, Steps: d.Steps, Dose: DoseWords(g.Dose, d.TwoSided), Space: d.Space, Caution: d.Caution,
			Safe: d.Home.Reason, Adult: d.Home.Adult, Why: g.Why, Until: g.UntilOn, OnHold: onHold(d, limits, t.Today), TwoSided: d.TwoSided})
	}
	return drills, err
}

// Sign is something that calls for help, with the words that a parent ticks.
type Sign struct {
	Key, Words string
}

const afterBend = "after-bend"

// SorenessSigns are asked after in every report. The last one counts together with pain in the back, neck or a leg.
func SorenessSigns() []Sign {
	return []Sign{
		{"numb", "Numbness, tingling or pins and needles"},
		{"weak", "Weak arms or legs"},
		{"walk", "Walking oddly, stumbling or not wanting to walk"},
		{"bladder", "Cannot hold or pass water, or the bowels, as usual"},
		{afterBend, "It came during a back-bend or in the hours after one"},
	}
}

func signWords(keys []string) []string {
	var words []string
	for _, s := range SorenessSigns() {
		if slices.Contains(keys, s.Key) {
			words = append(words, s.Words)
		}
	}
	return words
}

// SorenessPlaces are the parts of the body that a report names.
func SorenessPlaces() []string {
	return []string{"Back", "Neck", "Head", "Shoulder", "Elbow", "Wrist or hand", "Hip or thigh", "Knee", "Lower leg", "Ankle or foot", "Somewhere else"}
}

func spinal(place string) bool {
	return slices.Contains([]string{"Back", "Neck", "Hip or thigh", "Knee", "Lower leg"}, place)
}

// Urgent reports whether what was ticked calls for emergency services: signs of the nerves at any time, or pain in the back, neck or
// a leg that came with a back-bend. Sources: Guo et al. 2023, doi 10.3389/fped.2023.1263280; Alshorman et al. 2024,
// doi 10.22034/ncm.2024.437338.1167; the advice to call at once is drawn from them.
func Urgent(place string, signs []string) bool {
	for _, s := range signs {
		if s != afterBend || spinal(place) {
			return true
		}
	}
	return false
}

// EmergencyLines is what a parent reads first when a report is urgent.
func EmergencyLines() []string {
	return []string{
		"Stop. Let your child lie still and keep warm.",
		"Call emergency services now, even if it eases. Say: pain, numbness or weakness after a back-bend, in a child.",
		"Do not wait to see whether it passes, and do not drive if your child cannot walk as usual.",
	}
}

// HeadLine is for a knock to the head. Source: UK concussion guidelines for non-elite sport, 2023.
const HeadLine = "A knock to the head: no more sport today, somebody stays with your child, and ask a doctor or a health line within 24 hours. Call emergency services for vomiting, drowsiness, a seizure or worsening headache."

// NewSoreness is a report that something hurt.
type NewSoreness struct {
	Child   uuid.UUID
	Place   string
	HowMuch int
	Doing   string
	Signs   []string
}

// ReportSoreness keeps a parent's report and puts a care limit for that load in place at once, until a teacher clears it.
func (a *App) ReportSoreness(ctx context.Context, actor studio.Actor, n NewSoreness) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReportSoreness, Target{Child: n.Child}); err != nil {
			return err
		}
		if err := n.check(); err != nil {
			return err
		}
		limit, err := t.SetCareLimit(ctx, n.limit(t.Today), "")
		if err != nil {
			return err
		}
		report := studio.Soreness{ChildID: n.Child, Place: n.Place, HowMuch: n.HowMuch, Doing: n.Doing, Signs: append([]string{}, n.Signs...)}
		if err := t.ReportSoreness(ctx, report, limit); err != nil {
			return err
		}
		return t.Audit(ctx, "reported soreness", "child "+n.Child.String(), map[string]any{"limit": limit.String()})
	})
}

func (n NewSoreness) check() error {
	var wrong []studio.FieldError
	if !slices.Contains(SorenessPlaces(), n.Place) {
		wrong = append(wrong, studio.FieldError{Field: "place", Problem: "Say where it hurts."})
	}
	if n.HowMuch < 0 || n.HowMuch > 10 {
		wrong = append(wrong, studio.FieldError{Field: "how-much", Problem: "A whole number from 0 to 10."})
	}
	if len([]rune(n.Doing)) > 400 {
		wrong = append(wrong, studio.FieldError{Field: "doing", Problem: "At most 400 characters."})
	}
	for _, s := range n.Signs {
		if !slices.ContainsFunc(SorenessSigns(), func(k Sign) bool { return k.Key == s }) {
			wrong = append(wrong, studio.FieldError{Field: "signs", Problem: "Choose from those offered."})
			break
		}
	}
	return studio.Refuse("Nothing was sent.", wrong)
}

// limit is what the child must not do until a teacher has looked. Where in doubt it forbids more.
func (n NewSoreness) limit(today time.Time) studio.CareLimit {
	l := studio.CareLimit{ChildID: n.Child, FromOn: today, ReviewOn: &today}
	switch n.Place {
	case "Wrist or hand", "Elbow", "Shoulder":
		l.AvoidWrists, l.AvoidInverted = true, true
	case "Knee", "Lower leg", "Ankle or foot", "Hip or thigh":
		l.AvoidLanding = true
	case "Back", "Neck":
		l.AvoidBack, l.AvoidLanding, l.AvoidInverted = true, true, true
	default:
		l.AvoidBack, l.AvoidWrists, l.AvoidLanding, l.AvoidInverted = true, true, true, true
	}
	if len(n.Signs) > 0 {
		l.AvoidBack, l.AvoidWrists, l.AvoidLanding, l.AvoidInverted = true, true, true, true
	}
	l.Action = "No " + strings.ReplaceAll(avoids(l), " and ", " or ") + " until a teacher has looked"
	return l
}
