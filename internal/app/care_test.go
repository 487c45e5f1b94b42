package app

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestReadingAReasonIsWrittenToTheTrail(t *testing.T) {
	d := openDesk(t)
	reason, err := d.LimitReason(t.Context(), d.teacher, testkit.SampleID("c1a1"), testkit.SampleID("ca01"))
	if err != nil || reason != "reasonleak-a1" {
		t.Fatalf("reason is %q, %v", reason, err)
	}
	if action, subject, _ := lastAudit(t, d.App); action != "read the reason of a care limit" || !strings.HasSuffix(subject, "c1a1") {
		t.Errorf("the trail says %q of %q", action, subject)
	}
	_, err = d.LimitReason(t.Context(), d.owner, testkit.SampleID("c1a1"), testkit.SampleID("cb01"))
	wantCode(t, "a limit of another child", err, studio.NotFound)
}

func TestLimitsThatSayNothingAreRefused(t *testing.T) {
	d := openDesk(t)
	review := date("2026-03-18")
	right := studio.CareLimit{ChildID: testkit.SampleID("c1a1"), AvoidBack: true, Action: "No back-bends", FromOn: date("2026-03-04"), ReviewOn: &review}
	before := date("2026-03-01")
	for name, change := range map[string]func(*studio.CareLimit){
		"nothing to avoid":             func(l *studio.CareLimit) { l.AvoidBack = false },
		"no action":                    func(l *studio.CareLimit) { l.Action = " " },
		"an end before the beginning":  func(l *studio.CareLimit) { l.UntilOn = &before },
		"nobody asked to look again":   func(l *studio.CareLimit) { l.ReviewOn = nil },
		"an action longer than a line": func(l *studio.CareLimit) { l.Action = strings.Repeat("a", 161) },
	} {
		l := right
		change(&l)
		wantCode(t, name, d.SetLimit(t.Context(), d.teacher, NewLimit{CareLimit: l}), studio.Invalid)
	}
	wantCode(t, "cleared without a note", d.ClearLimit(t.Context(), d.teacher, right.ChildID, testkit.SampleID("ca01"), " "), studio.Invalid)
	if err := d.ClearLimit(t.Context(), d.teacher, right.ChildID, testkit.SampleID("ca01"), "pain-free for a week"); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "cleared twice", d.ClearLimit(t.Context(), d.teacher, right.ChildID, testkit.SampleID("ca01"), "again"), studio.NotFound)
}

// Guo et al. 2023 and Alshorman et al. 2024 describe the signs; that they call for help at once is drawn from them (see Urgent).
func TestSignsThatCallForHelp(t *testing.T) {
	for name, c := range map[string]struct {
		place string
		signs []string
		want  bool
	}{
		"numbness anywhere":                    {"Wrist or hand", []string{"numb"}, true},
		"weak legs":                            {"Somewhere else", []string{"weak"}, true},
		"odd walking":                          {"Knee", []string{"walk"}, true},
		"bladder or bowels":                    {"Somewhere else", []string{"bladder"}, true},
		"back pain after a back-bend":          {"Back", []string{afterBend}, true},
		"leg pain after a back-bend":           {"Lower leg", []string{afterBend}, true},
		"thigh pain after a back-bend":         {"Hip or thigh", []string{afterBend}, true},
		"a sore wrist after a back-bend":       {"Wrist or hand", []string{afterBend}, false},
		"back pain without a back-bend":        {"Back", nil, false},
		"a sore ankle":                         {"Ankle or foot", nil, false},
		"numb wrist and after a bend together": {"Wrist or hand", []string{afterBend, "numb"}, true},
	} {
		if got := Urgent(c.place, c.signs); got != c.want {
			t.Errorf("%s: urgent is %v, want %v", name, got, c.want)
		}
	}
}

func TestAReportPutsALimitInPlaceAtOnce(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	report := NewSoreness{Child: child, Place: "Back", HowMuch: 4, Doing: "bridge", Signs: []string{afterBend}, Since: date("2026-03-04")}
	hurt := func(actor studio.Actor, n NewSoreness) error {
		_, err := d.ReportSoreness(t.Context(), actor, n)
		return err
	}
	tomorrow := report
	tomorrow.Since = date("2026-03-05")
	wantCode(t, "since tomorrow", hurt(d.parent, tomorrow), studio.Invalid)
	wantCode(t, "since no day", hurt(d.parent, NewSoreness{Child: child, Place: "Back"}), studio.Invalid)
	for name, actor := range map[string]studio.Actor{"parent of another child": d.actor(t, "ac07"), "teacher": d.teacher, "owner": d.owner, "assistant": d.assistant} {
		wantCode(t, name, hurt(actor, report), studio.NotFound)
	}
	wantCode(t, "a place that is none", hurt(d.parent, NewSoreness{Child: child, Place: "Nowhere"}), studio.Invalid)
	wantCode(t, "a sign that is none", hurt(d.parent, NewSoreness{Child: child, Place: "Back", Signs: []string{"x"}}), studio.Invalid)
	if err := hurt(d.parent, report); err != nil {
		t.Fatal(err)
	}
	view, err := d.CareOf(t.Context(), d.teacher, child)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(view.Limits, func(l LimitLine) bool { return l.Reported })
	if i < 0 || !view.Limits[i].InForce || !view.Limits[i].Due || view.Limits[i].Until != nil {
		t.Fatalf("limits are %+v, want one by the report: in force, due a look today, until cleared", view.Limits)
	}
	if !strings.Contains(view.Limits[i].Action, "back-bends") {
		t.Errorf("the limit says %q", view.Limits[i].Action)
	}
	if len(view.Soreness) != 2 || len(view.Soreness[0].Signs) != 1 {
		t.Errorf("reports are %+v, want the new one first with its sign", view.Soreness)
	}
	today, err := d.TodayOf(t.Context(), d.teacher)
	if err != nil || len(today.Staff.Attention) == 0 || !today.Staff.Attention[0].Urgent || today.Staff.Attention[0].Child != child ||
		!strings.Contains(today.Staff.Attention[0].Text, "ring them now") {
		t.Errorf("the teacher is told %+v, %v, want the report first", today.Staff, err)
	}
	// Only a teacher clears it: the second line holds that too.
	err = d.db.InTx(t.Context(), d.parent, func(tx *postgres.Tx) error {
		return tx.ClearCareLimit(t.Context(), child, view.Limits[i].ID, "better")
	})
	wantCode(t, "a parent clears the limit", err, studio.NotFound)
	if err := d.ClearLimit(t.Context(), d.teacher, child, view.Limits[i].ID, "looked at, pain-free"); err != nil {
		t.Error(err)
	}
}

// The second line alone: a guardian may put a limit on the own child, open and without an end, and on nobody else.
func TestGuardianSetsLimitsForTheOwnChildOnly(t *testing.T) {
	d := openDesk(t)
	set := func(child uuid.UUID) error {
		return d.db.InTx(t.Context(), d.parent, func(tx *postgres.Tx) error {
			_, err := tx.SetCareLimit(t.Context(), studio.CareLimit{ChildID: child, AvoidBack: true, Action: "No back-bends", FromOn: tx.Today}, "")
			return err
		})
	}
	if err := set(testkit.SampleID("c1a1")); err != nil {
		t.Errorf("the own child: %v", err)
	}
	wantCode(t, "a child that is no longer the own one", set(testkit.SampleID("c1b1")), studio.NotFound)
}

// A limit's days can be given again until it is cleared, always with a note, by its child's teachers and the owner only; each step stands
// in its trail with who did it, and that its reason was read.
func TestALimitIsExtendedWithANoteAndKeepsItsTrail(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	child, limit := testkit.SampleID("c1a1"), testkit.SampleID("ca01")
	until, review, past := date("2026-04-10"), date("2026-04-01"), date("2026-03-01")
	right := Extension{Child: child, Limit: limit, Until: &until, Review: &review, Note: "changenote"}
	for name, actor := range map[string]studio.Actor{"a teacher of another class": d.actor(t, "ac03"), "an assistant": d.assistant, "the parent": d.parent} {
		wantCode(t, name, d.ExtendLimit(ctx, actor, right), studio.NotFound)
	}
	wantCode(t, "a limit of another child", d.ExtendLimit(ctx, d.owner, Extension{Child: child, Limit: testkit.SampleID("cb01"), Until: &until, Note: "x"}), studio.NotFound)
	for name, change := range map[string]func(*Extension){
		"no note":                    func(e *Extension) { e.Note = " " },
		"a last day that is over":    func(e *Extension) { e.Until, e.Review = &past, nil },
		"to look again after it":     func(e *Extension) { e.Until = &review; e.Review = &until },
		"neither an end nor a look":  func(e *Extension) { e.Until, e.Review = nil, nil },
		"to look again on a day ago": func(e *Extension) { e.Review = &past },
	} {
		e := right
		change(&e)
		wantCode(t, name, d.ExtendLimit(ctx, d.teacher, e), studio.Invalid)
	}
	if err := d.ExtendLimit(ctx, d.teacher, right); err != nil {
		t.Fatal(err)
	}
	d.now = d.now.Add(time.Minute)
	if _, err := d.LimitReason(ctx, d.owner, child, limit); err != nil {
		t.Fatal(err)
	}
	d.now = d.now.Add(time.Minute)
	if err := d.ClearLimit(ctx, d.owner, child, limit, "clearnote"); err != nil {
		t.Fatal(err)
	}
	view, err := d.CareOf(ctx, d.teacher, child)
	if err != nil {
		t.Fatal(err)
	}
	line := view.Limits[slices.IndexFunc(view.Limits, func(l LimitLine) bool { return l.ID == limit })]
	var told []string
	for _, e := range line.Trail {
		told = append(told, e.Text+" "+e.Note)
	}
	want := []string{"Set by Tove Arkle changeleak-a1", "Extended by Tove Arkle until 10 April, to be looked at on 1 April changenote",
		"The reason was read by Orla Quist ", "Cleared by Orla Quist clearnote"}
	if !slices.Equal(told, want) {
		t.Errorf("the trail tells %q, want %q", told, want)
	}
	wantCode(t, "extended once cleared", d.ExtendLimit(ctx, d.teacher, right), studio.NotFound)
}

// The note of clearing may say why the limit was set: it stands where assistants and parents have no rows at all.
func TestOnlyTeachersReadWhatBecameOfALimit(t *testing.T) {
	d := openDesk(t)
	for name, c := range map[string]struct {
		actor studio.Actor
		rows  int
	}{"owner": {d.owner, 2}, "teacher": {d.teacher, 2}, "another teacher": {d.actor(t, "ac03"), 0}, "assistant": {d.assistant, 0}, "parent": {d.parent, 0}} {
		err := d.db.InTx(t.Context(), c.actor, func(tx *postgres.Tx) error {
			changes, err := tx.LimitChangesOf(t.Context(), testkit.SampleID("c1a1"))
			if len(changes) != c.rows {
				t.Errorf("%s reads %d changes, want %d", name, len(changes), c.rows)
			}
			return err
		})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// One limit, everywhere: the care page says what falls away, the planner leaves it out, a drill that it forbids does not go home, and an
// assistant whose plan is older than the limit is told to stop.
func TestALimitHoldsInLessonHomeAndHall(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	child := testkit.SampleID("c1a1")
	care, err := d.CareOf(ctx, d.teacher, child)
	if err != nil {
		t.Fatal(err)
	}
	closes := care.Limits[slices.IndexFunc(care.Limits, func(l LimitLine) bool { return l.ID == testkit.SampleID("ca01") })].Closes
	if len(closes) != 1 || !slices.Contains(closes[0].Rungs, "Small kick and return") {
		t.Errorf("without weight on the hands %+v falls away, want the small kick of the handstand", closes)
	}
	err = d.db.InTx(ctx, d.teacher, func(tx *postgres.Tx) error {
		e, _, err := readEvening(ctx, tx, testkit.SampleID("1ea0"))
		if err != nil {
			return err
		}
		tonight, err := limitsTonight(ctx, tx, []uuid.UUID{child}, e.day)
		if err != nil {
			return err
		}
		if got := e.forbids(tonight[child], rungActivity("hs-return")); got != "limitdo-a1" {
			t.Errorf("the class sheet is told %q, want the limit", got)
		}
		if got := e.forbids(tonight[child], drillActivity("d-dish")); got != "" {
			t.Errorf("a drill that is allowed is forbidden by %q", got)
		}
		for _, c := range e.input(nil).Children {
			if c.ID == child.String() && !c.AvoidWrists {
				t.Error("the planner is not told to keep weight off the hands")
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	stations, err := d.Stations(ctx, d.assistant, testkit.SampleID("1ea0"))
	if err != nil {
		t.Fatal(err)
	}
	if row := stations.Turns[0].Children[0]; row.Stop != "limitdo-a1" {
		t.Errorf("the assistant reads %+v, want to be stopped by the limit", row)
	}
	conn := ownerConn(t)
	if _, err := conn.Exec(ctx, `update drill set load_wrists = 1 where key = 'd-dish'`); err != nil {
		t.Fatal(err)
	}
	err = d.SendHome(ctx, d.teacher, NewHome{Child: child, Drill: "d-dish", Dose: studio.Dose{Sets: 1, Repeats: 5}, From: date("2026-03-04"), Until: date("2026-03-11")})
	wantCode(t, "a drill on the hands for home", err, studio.Invalid)
}
