package app

import (
	"sync"
	"testing"
	"time"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// The clock is moved on: each kind goes the day after its time, and not before.
func TestThingsGoAfterTheirTime(t *testing.T) {
	d, conn := openDesk(t), ownerConn(t)
	count := func(table string) int {
		t.Helper()
		var n int
		if err := conn.QueryRow(t.Context(), `select count(*) from `+table).Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	if n := count(`incident where id = '` + testkit.SampleID("11b9").String() + `'`); n != 1 {
		t.Fatal("the sample has no old incident record")
	}
	clear := func(at time.Time) {
		t.Helper()
		d.now = at
		if err := d.ClearOut(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	marks, attendance, trail := count("mark"), count("attendance"), count("audit")
	clear(testkit.SampleNow())
	if n := count(`incident where keep_until < '2026-03-04'`); n != 0 {
		t.Errorf("%d incident records are past their day", n)
	}
	for _, c := range []struct {
		table string
		last  time.Time // when the rows of the sample are still there
		gone  time.Time
	}{
		{"sign_in_attempt", date("2026-04-03"), date("2026-04-04")},
		{"invitation", date("2026-04-05"), date("2026-04-06")},
		{"child_note", date("2028-03-01"), date("2028-03-02")},
		{"practice", date("2028-03-02"), date("2028-03-03")},
		{"soreness", date("2029-03-01"), date("2029-03-02")},
		{"health_read", date("2029-03-02"), date("2029-03-03")},
		{"incident where id = '" + testkit.SampleID("11a1").String() + "'", date("2036-05-17"), date("2036-05-18")},
	} {
		at := time.Duration(12) * time.Hour
		clear(c.last)
		if count(c.table) == 0 {
			t.Errorf("%s is gone by %s", c.table, c.last.Format(time.DateOnly))
		}
		clear(c.gone.Add(at))
		if n := count(c.table); n != 0 {
			t.Errorf("%s has %d rows on %s", c.table, n, c.gone.Format(time.DateOnly))
		}
	}
	if count("mark") != marks || count("attendance") != attendance || count("audit") <= trail {
		t.Error("marks or attendance went, or the trail says nothing of it")
	}
}

// Several copies of the program run over one database: one of them clears out, once a day.
func TestOneCopyClearsOut(t *testing.T) {
	d, conn := openDesk(t), ownerConn(t)
	var copies sync.WaitGroup
	failed := make(chan error, 8)
	for range 8 {
		copies.Go(func() { failed <- d.ClearOut(t.Context()) })
	}
	copies.Wait()
	for range 8 {
		if err := <-failed; err != nil {
			t.Error(err)
		}
	}
	var runs, lines int
	if err := conn.QueryRow(t.Context(), `select (select count(*) from retention_run where ran_on = '2026-03-04'), (select count(*) from audit where action like 'cleared out%')`).Scan(&runs, &lines); err != nil {
		t.Fatal(err)
	}
	if runs != 1 || lines != 1 {
		t.Errorf("%d runs and %d lines in the trail, want one of each", runs, lines)
	}
}

func TestReadingHealthDataIsShownToTheFamily(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	if _, err := d.LimitReason(t.Context(), d.teacher, child, testkit.SampleID("ca01")); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Incident(t.Context(), d.owner, testkit.SampleID("11a1")); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Incidents(t.Context(), d.owner); err != nil {
		t.Fatal(err)
	}
	view, err := d.DataOf(t.Context(), d.parent, child)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, r := range view.Reads {
		found[r.Kind] = r.ByName
	}
	if len(view.Reads) != 4 || found[studio.ReadReason] != "Tove Arkle" || found[studio.ReadIncident] != "Orla Quist" || found[studio.ReadIncidents] != "Orla Quist" {
		t.Errorf("the family reads %+v", view.Reads)
	}
	_, err = d.DataOf(t.Context(), d.actor(t, "ac07"), child)
	wantCode(t, "parent of another child", err, studio.NotFound)
}
