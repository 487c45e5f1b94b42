package app

import (
	"fmt"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
)

// largeStudio is CHILDREN children in classes of 20, who each have 60 marks on five ladders of six rungs.
const largeStudio = `
insert into ladder (key, name, family, position) select 'l' || l, 'Ladder number ' || l, 'shapes', 10 + l from generate_series(1, 5) l;
insert into rung (key, ladder_key, position, name, turn_seconds, home_reason)
  select 'l' || l || '-' || r, 'l' || l, r, 'Rung ' || r || ' of ladder ' || l, 20, 'Made up.' from generate_series(1, 5) l, generate_series(1, 6) r;
insert into class (id, term_id, name, weekday, starts_at, minutes, time_zone, focus)
  select gen_random_uuid(), '00000000-0000-4000-8000-000000007e01', 'Large ' || n, 1, '15:00', 60, 'UTC', '{l1,l2,l3,l4,l5}' from generate_series(1, CHILDREN / 20) n;
with born as (insert into child (given_name, initial, joined_on) select 'Child' || n, 'X', '2026-01-05' from generate_series(1, CHILDREN) n returning id, given_name),
  told as (insert into child_detail (child_id, family_name, birth_date) select id, 'Example', '2016-01-01' from born)
  insert into enrolment (class_id, child_id, from_on) select c.id, born.id, '2026-01-05' from born join class c on c.name = 'Large ' || 1 + substr(given_name, 6)::int % (CHILDREN / 20);
insert into mark (id, child_id, rung_key, outcome, marked_at, received_at)
  select gen_random_uuid(), b.id, 'l' || 1 + n % 5 || '-' || 1 + n / 5 % 6, (array['clean', 'clean', 'supported', 'missed'])[1 + n % 4], at, at
  from child b, generate_series(1, 60) n, lateral (select timestamptz '2026-01-06 16:00+00' + n * interval '20 hours' as at) w where b.given_name like 'Child%';
analyze`

// BenchmarkBundle makes the reports of 100 and of 300 children, and says how high the heap grew: hardly higher for more.
//
//	go test -run '^$' -bench Bundle -benchtime 1x ./internal/app
func BenchmarkBundle(b *testing.B) {
	for _, children := range []int{100, 300} {
		b.Run(fmt.Sprintf("%d children", children), func(b *testing.B) { benchmarkBundle(b, children) })
	}
}

func benchmarkBundle(b *testing.B, children int) {
	addresses := testkit.Fill(b)
	conn, err := pgx.Connect(b.Context(), addresses.Owner)
	if err != nil {
		b.Fatal(err)
	}
	defer conn.Close(b.Context())
	if _, err := conn.Exec(b.Context(), strings.ReplaceAll(largeStudio, "CHILDREN", strconv.Itoa(children))); err != nil {
		b.Fatal(err)
	}
	db, err := postgres.Open(b.Context(), addresses.App, testkit.SampleNow, time.UTC)
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	a := New(db, StudioPolicy(), nil, Settings{StudioName: "Sample studio", TimeZone: "UTC"})
	runtime.GC()
	highest := watchHeap(b)
	for b.Loop() {
		id, err := a.AskReportBundle(b.Context(), bundleOwner(), spring())
		if err != nil {
			b.Fatal(err)
		}
		if more, err := a.MakeBundle(b.Context(), id); err != nil || more {
			b.Fatal(more, err)
		}
	}
	b.ReportMetric(float64(highest())/1e6, "MB-heap")
}

// watchHeap looks at the heap every 20 ms until it is asked how high it was.
func watchHeap(b *testing.B) func() uint64 {
	stop, done := make(chan struct{}), make(chan uint64)
	go func() {
		var most uint64
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse)
			select {
			case <-stop:
				done <- most
				return
			case <-b.Context().Done():
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	}()
	return func() uint64 {
		close(stop)
		return <-done
	}
}
