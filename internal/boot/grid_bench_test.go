package boot

import (
	"bytes"
	"compress/gzip"
	"log/slog"
	"net/http"
	"testing"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/testkit"
)

// largeClass makes the sample's class A one of 40 children on 20 ladders of 7 rungs, each child with 200 marks.
const largeClass = `
insert into ladder (key, name, family, position) select 'l' || l, 'Ladder number ' || l, 'shapes', 10 + l from generate_series(1, 18) l;
insert into rung (key, ladder_key, position, name, turn_seconds, home_reason)
  select 'l' || l || '-' || r, 'l' || l, r, 'Rung ' || r || ' of ladder ' || l, 20, 'Made up.' from generate_series(1, 18) l, generate_series(1, 7) r;
insert into rung_need (rung_key, needs_key) select 'l' || l || '-' || r, 'l' || l || '-' || r - 1 from generate_series(1, 18) l, generate_series(2, 7) r;
with born as (insert into child (given_name, initial, joined_on) select 'Child' || n, 'X', '2026-01-05' from generate_series(1, 38) n returning id),
  told as (insert into child_detail (child_id, family_name, birth_date) select id, 'Example', '2016-01-01' from born)
  insert into enrolment (class_id, child_id, from_on) select '00000000-0000-4000-8000-00000000c0a0', id, '2026-01-05' from born;
insert into mark (id, child_id, rung_key, outcome, marked_at, received_at)
  select gen_random_uuid(), child_id, 'l' || 1 + (n * n * 7 + n) % 18 || '-' || 1 + (n / 18 + ascii(right(child_id::text, 1))) % 5,
    (array['clean', 'clean', 'clean', 'supported', 'missed'])[1 + (n * 13 + ascii(left(child_id::text, 1))) % 5], at, at
  from enrolment, generate_series(1, 200) n, lateral (select timestamptz '2026-01-06 16:00+00' + n * interval '6 hours' as at) w
  where class_id = '00000000-0000-4000-8000-00000000c0a0';
analyze`

// BenchmarkGrid answers the page of a class of 40 children on 20 ladders, 8,000 marks, and says how large it is on the way.
//
//	go test -run '^$' -bench Grid ./internal/boot
func BenchmarkGrid(b *testing.B) {
	addresses := testkit.Fill(b)
	conn, err := pgx.Connect(b.Context(), addresses.Owner)
	if err != nil {
		b.Fatal(err)
	}
	defer conn.Close(b.Context())
	if _, err := conn.Exec(b.Context(), largeClass); err != nil {
		b.Fatal(err)
	}
	config := Config{DatabaseURL: addresses.App, BaseURL: "http://127.0.0.1", StudioName: "Sample", TimeZone: "UTC", Insecure: true}
	house, err := New(b.Context(), config, slog.New(slog.DiscardHandler), testkit.SampleNow)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(house.Close)
	cookie := &http.Cookie{Name: "rungbook", Value: "sample-session-ac02"}
	var body []byte
	for b.Loop() {
		answer := get(house.Site, cookie, "/classes/00000000-0000-4000-8000-00000000c0a0?ladders=all&sort=ready")
		if answer.Code != http.StatusOK {
			b.Fatalf("the page answers %d", answer.Code)
		}
		body = answer.Body.Bytes()
	}
	b.ReportMetric(float64(len(body)), "bytes")
	var packed bytes.Buffer
	w, _ := gzip.NewWriterLevel(&packed, 5) // as the site packs
	w.Write(body)
	w.Close()
	b.ReportMetric(float64(packed.Len()), "bytes-gzip")
}
