package app

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/testkit"
)

// markers mark turns of a lesson of class A by its teacher and its assistant.
type markers struct {
	*desk
	t  *testing.T
	at time.Time
}

func (b *markers) mark(child, by, outcome string, after time.Duration, replaces *uuid.UUID) uuid.UUID {
	b.t.Helper()
	id := uuid.New()
	put(b.t, `insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_by, marked_at, replaces) values ($1, $2, 'hs-return', $3, $4, $5, $6, $7)`,
		id, testkit.SampleID(child), testkit.SampleID("1ea9"), outcome, testkit.SampleID(by), b.at.Add(after), replaces)
	return id
}

// both marks a turn twice.
func (b *markers) both(child, teacher, assistant string) {
	b.mark(child, "ac02", teacher, 0, nil)
	b.mark(child, "ac04", assistant, 5*time.Second, nil)
	b.at = b.at.Add(2 * time.Minute)
}

func TestAgreementPairsTurnsThatBothMarked(t *testing.T) {
	d := openDesk(t)
	b := &markers{d, t, time.Date(2026, 2, 25, 16, 30, 0, 0, time.UTC)}
	b.both("c1a1", "clean", "clean")
	b.both("c1a1", "missed", "clean")
	b.both("c1a2", "supported", "supported")
	// What the teacher corrects later stays the assistant's word; what the assistant corrects does not.
	wrong := b.mark("c1a2", "ac04", "missed", 0, nil)
	b.mark("c1a2", "ac02", "clean", 4*time.Second, nil)
	b.mark("c1a2", "ac04", "supported", 8*time.Second, &wrong)
	b.at = b.at.Add(5 * time.Minute)
	b.mark("c1a2", "ac04", "clean", 0, nil) // nobody else saw this one
	b.at = b.at.Add(5 * time.Minute)
	told := b.mark("c1a1", "ac04", "clean", 0, nil)
	b.mark("c1a1", "ac02", "missed", time.Hour, &told) // corrected after class, not seen beside

	for name, end := range map[string]string{"owner": "ac01", "teacher of the class": "ac02"} {
		view, err := d.Agreement(t.Context(), d.actor(t, end))
		if err != nil || len(view.Lines) != 1 {
			t.Fatalf("%s: %+v, %v", name, view, err)
		}
		l := view.Lines[0]
		want := [3][3]int{{0, 0, 1}, {0, 1, 0}, {0, 1, 1}}
		if l.Table != want || l.Turns != 4 || l.Children != 2 || !l.Few || l.Again || view.Floor != 0.6 {
			t.Errorf("%s: %+v, want the turns %v", name, l, want)
		}
	}
	view, err := d.Agreement(t.Context(), d.actor(t, "ac03"))
	if err != nil || len(view.Lines) != 0 {
		t.Errorf("teacher of another class: %+v, %v", view, err)
	}
}

func TestMarkTogetherAgainBelowTheFloor(t *testing.T) {
	line := func(kappa float64, turns, children int) AgreementLine {
		return AgreementLine{Kappa: kappa, Turns: turns, Children: children, Defined: true}
	}
	for _, c := range []struct {
		name  string
		line  AgreementLine
		again bool
	}{
		{"below", line(.5, 40, 8), true}, {"at the floor", line(.6, 40, 8), false}, {"too few turns", line(.1, FewDoubled-1, 8), false},
		{"too few children", line(.1, 40, FewDoubledChildren-1), false},
	} {
		if got := c.line.judged(.6); got.Again != c.again {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}
