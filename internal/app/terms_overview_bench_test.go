package app

import (
	"testing"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
)

// manyTerms adds twelve terms of twelve weeks with 15 classes of 20 children each, who have five marks in each of their 12 lessons: 216,000 marks.
const manyTerms = `
insert into term (name, starts_on, ends_on) select 'Term ' || n, date '2022-06-06' + n * 98, date '2022-06-06' + n * 98 + 83 from generate_series(0, 11) n;
insert into ladder (key, name, family, position) select 'l' || l, 'Ladder number ' || l, 'shapes', 10 + l from generate_series(1, 12) l;
insert into rung (key, ladder_key, position, name, turn_seconds, home_reason, spot_people, spot_manner)
  select 'l' || l || '-' || r, 'l' || l, r, 'Rung ' || r || ' of ladder ' || l, 20, 'Made up.', l % 2, case when l % 2 = 1 then 'hands-on' else 'none' end
  from generate_series(1, 12) l, generate_series(1, 8) r;
insert into class (term_id, name, weekday, starts_at, minutes, time_zone)
  select m.id, 'Large ' || n, 1, '15:00', 60, 'UTC' from term m, generate_series(1, 15) n where m.name like 'Term %';
with born as (insert into child (given_name, initial, joined_on) select 'Child' || n, 'X', '2022-06-01' from generate_series(1, 300) n returning id, given_name),
  told as (insert into child_detail (child_id, family_name, birth_date) select id, 'Example', '2014-01-01' from born)
  insert into enrolment (class_id, child_id, from_on, until_on) select c.id, born.id, m.starts_on, m.ends_on from born, class c join term m on m.id = c.term_id
    where m.name like 'Term %' and c.name = 'Large ' || 1 + substr(born.given_name, 6)::int % 15;
insert into class_staff (class_id, staff_id, duty, from_on) select c.id, s.id, 'assistant', m.starts_on from staff s, class c join term m on m.id = c.term_id where m.name like 'Term %';
insert into lesson (class_id, starts_at, minutes) select c.id, (m.starts_on + 7 * w) + time '15:00', 60 from class c join term m on m.id = c.term_id, generate_series(0, 11) w where m.name like 'Term %';
insert into attendance (lesson_id, child_id, present, noted_at)
  select l.id, e.child_id, true, l.starts_at from lesson l join class c on c.id = l.class_id join term m on m.id = c.term_id join enrolment e on e.class_id = c.id where m.name like 'Term %';
insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_at, received_at)
  select gen_random_uuid(), a.child_id, 'l' || 1 + n % 12 || '-' || 1 + (extract(week from l.starts_at)::int + n) % 8, l.id, (array['clean', 'clean', 'clean', 'supported', 'missed'])[1 + n % 5],
    l.starts_at + n * interval '3 minutes', l.starts_at + interval '1 hour'
  from attendance a join lesson l on l.id = a.lesson_id join class c on c.id = l.class_id join term m on m.id = c.term_id, generate_series(1, 5) n where m.name like 'Term %';
analyze`

// BenchmarkTerms compares twelve terms of 300 children.
//
//	go test -run '^$' -bench Terms -benchtime 3x ./internal/app
func BenchmarkTerms(b *testing.B) {
	addresses := testkit.Fill(b)
	runAsOwner(b, addresses, manyTerms)
	db, err := postgres.Open(b.Context(), addresses.App, testkit.SampleNow, time.UTC)
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	a := New(db, StudioPolicy(), nil, Settings{StudioName: "Sample studio", TimeZone: "UTC"})
	highest := watchHeap(b)
	for b.Loop() {
		if _, err := a.TermsOverview(b.Context(), bundleOwner(), TermsAsk{All: true}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(highest())/1e6, "MB-heap")
}
