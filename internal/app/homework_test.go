package app

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5/pgconn"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func aDrill(key string) NewHome {
	return NewHome{Child: testkit.SampleID("c1a1"), Drill: key, Dose: studio.Dose{Sets: 2, Repeats: 5}, From: date("2026-03-04"), Until: date("2026-03-17"), Why: "for the arms"}
}

// sentPast writes an assignment past the engine, as the teacher.
func (d *desk) sentPast(t *testing.T, n NewHome) error {
	t.Helper()
	return d.db.InTx(t.Context(), d.teacher, func(tx *postgres.Tx) error {
		return tx.AssignHome(t.Context(), studio.HomeAssignment{ChildID: n.Child, DrillKey: n.Drill, Dose: n.Dose, FromOn: n.From, UntilOn: n.Until})
	})
}

func wantConstraint(t *testing.T, what string, err error, name string) {
	t.Helper()
	var pg *pgconn.PgError
	if !errors.As(err, &pg) || pg.ConstraintName != name {
		t.Errorf("%s: got %v, want the database to refuse by %s", what, err, name)
	}
	wantCode(t, what, err, studio.Invalid)
}

// problem is what an error says of a field.
func problem(err error, field string) string {
	var e *studio.Error
	if !errors.As(err, &e) {
		return ""
	}
	return e.Problem(field)
}

func TestUnsafeDrillsDoNotGoHome(t *testing.T) {
	d := openDesk(t)
	if _, err := ownerConn(t).Exec(t.Context(), `update drill set load_wrists = case key when 'd-dish' then 1 else 0 end where key in ('d-dish', 'd-kick')`); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ drill, says, constraint string }{
		"a drill upside down":                 {"d-kick", "not for home", "home_assignment_drill_is_home_safe"},
		"a drill that a care limit forbids":   {"d-dish", "care limit", "home_assignment_obeys_limits"},
		"a drill that the child has already":  {"d-press", "already at home", ""},
		"a drill that is not in the library.": {"no-drill", "", ""},
	} {
		err := d.SendHome(t.Context(), d.teacher, aDrill(c.drill))
		if err == nil || !strings.Contains(problem(err, "drill"), c.says) {
			t.Errorf("%s: the program says %v", name, err)
		}
		if c.constraint != "" {
			wantConstraint(t, name, d.sentPast(t, aDrill(c.drill)), c.constraint)
		}
	}
}

// A drill that is out cannot be made unsafe under the child's hands.
func TestADrillAtHomeStaysSafe(t *testing.T) {
	d := openDesk(t)
	_, err := ownerConn(t).Exec(t.Context(), `update drill set home_safe = false where key = 'd-press'`)
	var pg *pgconn.PgError
	if !errors.As(err, &pg) || pg.ConstraintName != "home_assignment_home_safe_check" {
		t.Errorf("got %v, want the database to refuse", err)
	}
	if err := d.TakeBack(t.Context(), d.teacher, testkit.SampleID("c1a1"), testkit.SampleID("40a1")); err != nil {
		t.Error(err)
	}
	wantCode(t, "taken back twice", d.TakeBack(t.Context(), d.teacher, testkit.SampleID("c1a1"), testkit.SampleID("40a1")), studio.NotFound)
}

func TestDosesAndDaysAreWithinBounds(t *testing.T) {
	d := openDesk(t)
	for field, change := range map[string]func(*NewHome){
		"sets":    func(n *NewHome) { n.Dose.Sets = 0 },
		"repeats": func(n *NewHome) { n.Dose.Repeats = 51 },
		"hold":    func(n *NewHome) { n.Dose.HoldSeconds = 301 },
		"until":   func(n *NewHome) { n.Until = date("2026-03-03") },
		"why":     func(n *NewHome) { n.Why = strings.Repeat("a", 401) },
	} {
		n := aDrill("d-dish")
		change(&n)
		if err := d.SendHome(t.Context(), d.teacher, n); problem(err, field) == "" {
			t.Errorf("%s: got %v", field, err)
		}
	}
	if err := d.SendHome(t.Context(), d.teacher, aDrill("d-dish")); err != nil {
		t.Error(err)
	}
}

func TestSuggestionsAnswerWhatWasSeen(t *testing.T) {
	d := openDesk(t)
	if err := d.TakeBack(t.Context(), d.teacher, testkit.SampleID("c1a1"), testkit.SampleID("40a1")); err != nil {
		t.Fatal(err)
	}
	view, err := d.HomeworkOf(t.Context(), d.teacher, testkit.SampleID("c1a1"), "")
	if err != nil {
		t.Fatal(err)
	}
	if len(view.Suggested) == 0 || view.Suggested[0].Key != "d-press" || !strings.Contains(view.Suggested[0].Reason, "Arms bend") {
		t.Errorf("suggestions are %+v, want first the drill that answers the fault seen", view.Suggested)
	}
	if !slices.ContainsFunc(view.Refused, func(r HomeRefusal) bool { return r.Name == "Kick at the wall" && r.Reason != "" }) {
		t.Errorf("refusals are %+v, want the drill upside down with its reason", view.Refused)
	}
}

func TestDoseReadsAsASentence(t *testing.T) {
	for want, c := range map[string]struct {
		dose  studio.Dose
		sides bool
	}{
		"2 sets of 8, on 3 days a week":                                   {studio.Dose{Sets: 2, Repeats: 8}, false},
		"3 times, held 20 seconds each, on 3 days a week":                 {studio.Dose{Sets: 3, Repeats: 1, HoldSeconds: 20}, false},
		"1 set of 4, held 5 seconds each, on each side, on 3 days a week": {studio.Dose{Sets: 1, Repeats: 4, HoldSeconds: 5}, true},
	} {
		if got := DoseWords(c.dose, c.sides, 3); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
