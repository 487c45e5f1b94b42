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

// Sign is something that calls for help, with the words that a parent ticks: emergency services at once, or a Doctor soon.
type Sign struct {
	Key, Words string
	Doctor     bool
}

const afterBend = "after-bend"

// SorenessSigns are asked after in every report. "After a back-bend" counts together with pain in the back, neck or a leg. Those for a
// doctor: American Journal of Neuroradiology, table 1 of red flags in children's back pain; pmmonline.org; nenc-healthiertogether.nhs.uk.
func SorenessSigns() []Sign {
	return []Sign{
		{Key: "numb", Words: "Numbness, tingling or pins and needles"},
		{Key: "weak", Words: "Weak arms or legs"},
		{Key: "walk", Words: "Walking oddly, stumbling or not wanting to walk"},
		{Key: "bladder", Words: "Cannot hold or pass water, or the bowels, as usual"},
		{Key: afterBend, Words: "It came during a back-bend or in the hours after one"},
		{Key: "night", Words: "It hurts at night, or wakes your child", Doctor: true},
		{Key: "fever", Words: "Fever, or losing weight", Doctor: true},
		{Key: "limp", Words: "A limp", Doctor: true},
		{Key: "worse", Words: "It is getting worse", Doctor: true},
		{Key: "shape", Words: "The back has changed its shape", Doctor: true},
		{Key: "stiff", Words: "Stiff for more than half an hour in the morning", Doctor: true},
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
	return slices.ContainsFunc(SorenessSigns(), func(s Sign) bool {
		return slices.Contains(signs, s.Key) && !s.Doctor && (s.Key != afterBend || spinal(place))
	})
}

// doctorAfter is how many days something may hurt before a doctor should look, by the sources of the signs.
const doctorAfter = 28

// ForDoctor reports whether a doctor should look, by what was ticked and by how many days it has hurt.
func ForDoctor(signs []string, days int) bool {
	return days > doctorAfter || slices.ContainsFunc(SorenessSigns(), func(s Sign) bool { return s.Doctor && slices.Contains(signs, s.Key) })
}

// DoctorLine is what a parent reads when a doctor should look.
const DoctorLine = "What you ticked is for a doctor to look at: ring yours today, or a health line. Do not wait for the next lesson."

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
	Since   time.Time // the day on which it began
}

// Advice is what a parent should do about a report.
type Advice int

// The advices.
const (
	WaitForTeacher Advice = iota
	SeeDoctor
	CallNow // emergency services
)

func (n NewSoreness) advice(today time.Time) Advice {
	switch {
	case Urgent(n.Place, n.Signs):
		return CallNow
	case ForDoctor(n.Signs, int(today.Sub(n.Since).Hours()/24)):
		return SeeDoctor
	}
	return WaitForTeacher
}

// ReportSoreness keeps a parent's report and puts a care limit for that load in place at once, until a teacher clears it. The child's
// teachers are told by e-mail where there is a mail server, without a word of what hurts.
func (a *App) ReportSoreness(ctx context.Context, actor studio.Actor, n NewSoreness) (Advice, error) {
	var advice Advice
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReportSoreness, Target{Child: n.Child}); err != nil {
			return err
		}
		if err := n.check(t.Today); err != nil {
			return err
		}
		advice = n.advice(t.Today)
		limit, err := t.SetCareLimit(ctx, n.limit(t.Today), "")
		if err != nil {
			return err
		}
		report := studio.Soreness{ChildID: n.Child, Place: n.Place, HowMuch: n.HowMuch, Doing: n.Doing, Signs: append([]string{}, n.Signs...), BeganOn: &n.Since}
		if err := t.ReportSoreness(ctx, report, limit); err != nil {
			return err
		}
		return t.Audit(ctx, "reported soreness", "child "+n.Child.String(), map[string]any{"limit": limit.String()})
	})
	if err == nil {
		a.tellTeachers(ctx, n.Child)
	}
	return advice, err
}

func (n NewSoreness) check(today time.Time) error {
	var wrong []studio.FieldError
	if !slices.Contains(SorenessPlaces(), n.Place) {
		wrong = append(wrong, studio.FieldError{Field: "place", Problem: "Say where it hurts."})
	}
	if n.HowMuch < 0 || n.HowMuch > 10 {
		wrong = append(wrong, studio.FieldError{Field: "how-much", Problem: "A whole number from 0 to 10."})
	}
	if n.Since.IsZero() || n.Since.After(today) || n.Since.Before(today.AddDate(-2, 0, 0)) {
		wrong = append(wrong, studio.FieldError{Field: "since", Problem: "The day on which it began: today, or earlier."})
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
