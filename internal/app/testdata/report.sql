-- Cinderclass, beside the sample studio: a class on Tuesdays at 16:00 whose term report report_test.go works out by hand.

insert into ladder (key, name, family, about, position) values ('wheel', 'Wheel', 'wheels', '', 3), ('rock', 'Rock', 'rolls', '', 4);
insert into rung (key, ladder_key, position, name, look, turn_seconds, load_wrists, home_reason) values
  ('w-low', 'wheel', 1, 'Low wheel', '{Hands down}', 20, 0, 'In class first.'),
  ('w-line', 'wheel', 2, 'Wheel on a line', '{Straight}', 20, 2, 'In class first.'),
  ('w-lunge', 'wheel', 3, 'Wheel to a lunge', '{Lunge}', 20, 2, 'In class first.'),
  ('r-rock', 'rock', 1, 'Rocking ball', '{Round}', 20, 0, 'In class first.'),
  ('r-stand', 'rock', 2, 'Rock to standing', '{Round}', 20, 0, 'In class first.');
insert into rung_need (rung_key, needs_key) values ('w-line', 'w-low'), ('w-lunge', 'w-line'), ('r-stand', 'r-rock');
insert into fault (rung_key, key, position, name, safety) values ('w-low', 'head-first', 1, 'Head leads', true);
insert into drill (key, name, kind, steps, turn_seconds, load_wrists, home_safe, home_reason, home_adult, caution) values
  ('d-lean', 'Lean on the hands', 'skill', '{Lean}', 20, 1, true, 'Knees down.', false, ''),
  ('d-sit', 'Long-legged sit', 'skill', '{Sit}', 20, 0, true, 'On the floor.', true, 'Stop if it hurts.');

insert into class (id, term_id, name, weekday, starts_at, minutes, time_zone, focus) values
  ('00000000-0000-4000-8000-00000000c0c0', '00000000-0000-4000-8000-000000007e01', 'Cinderclass', 2, '16:00', 60, 'UTC', '{wheel}');
insert into class_staff (class_id, staff_id, duty, from_on) values
  ('00000000-0000-4000-8000-00000000c0c0', '00000000-0000-4000-8000-000000005f02', 'teacher', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0c0', '00000000-0000-4000-8000-000000005f04', 'assistant', '2026-01-05');
insert into child (id, given_name, initial, joined_on) values
  ('00000000-0000-4000-8000-00000000c1c1', 'Ada', 'A', '2025-09-01'), ('00000000-0000-4000-8000-00000000c1c2', 'Ben', 'B', '2026-01-20'),
  ('00000000-0000-4000-8000-00000000c1c3', 'Cleo', 'C', '2025-09-01'), ('00000000-0000-4000-8000-00000000c1c4', 'Dee', 'D', '2026-03-01'),
  ('00000000-0000-4000-8000-00000000c1c5', 'Eli', 'E', '2025-09-01');
insert into child_detail (child_id, family_name, birth_date)
  select id, 'Cinder', '2016-05-05' from child where id::text like '%c1c_';
insert into guardian (account_id, child_id) values ('00000000-0000-4000-8000-00000000ac06', '00000000-0000-4000-8000-00000000c1c1');
insert into enrolment (class_id, child_id, from_on, until_on)
  select '00000000-0000-4000-8000-00000000c0c0', c.id, v.from_on, v.until_on from (values ('Ada', date '2025-09-01', null::date), ('Ben', '2026-01-20', null),
    ('Cleo', '2025-09-01', '2025-12-15'), ('Dee', '2026-03-01', null), ('Eli', '2025-09-01', '2026-01-15')) v (name, from_on, until_on) join child c on c.given_name = v.name;

insert into lesson (id, class_id, starts_at, minutes, cancelled_at)
  select ('00000000-0000-4000-8000-000000001e' || n)::uuid, '00000000-0000-4000-8000-00000000c0c0', (d || ' 16:00+00')::timestamptz, 60, c::timestamptz
  from (values ('c1', '2026-01-06', null), ('c2', '2026-01-13', null), ('c3', '2026-01-20', null), ('c4', '2026-01-27', null),
    ('c5', '2026-02-03', '2026-02-03 12:00+00'), ('c6', '2026-02-10', null), ('c7', '2026-03-03', null), ('c8', '2026-03-10', null)) v (n, d, c);
insert into attendance (lesson_id, child_id, present, noted_at)
  select ('00000000-0000-4000-8000-000000001e' || n)::uuid, c.id, p, '2026-03-03 17:00+00' from (values ('c1', 'Ada', true), ('c2', 'Ada', true), ('c3', 'Ada', true),
    ('c4', 'Ada', false), ('c5', 'Ada', false), ('c6', 'Ada', true), ('c7', 'Ada', true), ('c3', 'Ben', true), ('c4', 'Ben', false), ('c1', 'Eli', true)) v (n, name, p)
  join child c on c.given_name = v.name;

insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_at, received_at, replaces)
  select ('00000000-0000-4000-8000-00000000' || n)::uuid, c.id, rung, ('00000000-0000-4000-8000-000000001e' || lesson)::uuid, outcome, at::timestamptz, at::timestamptz,
    ('00000000-0000-4000-8000-00000000' || replaces)::uuid
  from (values
    ('aa01', 'Ada', 'w-low', 'c1', 'clean', '2026-01-06 16:10+00', null),
    ('aa02', 'Ada', 'w-low', 'c1', 'clean', '2026-01-06 16:11+00', null),
    ('aa03', 'Ada', 'w-low', 'c1', 'missed', '2026-01-06 16:12+00', null),
    ('aa04', 'Ada', 'w-low', 'c2', 'clean', '2026-01-13 16:10+00', null),
    ('aa05', 'Ada', 'w-low', 'c2', 'clean', '2026-01-13 16:11+00', null),
    ('aa06', 'Ada', 'w-low', 'c7', 'clean', '2026-03-03 16:10+00', null),
    ('aa07', 'Ada', 'w-low', 'c7', 'clean', '2026-03-03 16:11+00', null),
    ('ab01', 'Ada', 'w-line', 'c2', 'missed', '2026-01-13 16:20+00', null),
    ('ab02', 'Ada', 'w-line', 'c2', 'clean', '2026-01-13 16:21+00', null),
    ('ab03', 'Ada', 'w-line', 'c3', 'clean', '2026-01-20 16:20+00', null),
    ('ab04', 'Ada', 'w-line', 'c3', 'supported', '2026-01-20 16:21+00', null),
    ('ab05', 'Ada', 'w-line', 'c7', 'missed', '2026-03-03 16:20+00', null),
    ('ab06', 'Ada', 'w-line', 'c7', 'clean', '2026-03-03 16:20+00', 'ab05'),
    ('ab07', 'Ada', 'w-line', null, 'clean', '2026-04-07 16:20+00', null),
    ('ab08', 'Ada', 'w-line', null, 'clean', '2026-04-07 16:21+00', null),
    ('ac01', 'Ada', 'r-rock', null, 'clean', '2025-12-02 16:20+00', null),
    ('ac02', 'Ada', 'r-rock', null, 'clean', '2025-12-02 16:21+00', null),
    ('ac03', 'Ada', 'r-rock', null, 'clean', '2025-12-09 16:20+00', null),
    ('ac04', 'Ada', 'r-rock', null, 'clean', '2025-12-09 16:21+00', null),
    ('ba01', 'Ben', 'w-low', 'c3', 'clean', '2026-01-20 16:20+00', null),
    ('ba02', 'Ben', 'w-low', 'c3', 'clean', '2026-01-20 16:21+00', null)) v (n, name, rung, lesson, outcome, at, replaces)
  join child c on c.given_name = v.name;
insert into mark_fault (mark_id, rung_key, fault_key) values ('00000000-0000-4000-8000-00000000ba01', 'w-low', 'head-first');

insert into home_assignment (child_id, drill_key, sets, repeats, hold_seconds, from_on, until_on, assigned_at, withdrawn_at)
  select c.id, drill, sets, repeats, hold, '2026-02-20', '2026-03-20', '2026-02-20 12:00+00', withdrawn::timestamptz
  from (values ('Ada', 'd-lean', 2, 8, 0, null), ('Ada', 'd-sit', 1, 1, 30, '2026-02-25 12:00+00'), ('Ben', 'd-lean', 2, 8, 0, null), ('Ben', 'd-sit', 3, 1, 20, null))
    v (name, drill, sets, repeats, hold, withdrawn) join child c on c.given_name = v.name;
insert into care_limit (child_id, avoid_wrists, action, from_on, set_at)
  select id, true, 'No weight on the hands', '2026-03-01', '2026-03-01 12:00+00' from child where given_name = 'Ben';
