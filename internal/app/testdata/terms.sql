-- A term before the sample's spring. Amberclass had Aliquot, who stays in it, and three who are in no class now: Xan left, Yod left and
-- was erased, Zea is still with the studio. Oldclass had Bolide, who has moved on to Berylclass from its first day.
insert into term (id, name, starts_on, ends_on, archived_at) values ('00000000-0000-4000-8000-000000007e00', 'Autumn', '2025-09-08', '2025-12-12', null);
insert into class (id, term_id, name, weekday, starts_at, minutes, time_zone, focus) values
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-000000007e00', 'Amberclass', 1, '16:30', 60, 'UTC', '{handstand}'),
  ('00000000-0000-4000-8000-00000000c0d1', '00000000-0000-4000-8000-000000007e00', 'Oldclass', 2, '16:30', 60, 'UTC', '{}');
insert into child (id, given_name, initial, joined_on, left_on, erased_at) values
  ('00000000-0000-4000-8000-00000000c1d1', 'Xan', 'X', '2025-09-01', '2025-12-12', null),
  ('00000000-0000-4000-8000-00000000c1d2', 'Erased', '', '2025-09-01', '2025-12-20', '2025-12-20'),
  ('00000000-0000-4000-8000-00000000c1d3', 'Zea', 'Z', '2025-09-01', null, null);
insert into child_detail (child_id, family_name, birth_date) select id, 'Test', '2015-03-01' from child where id::text like '%c1d_';
insert into enrolment (class_id, child_id, from_on, until_on) values
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-00000000c1a1', '2025-09-08', '2025-12-12'),
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-00000000c1d1', '2025-09-08', '2025-12-12'),
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-00000000c1d2', '2025-09-08', '2025-12-12'),
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-00000000c1d3', '2025-09-08', '2025-12-12'),
  ('00000000-0000-4000-8000-00000000c0d1', '00000000-0000-4000-8000-00000000c1b1', '2025-09-08', '2025-12-12');
insert into class_staff (class_id, staff_id, duty, from_on, until_on) values
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-000000005f02', 'teacher', '2025-09-08', '2025-12-12'),
  ('00000000-0000-4000-8000-00000000c0d0', '00000000-0000-4000-8000-000000005f04', 'assistant', '2025-09-15', '2025-12-12');
-- Of the three lessons the third was called off. At the first Tove was alone; at the second Hanne was there as well.
insert into lesson (id, class_id, starts_at, minutes, cancelled_at) values
  ('00000000-0000-4000-8000-000000001ed1', '00000000-0000-4000-8000-00000000c0d0', '2025-09-08 16:30+00', 60, null),
  ('00000000-0000-4000-8000-000000001ed2', '00000000-0000-4000-8000-00000000c0d0', '2025-09-15 16:30+00', 60, null),
  ('00000000-0000-4000-8000-000000001ed3', '00000000-0000-4000-8000-00000000c0d0', '2025-09-22 16:30+00', 60, '2025-09-20 12:00+00');
insert into attendance (lesson_id, child_id, present, noted_at) values
  ('00000000-0000-4000-8000-000000001ed1', '00000000-0000-4000-8000-00000000c1a1', true, '2025-09-08 16:30+00'),
  ('00000000-0000-4000-8000-000000001ed1', '00000000-0000-4000-8000-00000000c1d1', false, '2025-09-08 16:30+00'),
  ('00000000-0000-4000-8000-000000001ed2', '00000000-0000-4000-8000-00000000c1a1', true, '2025-09-15 16:30+00');
-- Aliquot: return c c | c c, so the rule is first met in the second lesson; there, one missed turn at the hold, which needs a spotter.
insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_at, received_at)
  select gen_random_uuid(), '00000000-0000-4000-8000-00000000c1a1', m.rung, l.id, m.outcome, l.starts_at + m.minute * interval '1 minute', l.starts_at
  from lesson l join (values (1, 'hs-return', 'clean', 20), (1, 'hs-return', 'clean', 21), (2, 'hs-return', 'clean', 20), (2, 'hs-return', 'clean', 21), (2, 'hs-hold', 'missed', 30))
  m (nth, rung, outcome, minute) on l.id = ('00000000-0000-4000-8000-000000001ed' || m.nth)::uuid;
