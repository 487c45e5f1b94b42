package app

import (
	"testing"
	"time"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestLessonDaysSkipHolidays(t *testing.T) {
	term := studio.Term{StartsOn: date("2026-01-05"), EndsOn: date("2026-01-28")} // a Monday to a Wednesday
	holiday := studio.Holiday{StartsOn: date("2026-01-14"), EndsOn: date("2026-01-16")}
	cases := map[string]struct {
		day  time.Weekday
		want []string
	}{
		"on the first day of the term": {time.Monday, []string{"2026-01-05", "2026-01-12", "2026-01-19", "2026-01-26"}},
		"on the last day of the term":  {time.Wednesday, []string{"2026-01-07", "2026-01-21", "2026-01-28"}},
		"before the first day":         {time.Sunday, []string{"2026-01-11", "2026-01-18", "2026-01-25"}},
		"last day of the holiday":      {time.Friday, []string{"2026-01-09", "2026-01-23"}},
	}
	for name, c := range cases {
		days := lessonDays(c.day, term, []studio.Holiday{holiday})
		var got []string
		for _, d := range days {
			got = append(got, d.Format(time.DateOnly))
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: %v, want %v", name, got, c.want)
			}
		}
	}
}

// Clocks of the European Union go forward on the last Sunday of March: directive 2000/84/EC, article 2. In 2026 that is the 29th;
// Dublin is at UTC before and an hour ahead after it (IANA time zone database, Europe/Dublin).
func TestLessonsKeepWallTimeAcrossTheClockChange(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	c := d.aClass()
	c.TimeZone, c.Weekday, c.StartsAt = "Europe/Dublin", time.Thursday, "16:30"
	id, err := d.AddClass(ctx, d.owner, c)
	if err != nil {
		t.Fatal(err)
	}
	change, err := d.MakeLessons(ctx, d.owner, id)
	if err != nil {
		t.Fatal(err)
	}
	record, err := d.ClassRecord(ctx, d.owner, id)
	if err != nil {
		t.Fatal(err)
	}
	if change.Made != 12 || len(record.Lessons) != 12 { // 13 Thursdays from 5 January to 3 April, one of them in the half-way week
		t.Fatalf("made %d, there are %d", change.Made, len(record.Lessons))
	}
	starts := map[string]bool{}
	for _, l := range record.Lessons {
		starts[l.StartsAt.UTC().Format("2006-01-02 15:04")] = true
	}
	for _, want := range []string{"2026-03-26 16:30", "2026-04-02 15:30"} {
		if !starts[want] {
			t.Errorf("no lesson at %s UTC in %v", want, starts)
		}
	}
	if again, err := d.MakeLessons(ctx, d.owner, id); err != nil || again.Made+again.Removed+len(again.Kept) != 0 {
		t.Errorf("asked again: %+v, %v", again, err)
	}
}

// The sample's class A has a lesson today with a plan and attendance, and one last week; class B one tonight with a plan.
func TestLessonsAheadFollowTheClassAndThePastStays(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	id := testkit.SampleID("c0b0")
	if _, err := d.MakeLessons(ctx, d.owner, id); err != nil {
		t.Fatal(err)
	}
	before, err := d.ClassRecord(ctx, d.owner, id)
	if err != nil {
		t.Fatal(err)
	}
	c := before.Class
	c.Weekday = time.Friday
	if err := d.SaveClass(ctx, d.owner, c); err != nil {
		t.Fatal(err)
	}
	change, err := d.MakeLessons(ctx, d.owner, id)
	if err != nil {
		t.Fatal(err)
	}
	if len(change.Kept) != 1 || !change.Kept[0].Equal(testkit.SampleNow().Add(3*time.Hour)) {
		t.Errorf("kept %v: tonight's lesson has a plan", change.Kept)
	}
	if change.Removed != 4 { // the Wednesdays 11, 18, 25 March and 1 April
		t.Errorf("removed %d", change.Removed)
	}
	after, err := d.ClassRecord(ctx, d.owner, id)
	if err != nil {
		t.Fatal(err)
	}
	past := 0
	for _, l := range after.Lessons {
		if l.StartsAt.Before(testkit.SampleNow()) && l.StartsAt.Weekday() == time.Wednesday {
			past++
		}
	}
	if past != 7 { // 7 January to 25 February without the half-way week
		t.Errorf("%d past Wednesdays are left", past)
	}
}

// Minutes of a usual lesson: the shares are common practice, no source; that they add up is arithmetic.
func TestUsualBlocksAddUp(t *testing.T) {
	for minutes := 20; minutes <= 180; minutes++ {
		sum := 0
		for _, b := range usualBlocks(minutes) {
			if sum += b.Minutes; b.Minutes < 0 || b.Kind == studio.StationsBlock && b.Minutes < 7 {
				t.Errorf("%d minutes: %s has %d", minutes, b.Kind, b.Minutes)
			}
		}
		if sum != minutes {
			t.Errorf("%d minutes: the blocks have %d", minutes, sum)
		}
	}
}
