package app

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// put runs SQL as the owner of the tables.
func put(t *testing.T, sql string, args ...any) {
	t.Helper()
	if _, err := ownerConn(t).Exec(t.Context(), sql, args...); err != nil {
		t.Fatal(err)
	}
}

func TestWhoReadsForecastsAndAgreement(t *testing.T) {
	d, ctx, own := openDesk(t), t.Context(), testkit.SampleID("c1a1")
	teacherB := d.actor(t, "ac03")
	read := func(a studio.Actor) error { _, err := d.Forecasts(ctx, a); return err }
	fit := func(a studio.Actor) error { return d.FitForecasts(ctx, a) }
	agree := func(a studio.Actor) error { _, err := d.Agreement(ctx, a); return err }
	ahead := func(a studio.Actor) error { _, err := d.AheadOf(ctx, a, own); return err }
	for name, c := range map[string]struct {
		actor studio.Actor
		do    func(studio.Actor) error
	}{
		"assistant cannot read how rungs are learned":         {d.assistant, read},
		"parent cannot read how rungs are learned":            {d.parent, read},
		"nobody can read it signed out":                       {studio.Actor{}, read},
		"teacher cannot have it worked out":                   {d.teacher, fit},
		"assistant cannot have it worked out":                 {d.assistant, fit},
		"assistant cannot see how markers agree":              {d.assistant, agree},
		"parent cannot see how markers agree":                 {d.parent, agree},
		"teacher of another class has no forecast of a child": {teacherB, ahead},
		"assistant has no forecast of a child":                {d.assistant, ahead},
		"parent has no forecast of the own child":             {d.parent, ahead},
	} {
		wantCode(t, name, c.do(c.actor), studio.NotFound)
	}
	for name, err := range map[string]error{"owner reads": read(d.owner), "teacher reads": read(d.teacher), "owner has it worked out": fit(d.owner),
		"owner sees agreement": agree(d.owner), "teacher sees agreement": agree(d.teacher), "teacher looks ahead": ahead(d.teacher)} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err := d.AheadOf(ctx, d.teacher, uuid.New())
	wantCode(t, "a child that is not there", err, studio.NotFound)
}

func TestFitsAreSumsOverTheStudio(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	if err := d.FitForecasts(ctx, d.owner); err != nil {
		t.Fatal(err)
	}
	view, err := d.Forecasts(ctx, d.teacher)
	if err != nil {
		t.Fatal(err)
	}
	if len(view.Ladders) != 1 || len(view.Ladders[0].Rungs) != 1 || view.MayFit || !view.FittedAt.Equal(d.now) {
		t.Fatalf("the teacher reads %+v", view)
	}
	// All three children of the studio count, of whom the teacher takes two; three marks are far too few.
	if r := view.Ladders[0].Rungs[0]; r.Children != 3 || r.Marks != 3 || r.Used || r.Enough || r.Known != standing.DefaultLearning().Known {
		t.Errorf("the rung is %+v", r)
	}
	// Of the teacher's two children neither has the lower rung secure: it would open the one above for both.
	if want := []UnlockLine{{Key: "hs-return", Name: "Small kick and return", Opens: 2, Children: 2}}; !slices.Equal(view.Unlocks, want) {
		t.Errorf("unlocks %+v, want %+v", view.Unlocks, want)
	}
}

func TestFitWithEnoughMarksIsUsed(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	for n := range standing.LeastChildren {
		child := uuid.New()
		put(t, `insert into child (id, given_name, initial, joined_on) values ($1, $2, 'Z', '2025-09-01')`, child, fmt.Sprintf("Zaffre%d", n))
		for turn := range standing.LeastMarks/standing.LeastChildren + 1 {
			outcome := "missed"
			if turn > 3+n%4 {
				outcome = "clean"
			}
			put(t, `insert into mark (id, child_id, rung_key, outcome, marked_at) values (gen_random_uuid(), $1, 'hs-hold', $2, $3)`,
				child, outcome, d.now.Add(time.Duration(turn-100)*time.Minute))
		}
	}
	if err := d.KeepForecastsFresh(ctx); err != nil { // the sample's fit is three days old
		t.Fatal(err)
	}
	view, err := d.Forecasts(ctx, d.owner)
	if err != nil {
		t.Fatal(err)
	}
	rungs := view.Ladders[0].Rungs
	if len(rungs) != 2 || rungs[0].Used || !rungs[1].Used || rungs[1].HeldAfter <= rungs[1].HeldBefore || rungs[1].Learn <= standing.DefaultLearning().Learn || !view.MayFit {
		t.Errorf("the rungs are %+v", rungs)
	}
	first := view.FittedAt
	for _, c := range []struct {
		hours int
		again bool
	}{{23, false}, {25, true}} {
		d.now = first.Add(time.Duration(c.hours) * time.Hour)
		if err := d.KeepForecastsFresh(ctx); err != nil {
			t.Fatal(err)
		}
		if view, err = d.Forecasts(ctx, d.owner); err != nil || view.FittedAt.Equal(d.now) != c.again {
			t.Errorf("after %d hours fitted at %v, %v", c.hours, view.FittedAt, err)
		}
	}
}

func TestForecastCountsEveryClassOfTheChild(t *testing.T) {
	d, ctx, own := openDesk(t), t.Context(), testkit.SampleID("c1a1")
	ahead := func() (ChildForecast, error) {
		view, err := d.AheadOf(ctx, d.teacher, own)
		return view.Forecast, err
	}
	view, err := ahead()
	if err != nil || view.Why == "" || len(view.Rungs) > 0 {
		t.Fatalf("without lessons to come: %+v, %v", view, err)
	}
	for _, day := range []string{"2026-03-11", "2026-03-18", "2026-03-25", "2026-04-01"} { // the last is after the showcase
		put(t, `insert into lesson (class_id, starts_at, minutes) values ($1, $2::date + time '16:30', 60)`, testkit.SampleID("c0a0"), day)
	}
	put(t, `insert into lesson (class_id, starts_at, minutes, cancelled_at) values ($1, '2026-03-12 16:30+00', 60, now())`, testkit.SampleID("c0a0"))
	put(t, `insert into enrolment (class_id, child_id, from_on) values ($1, $2, '2026-01-05')`, testkit.SampleID("c0b0"), own)
	put(t, `insert into lesson (class_id, starts_at, minutes) values ($1, '2026-03-11 20:00+00', 60)`, testkit.SampleID("c0b0"))
	if view, err = ahead(); err != nil {
		t.Fatal(err)
	}
	// 3 lessons of the own class, and 1 tomorrow week and 1 tonight of a class that the teacher does not take.
	if view.Lessons != 5 || view.What != "showcase" || view.By.Format(time.DateOnly) != "2026-03-28" || view.Why != "" {
		t.Errorf("ahead: %+v", view)
	}
	var keys []string
	for _, r := range view.Rungs {
		keys = append(keys, r.Key)
		if r.Secure <= 0 || r.Secure >= 1 || r.Turns <= 0 || r.Own {
			t.Errorf("forecast %+v", r)
		}
	}
	slices.Sort(keys)
	if !slices.Equal(keys, []string{"hs-return", "sp-shape"}) {
		t.Errorf("rungs %v, want those that are open or begun", keys)
	}
	if len(view.Waiting) != 1 || view.Waiting[0].Key != "hs-hold" || !slices.Equal(view.Waiting[0].First, []string{"Small kick and return"}) {
		t.Errorf("waiting: %+v", view.Waiting)
	}
}

// The rights of the program are those of the sums alone: beside them a teacher is told of no class that another takes.
func TestLookingAheadGivesNoOtherRights(t *testing.T) {
	d, ctx, own := openDesk(t), t.Context(), testkit.SampleID("c1a1")
	put(t, `insert into enrolment (class_id, child_id, from_on) values ($1, $2, '2026-01-05')`, testkit.SampleID("c0b0"), own)
	view, err := d.AheadOf(ctx, d.teacher, own)
	if err != nil {
		t.Fatal(err)
	}
	if len(view.Classes) != 1 || view.Classes[0].ID != testkit.SampleID("c0a0") {
		t.Errorf("the teacher is told of %+v, want of the own class alone", view.Classes)
	}
	err = d.db.InTx(ctx, d.teacher, func(tx *postgres.Tx) error {
		_, err := tx.Lesson(ctx, testkit.SampleID("1eb0"))
		return err
	})
	wantCode(t, "another teacher's lesson after looking ahead", err, studio.NotFound)
}

func TestTheSecureRuleIsTheStudios(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	state := func() string {
		t.Helper()
		view, err := d.ChildOf(ctx, d.teacher, testkit.SampleID("c1a2"))
		if err != nil {
			t.Fatal(err)
		}
		return view.Ladders[0].Rungs[0].State
	}
	if got := state(); got != "working" {
		t.Errorf("one clean mark makes %s", got)
	}
	put(t, `update studio_settings set chosen = '{"secure": {"clean": 1, "window": 1, "lessons": 1}}'`)
	if got := state(); got != "secure" {
		t.Errorf("one clean mark under a rule of one makes %s", got)
	}
}
