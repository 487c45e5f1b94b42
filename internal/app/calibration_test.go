package app

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// moreLessons puts lessons of class A on the calendar.
func moreLessons(t *testing.T, days ...string) {
	t.Helper()
	for _, day := range days {
		put(t, `insert into lesson (class_id, starts_at, minutes) values ($1, $2::date + time '16:30', 60)`, testkit.SampleID("c0a0"), day)
	}
}

// keptLines reads what was kept on a day: child, rung, made for, day due, chance.
func keptLines(t *testing.T, on time.Time) []string {
	t.Helper()
	rows, err := ownerConn(t).Query(t.Context(), `select right(child_id::text, 4) || ' ' || r || ' ' || made_for || ' ' || due_on || ' ' || round(c::numeric, 9)
		from forecast_kept, unnest(rungs, chances) x (r, c) where made_on = $1 order by 1`, on)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

func TestWhoSeesHowForecastsTurnedOut(t *testing.T) {
	d, ctx, own := openDesk(t), t.Context(), testkit.SampleID("c0a0")
	all := func(a studio.Actor) error { _, err := d.Calibration(ctx, a, studio.ForChild); return err }
	class := func(a studio.Actor) error { _, err := d.ClassCalibration(ctx, a, studio.ForChild, own); return err }
	for name, c := range map[string]struct {
		actor studio.Actor
		do    func(studio.Actor) error
	}{
		"teacher cannot see it of the whole studio":     {d.teacher, all},
		"assistant cannot see it of the whole studio":   {d.assistant, all},
		"parent cannot see it of the whole studio":      {d.parent, all},
		"nobody sees it signed out":                     {studio.Actor{}, all},
		"teacher of another class cannot see a class's": {d.actor(t, "ac03"), class},
		"assistant cannot see a class's":                {d.assistant, class},
		"parent cannot see that of the child's class":   {d.parent, class},
	} {
		wantCode(t, name, c.do(c.actor), studio.NotFound)
	}
	for name, err := range map[string]error{"owner over everything": all(d.owner), "owner of a class": class(d.owner), "teacher of the own class": class(d.teacher)} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What is kept is what the pages say, once a week, for the showcase and, while that is further off, for four weeks ahead.
func TestForecastsAreKeptAsThePagesSay(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	moreLessons(t, "2026-03-11", "2026-03-18", "2026-03-25")
	if err := d.KeepForecasts(ctx); err != nil {
		t.Fatal(err)
	}
	view, err := d.AheadOf(ctx, d.teacher, testkit.SampleID("c1a1"))
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, r := range view.Forecast.Rungs {
		want = append(want, fmt.Sprintf("c1a1 %s child 2026-03-28 %.9f", r.Key, r.Secure))
	}
	slices.Sort(want)
	today := time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC)
	lines := keptLines(t, today)
	got := slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return !strings.HasPrefix(l, "c1a1") || !strings.Contains(l, " child ") })
	if len(want) == 0 || !slices.Equal(got, want) {
		t.Errorf("kept %q, the page says %q", got, want)
	}
	d.now = d.now.AddDate(0, 0, 2) // the same week
	if err := d.KeepForecasts(ctx); err != nil || len(keptLines(t, today.AddDate(0, 0, 2))) > 0 || len(keptLines(t, today)) != len(lines) {
		t.Errorf("kept twice in a week: %v", err)
	}
	d.now = d.now.AddDate(0, 0, 3) // the Monday after
	if err := d.KeepForecasts(ctx); err != nil || len(keptLines(t, today.AddDate(0, 0, 5))) == 0 {
		t.Errorf("nothing was kept in the next week: %v", err)
	}
}

func TestForecastsLookFourWeeksAheadToo(t *testing.T) {
	d := openDesk(t)
	moreLessons(t, "2026-02-04", "2026-02-11", "2026-03-18")
	put(t, `delete from forecast_kept`)
	if err := d.KeepForecastsAsOf(t.Context(), time.Date(2026, 2, 2, 22, 0, 0, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	due := map[string]bool{}
	for _, l := range keptLines(t, time.Date(2026, 2, 2, 0, 0, 0, 0, time.UTC)) {
		due[strings.Fields(l)[3]] = true
	}
	if len(due) != 2 || !due["2026-03-02"] || !due["2026-03-28"] {
		t.Errorf("due on %v", due)
	}
}

// A forecast of an earlier moment knows nothing of what came after it.
func TestEarlierForecastsKnowNothingLater(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	moreLessons(t, "2026-02-04", "2026-02-11", "2026-03-18")
	then := time.Date(2026, 2, 9, 22, 0, 0, 0, time.UTC)
	keep := func() []string {
		put(t, `delete from forecast_kept`)
		if err := d.KeepForecastsAsOf(ctx, then); err != nil {
			t.Fatal(err)
		}
		return keptLines(t, time.Date(2026, 2, 9, 0, 0, 0, 0, time.UTC))
	}
	before := keep()
	put(t, `insert into attendance (lesson_id, child_id, present, noted_at) select id, $1, false, starts_at from lesson where class_id = $2 and starts_at > $3
		on conflict do nothing`, testkit.SampleID("c1a1"), testkit.SampleID("c0a0"), then)
	for _, rung := range []string{"hs-return", "sp-shape"} {
		put(t, `insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_at) select gen_random_uuid(), $1, $2, id, 'clean', starts_at + n * interval '1 minute'
			from lesson, generate_series(1, 5) n where class_id = $3 and starts_at > $4`, testkit.SampleID("c1a1"), rung, testkit.SampleID("c0a0"), then)
	}
	if after := keep(); len(before) == 0 || !slices.Equal(before, after) {
		t.Errorf("before %q, after %q", before, after)
	}
}

// cleanMarks are of child A1 at the lower rung: two in each of two lessons, which meets the rule with the last one.
func cleanMarks(t *testing.T, child string, days ...string) {
	t.Helper()
	for i, day := range days {
		put(t, `insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_at) values (gen_random_uuid(), $1, 'hs-return',
			(select id from lesson where class_id = $2 order by starts_at limit 1 offset $3), 'clean', $4::timestamptz)`,
			testkit.SampleID(child), testkit.SampleID("c0a0"), i%2, day+" 17:00+00")
	}
}

func TestForecastsAreJudgedByTheirDayAndRule(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	put(t, `delete from forecast_kept`)
	moreLessons(t, "2026-01-07", "2026-01-14")
	cleanMarks(t, "c1a1", "2026-01-26", "2026-01-27", "2026-01-28", "2026-02-01") // four of four in two lessons, on 1 February
	keep := func(rule [3]int, due string) {
		put(t, `insert into forecast_kept values ($1, $2, 'child', '2026-01-12', $3, $4, $5, $6, '{hs-return,gone-since}', '{0.6,0.5}')`,
			testkit.SampleID("c0a0"), testkit.SampleID("c1a1"), due, rule[0], rule[1], rule[2])
	}
	keep([3]int{4, 5, 2}, "2026-01-31") // a day early
	keep([3]int{4, 5, 2}, "2026-02-01")
	keep([3]int{5, 5, 2}, "2026-02-02")                                                                 // a harder rule
	keep([3]int{1, 1, 1}, "2026-01-26")                                                                 // an easier one
	put(t, `update studio_settings set chosen = '{"secure": {"clean": 1, "window": 1, "lessons": 1}}'`) // the rule of now counts for none
	view, err := d.ClassCalibration(ctx, d.teacher, studio.ForChild, testkit.SampleID("c0a0"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range view.Cases {
		got = append(got, fmt.Sprintf("%s %v", c.DueOn.Format("02.01."), c.True))
	}
	if want := []string{"26.01. true", "31.01. false", "01.02. true", "02.02. false"}; !slices.Equal(got, want) {
		t.Errorf("judged %v, want %v", got, want)
	}
	if view.Judged != 4 || view.Gone != 4 || view.Rules != 3 || view.Enough || view.Result.Children != 1 {
		t.Errorf("the sum is %+v", view)
	}
	file, err := view.File()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(file.Body))).ReadAll()
	if err != nil || len(rows) != 5 || !slices.Equal(rows[3], []string{"1", "Small kick and return", "2026-01-12", "2026-02-01", "0.6", "1"}) {
		t.Errorf("the file holds %v, %v", rows, err)
	}
}

func TestWhoLeftOrStayedAwayIsCountedApart(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	put(t, `delete from forecast_kept`)
	keep := func(child string, made, due string) {
		put(t, `insert into forecast_kept values ($1, $2, 'child', $3, $4, 4, 5, 2, '{hs-return}', '{0.6}')`, testkit.SampleID("c0a0"), testkit.SampleID(child), made, due)
	}
	keep("c1a1", "2026-02-02", "2026-03-02") // marked on 25 February
	keep("c1a1", "2026-01-12", "2026-02-09") // at no lesson
	keep("c1a1", "2026-02-25", "2026-03-02") // the mark is of the day on which it was made
	keep("c1a1", "2026-03-02", "2026-03-28") // not due
	keep("c1a2", "2026-02-02", "2026-03-02")
	put(t, `update enrolment set until_on = '2026-02-20' where child_id = $1`, testkit.SampleID("c1a2"))
	view, err := d.ClassCalibration(ctx, d.teacher, studio.ForChild, testkit.SampleID("c0a0"))
	if err != nil || view.Judged != 1 || view.Away != 2 || view.Left != 1 || view.Waiting != 1 || view.Next.Format(time.DateOnly) != "2026-03-28" {
		t.Errorf("judged %+v, %v", view, err)
	}
}

// What two classes kept of one child's page counts once over the studio, and in each class.
func TestChildOfTwoClassesCountsOnce(t *testing.T) {
	d, ctx, child := openDesk(t), t.Context(), testkit.SampleID("c1a1")
	put(t, `delete from forecast_kept`)
	put(t, `insert into enrolment (class_id, child_id, from_on) values ($1, $2, '2026-01-05')`, testkit.SampleID("c0b0"), child)
	for _, class := range []string{"c0a0", "c0b0"} {
		put(t, `insert into forecast_kept values ($1, $2, 'child', '2026-02-02', '2026-03-02', 4, 5, 2, '{hs-return}', '{0.6}'),
			($1, $2, 'term', '2026-02-02', '2026-03-02', 4, 5, 2, '{hs-return}', '{0.6}')`, testkit.SampleID(class), child)
	}
	for of, want := range map[studio.ForecastFor]int{studio.ForChild: 1, studio.ForTerm: 2} {
		if view, err := d.Calibration(ctx, d.owner, of); err != nil || view.Judged != want {
			t.Errorf("made for %s: judged %d, want %d, %v", of, view.Judged, want, err)
		}
		if view, err := d.ClassCalibration(ctx, d.teacher, of, testkit.SampleID("c0a0")); err != nil || view.Judged != 1 {
			t.Errorf("made for %s: judged %d of a class, want 1, %v", of, view.Judged, err)
		}
	}
}

// The rights of the program end with the sums.
func TestJudgingLeavesNoRights(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	err := d.db.InTx(ctx, d.teacher, func(tx *postgres.Tx) error {
		class := testkit.SampleID("c0a0")
		if _, err := judgeForecasts(ctx, tx, studio.ForChild, &class); err != nil {
			return err
		}
		_, err := tx.Lesson(ctx, testkit.SampleID("1eb0"))
		return err
	})
	wantCode(t, "another teacher's lesson after judging", err, studio.NotFound)
}

// BenchmarkKeepForecasts keeps a week of 300 children with 30 rungs each; BenchmarkJudgeForecasts judges 40 weeks of them.
//
//	go test -run '^$' -bench 'Forecasts' -benchtime 1x ./internal/app
func BenchmarkKeepForecasts(b *testing.B) {
	a, owner := openLarge(b)
	for b.Loop() {
		if _, err := owner.Exec(b.Context(), `delete from forecast_kept`); err != nil {
			b.Fatal(err)
		}
		if err := a.KeepForecasts(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
	var rows, chances, bytes float64
	if err := owner.QueryRow(b.Context(), `select count(*), sum(cardinality(rungs)), sum(pg_column_size(f)) from forecast_kept f`).Scan(&rows, &chances, &bytes); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(rows, "rows")
	b.ReportMetric(chances, "forecasts")
	b.ReportMetric(bytes/chances, "B/forecast")
}

// BenchmarkJudgeForecasts is described at BenchmarkKeepForecasts.
func BenchmarkJudgeForecasts(b *testing.B) {
	a, owner := openLarge(b)
	if _, err := owner.Exec(b.Context(), `insert into forecast_kept
		select e.class_id, e.child_id, 'child', d::date, d::date + 28, 4, 5, 2, array(select key from rung where key like 'l%'), array(select random() from rung where key like 'l%')
		from enrolment e, generate_series(date '2025-04-21', '2026-01-19', interval '7 days') d on conflict do nothing`); err != nil {
		b.Fatal(err)
	}
	if _, err := owner.Exec(b.Context(), `insert into mark (id, child_id, rung_key, outcome, marked_at, received_at)
		select gen_random_uuid(), c.id, 'l1-1', 'missed', d, d from child c, generate_series(timestamptz '2025-05-01 12:00+00', '2026-02-01 12:00+00', interval '7 days') d; analyze`); err != nil {
		b.Fatal(err)
	}
	b.ResetTimer()
	judged := 0
	for b.Loop() {
		view, err := a.Calibration(b.Context(), bundleOwner(), studio.ForChild)
		if err != nil {
			b.Fatal(err)
		}
		judged = view.Judged
	}
	b.ReportMetric(float64(judged), "judged")
}

// openLarge is the sample studio with 300 children more, and the owner of its tables.
func openLarge(b *testing.B) (*App, *pgx.Conn) {
	b.Helper()
	addresses := testkit.Fill(b)
	owner, err := pgx.Connect(b.Context(), addresses.Owner)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { owner.Close(b.Context()) })
	if _, err := owner.Exec(b.Context(), strings.ReplaceAll(largeStudio, "CHILDREN", "300")+`; insert into lesson (class_id, starts_at, minutes)
		select c.id, d, 60 from class c, generate_series(timestamptz '2026-01-05 15:00+00', '2026-03-30 15:00+00', interval '7 days') d where c.name like 'Large%'`); err != nil {
		b.Fatal(err)
	}
	db, err := postgres.Open(b.Context(), addresses.App, testkit.SampleNow, time.UTC)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(db.Close)
	return New(db, StudioPolicy(), nil, Settings{StudioName: "Sample studio", TimeZone: "UTC"}), owner
}
