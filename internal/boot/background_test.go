package boot

import (
	"context"
	"log/slog"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// workerURL tells a copy of the test program that it is the worker of TestReportsGoOnAfterAKill.
const workerURL = "RUNGBOOK_TEST_WORKER_URL"

// shortTimes find a killed piece soon, and leave a class time enough on a busy machine under the race detector.
func shortTimes() postgres.JobTimes {
	return postgres.JobTimes{Piece: 10 * time.Second, Rescue: 21 * time.Second}
}

func testHouse(ctx context.Context, t *testing.T, url string) *House {
	t.Helper()
	house, err := New(ctx, Config{DatabaseURL: url, StudioName: "Sample", TimeZone: "UTC", Insecure: true}, slog.New(slog.DiscardHandler), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	return house
}

// manyClasses makes nine more classes of 20 children, each child with 40 marks, in a term that is over.
const manyClasses = `
insert into class (id, term_id, name, weekday, starts_at, minutes, time_zone, focus)
  select gen_random_uuid(), '00000000-0000-4000-8000-000000007e01', 'Class ' || n, 1, '15:00', 60, 'UTC', '{handstand}' from generate_series(1, 9) n;
with born as (insert into child (given_name, initial, joined_on) select 'Child' || n, 'X', '2026-01-05' from generate_series(1, 20) n returning id),
  told as (insert into child_detail (child_id, family_name, birth_date) select id, 'Example', '2016-01-01' from born)
  insert into enrolment (class_id, child_id, from_on) select c.id, born.id, '2026-01-05' from born, class c where c.name like 'Class %';
insert into mark (id, child_id, rung_key, outcome, marked_at, received_at)
  select gen_random_uuid(), b.id, 'hs-return', (array['clean', 'supported', 'missed'])[1 + n % 3], at, at
  from child b, generate_series(1, 40) n, lateral (select timestamptz '2026-01-06 16:00+00' + n * interval '1 day' as at) w where b.given_name like 'Child%';`

// The worker is killed by SIGKILL in the midst of the work, by the system and not by a test's own hand-over; the next program finishes
// it, and every file is there once.
func TestReportsGoOnAfterAKill(t *testing.T) {
	if url := os.Getenv(workerURL); url != "" {
		house := testHouse(t.Context(), t, url)
		house.workInBackground(t.Context(), shortTimes()) // until it is killed
		return
	}
	t.Parallel()
	addresses := testkit.Fill(t)
	conn, err := pgx.Connect(t.Context(), addresses.Owner)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.Background())
	if _, err := conn.Exec(t.Context(), manyClasses); err != nil {
		t.Fatal(err)
	}
	house := testHouse(t.Context(), t, addresses.App)
	defer house.Close()
	owner := studio.Actor{ID: testkit.SampleID("ac01"), Roles: []studio.Role{studio.OwnerRole}}
	id, err := house.App.AskReportBundle(t.Context(), owner, testkit.SampleID("7e01"))
	if err != nil {
		t.Fatal(err)
	}
	made := killInTheMidst(t, house, owner, id, addresses.App)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan struct{})
	go func() {
		house.workInBackground(ctx, shortTimes())
		close(ended)
	}()
	b := waitFor(t, house, owner, id, func(b studio.Bundle) bool { return !b.Open() })
	stop()
	<-ended
	if b.State != studio.BundleReady || b.Done != b.Children || b.Done <= made {
		t.Errorf("after the kill at %d: %+v", made, b)
	}
	var files, jobs int
	err = conn.QueryRow(t.Context(), `select (select count(*) from report_bundle_file where bundle_id = $1),
		(select count(*) from jobs.river_job where args->>'bundle' = $1::text)`, id).Scan(&files, &jobs)
	if err != nil || files != b.Children+b.Classes+2 || jobs != 1 {
		t.Errorf("%d files of %d children and %d classes, %d jobs, %v", files, b.Children, b.Classes, jobs, err)
	}
}

// killInTheMidst runs a worker in a process of its own and kills it once something is made and something is left.
func killInTheMidst(t *testing.T, house *House, owner studio.Actor, id uuid.UUID, url string) (made int) {
	t.Helper()
	worker := exec.Command(os.Args[0], "-test.run", "^TestReportsGoOnAfterAKill$")
	worker.Env = append(os.Environ(), workerURL+"="+url)
	if err := worker.Start(); err != nil {
		t.Fatal(err)
	}
	b := waitFor(t, house, owner, id, func(b studio.Bundle) bool { return b.Done > 0 })
	if err := worker.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	worker.Wait() // says that it was killed
	if !b.Open() {
		t.Fatalf("it was finished before the kill: %+v", b)
	}
	return b.Done
}

func waitFor(t *testing.T, house *House, owner studio.Actor, id uuid.UUID, until func(studio.Bundle) bool) studio.Bundle {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	for {
		b, _, err := house.App.ReportBundle(ctx, owner, id)
		if err != nil {
			t.Fatal(err)
		}
		if until(b) {
			return b
		}
		select {
		case <-ctx.Done():
			t.Fatalf("it never came: %+v", b)
		case <-time.After(50 * time.Millisecond):
		}
	}
}
