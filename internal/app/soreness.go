package app

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// Sign is something that calls for help when a parent ticks it: emergency services at once, or a Doctor soon.
type Sign struct {
	Key    string
	Doctor bool
}

// Words are what a parent ticks.
func (s Sign) Words(b *words.Book) string { return b.Say("sign." + s.Key) }

const afterBend = "after-bend"

// SorenessSigns are asked after in every report. "After a back-bend" counts together with pain in the back, neck or a leg. Those for a
// doctor: American Journal of Neuroradiology, table 1 of red flags in children's back pain; pmmonline.org; nenc-healthiertogether.nhs.uk.
func SorenessSigns() []Sign {
	return []Sign{
		{Key: "numb"},
		{Key: "weak"},
		{Key: "walk"},
		{Key: "bladder"},
		{Key: afterBend},
		{Key: "night", Doctor: true},
		{Key: "fever", Doctor: true},
		{Key: "limp", Doctor: true},
		{Key: "worse", Doctor: true},
		{Key: "shape", Doctor: true},
		{Key: "stiff", Doctor: true},
	}
}

// signWords are the signs of a report as the staff read them.
func signWords(keys []string) []string {
	var said []string
	for _, s := range SorenessSigns() {
		if slices.Contains(keys, s.Key) {
			said = append(said, s.Words(nil))
		}
	}
	return said
}

// SorenessPlaces are the parts of the body that a report names.
func SorenessPlaces() []string {
	return []string{"Back", "Neck", "Head", "Shoulder", "Elbow", "Wrist or hand", "Hip or thigh", "Knee", "Lower leg", "Ankle or foot", "Somewhere else"}
}

// PlaceWords is a place of SorenessPlaces in the language of a Book.
func PlaceWords(b *words.Book, place string) string {
	return b.Say("place." + strings.ReplaceAll(strings.ToLower(place), " ", "-"))
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
		if err := n.check(words.Of(ctx), t.Today); err != nil {
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

func (n NewSoreness) check(b *words.Book, today time.Time) error {
	var wrong []studio.FieldError
	if !slices.Contains(SorenessPlaces(), n.Place) {
		wrong = append(wrong, studio.FieldError{Field: "place", Problem: b.Say("hurt.wrong.place")})
	}
	if n.HowMuch < 0 || n.HowMuch > 10 {
		wrong = append(wrong, studio.FieldError{Field: "how-much", Problem: b.Say("form.whole", "Least", 0, "Most", 10)})
	}
	if n.Since.IsZero() || n.Since.After(today) || n.Since.Before(today.AddDate(-2, 0, 0)) {
		wrong = append(wrong, studio.FieldError{Field: "since", Problem: b.Say("hurt.wrong.since")})
	}
	if len([]rune(n.Doing)) > 400 {
		wrong = append(wrong, studio.FieldError{Field: "doing", Problem: b.Count("form.too-long", 400)})
	}
	for _, s := range n.Signs {
		if !slices.ContainsFunc(SorenessSigns(), func(k Sign) bool { return k.Key == s }) {
			wrong = append(wrong, studio.FieldError{Field: "signs", Problem: b.Say("form.choose")})
			break
		}
	}
	return studio.Refuse(b.Say("form.nothing-sent"), wrong)
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
	l.Action = reportedAction(nil, l)
	return l
}

// reportedAction is the action of a limit that a report put in place.
func reportedAction(b *words.Book, l studio.CareLimit) string {
	var parts []string
	for _, p := range []struct {
		avoid bool
		words string
	}{{l.AvoidBack, b.Say("limit.back")}, {l.AvoidWrists, b.Say("limit.wrists")}, {l.AvoidLanding, b.Say("limit.landing")}, {l.AvoidInverted, b.Say("limit.inverted")}} {
		if p.avoid {
			parts = append(parts, p.words)
		}
	}
	return b.Say("limit.reported", "What", b.Either(parts))
}
