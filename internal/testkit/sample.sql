-- A small studio at 17:00 UTC on Wednesday 4 March 2026. Class A is on the floor; class B meets at 20:00. Ids end in letters and
-- numbers that say whose they are. Sensitive fields hold texts that occur nowhere else, so that a leak shows its source.

insert into account (id, email, name, joined_at, disabled_at) values
  ('00000000-0000-4000-8000-00000000ac01', 'ownmail@sample.example', 'Orla Quist', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac02', 'teachmail-a@sample.example', 'Tove Arkle', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac03', 'teachmail-b@sample.example', 'Tibor Brack', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac04', 'helpmail-a@sample.example', 'Hanne Anvil', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac05', 'helpmail-b@sample.example', 'Hugo Bosk', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac06', 'parentmail-a@sample.example', 'Petra Alder', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac07', 'parentmail-b@sample.example', 'Piet Birch', '2026-01-01', null),
  ('00000000-0000-4000-8000-00000000ac08', 'parentmail-c@sample.example', 'Pia Cedar', null, null),
  ('00000000-0000-4000-8000-00000000ac09', 'lockedmail@sample.example', 'Dag Locked', '2026-01-01', '2026-02-01');

insert into account_role (account_id, role) values
  ('00000000-0000-4000-8000-00000000ac01', 'owner'),
  ('00000000-0000-4000-8000-00000000ac02', 'teacher'),
  ('00000000-0000-4000-8000-00000000ac03', 'teacher'),
  ('00000000-0000-4000-8000-00000000ac04', 'assistant'),
  ('00000000-0000-4000-8000-00000000ac05', 'assistant'),
  ('00000000-0000-4000-8000-00000000ac09', 'owner'),
  ('00000000-0000-4000-8000-00000000ac09', 'teacher');

insert into account_secret (account_id, password_hash)
  select id, 'hashleak-' || right(id::text, 4) from account where joined_at is not null;

insert into session (id, id_hash, account_id, browser, data, created_at, seen_at, expires_at)
  select ('00000000-0000-4000-8000-00000000de' || right(id::text, 2))::uuid, sha256(convert_to('sample-session-' || right(id::text, 4), 'UTF8')), id, 'browserleak-' || right(id::text, 2), '{}', '2026-03-04 16:59+00', '2026-03-04 16:59+00', '2026-03-05 16:59+00'
  from account where joined_at is not null;

insert into account_browser (account_id, browser, since)
  select id, 'browserleak-' || right(id::text, 2), '2026-03-04 16:59+00' from account where id::text like '%06' or id::text like '%07';

insert into passkey (id, account_id, credential_id, name, credential, made_at)
  select ('00000000-0000-4000-8000-00000000ae' || right(id::text, 2))::uuid, id, sha256(convert_to('credential-' || id, 'UTF8')), 'keynameleak-' || right(id::text, 2), '{}', '2026-02-01'
  from account where id::text like '%06' or id::text like '%07';

insert into second_factor (account_id, secret, made_at)
  select id, substr(sha256(convert_to('code-' || id, 'UTF8')), 1, 20), '2026-02-01' from account where id::text like '%06' or id::text like '%07';
insert into recovery_code (account_id, place, code_hash)
  select account_id, 1, sha256(convert_to('recovery-' || account_id, 'UTF8')) from second_factor;
insert into email_change (account_id, was, email, confirm_hash, stop_hash, asked_at)
  select id, email, 'movedmail-' || right(id::text, 2) || '@sample.example', sha256(convert_to('a-change-of-address-32-long--' || right(id::text, 2) || '.', 'UTF8')),
    sha256(convert_to('stop-of-an-address-32-long---' || right(id::text, 2) || '.', 'UTF8')), '2026-03-04 16:00+00' from account where id::text like '%06' or id::text like '%07';
insert into account_note (id, account_id, at, kind, about)
  select ('00000000-0000-4000-8000-00000000a0' || right(id::text, 2))::uuid, id, '2026-03-04 16:59+00', 'browser', 'toldleak-' || right(id::text, 2) from account where id::text like '%06' or id::text like '%07';

insert into sign_in_attempt (id, email, at, success) values
  ('00000000-0000-4000-8000-00000000f001', 'ownmail@sample.example', '2026-03-04 16:59+00', true);

insert into staff (id, account_id, name, trainee, can_lead, left_on) values
  ('00000000-0000-4000-8000-000000005f01', '00000000-0000-4000-8000-00000000ac01', 'Orla Quist', false, true, null),
  ('00000000-0000-4000-8000-000000005f02', '00000000-0000-4000-8000-00000000ac02', 'Tove Arkle', false, true, null),
  ('00000000-0000-4000-8000-000000005f03', '00000000-0000-4000-8000-00000000ac03', 'Tibor Brack', false, true, null),
  ('00000000-0000-4000-8000-000000005f04', '00000000-0000-4000-8000-00000000ac04', 'Hanne Anvil', false, true, null),
  ('00000000-0000-4000-8000-000000005f05', '00000000-0000-4000-8000-00000000ac05', 'Hugo Bosk', false, true, null),
  ('00000000-0000-4000-8000-000000005f09', '00000000-0000-4000-8000-00000000ac09', 'Dag Locked', false, true, null);

insert into staff_detail (staff_id, birth_date, phone)
  select id, date '1981-07-01' + (right(id::text, 1)::int * 37), 'phoneleak-' || right(id::text, 2) from staff;

insert into child (id, given_name, initial, joined_on) values
  ('00000000-0000-4000-8000-00000000c1a1', 'Aliquot', 'A', '2025-09-01'),
  ('00000000-0000-4000-8000-00000000c1a2', 'Azimuth', 'C', '2025-09-01'),
  ('00000000-0000-4000-8000-00000000c1b1', 'Bolide', 'B', '2025-09-01');

insert into child_detail (child_id, family_name, birth_date, contact, roster_ref) values
  ('00000000-0000-4000-8000-00000000c1a1', 'Alderleak', '2015-05-17', 'contactleak-a1', 'refleak-a1'),
  ('00000000-0000-4000-8000-00000000c1a2', 'Cedarleak', '2015-06-18', 'contactleak-a2', 'refleak-a2'),
  ('00000000-0000-4000-8000-00000000c1b1', 'Birchleak', '2015-07-19', 'contactleak-b1', 'refleak-b1');

insert into guardian (account_id, child_id, relation, rights, removed_at, invited_by) values
  ('00000000-0000-4000-8000-00000000ac06', '00000000-0000-4000-8000-00000000c1a1', 'parent', '{hurt,reports,invite}', null, null),
  ('00000000-0000-4000-8000-00000000ac06', '00000000-0000-4000-8000-00000000c1b1', 'parent', '{hurt,reports}', '2026-02-01', null),
  ('00000000-0000-4000-8000-00000000ac07', '00000000-0000-4000-8000-00000000c1b1', 'parent', '{hurt,reports,invite}', null, null),
  ('00000000-0000-4000-8000-00000000ac08', '00000000-0000-4000-8000-00000000c1a2', 'parent', '{hurt,reports,invite}', null, null),
  ('00000000-0000-4000-8000-00000000ac08', '00000000-0000-4000-8000-00000000c1a1', 'aunt', '{hurt}', null, '00000000-0000-4000-8000-00000000ac06');
update guardian set called = 'calledleak-' || right(account_id::text, 2);

insert into invitation (id, token_hash, kind, email, name, roles, child_ids, created_by, created_at, expires_at) values
  ('00000000-0000-4000-8000-000000001401', sha256('sample-invitation-of-32-letters.'), 'join', 'invitemail@sample.example', 'Ines Vited', '{teacher}', '{}',
    '00000000-0000-4000-8000-00000000ac01', '2026-03-04 12:00+00', '2026-03-06 12:00+00'),
  ('00000000-0000-4000-8000-000000001406', sha256('a-guardian-s-invitation-32-long.'), 'join', 'invitemail-a@sample.example', 'Una Alder', '{}', '{00000000-0000-4000-8000-00000000c1a1}',
    '00000000-0000-4000-8000-00000000ac06', '2026-03-04 12:00+00', '2026-03-06 12:00+00'),
  ('00000000-0000-4000-8000-000000001407', sha256('a-guardian-s-invitation-32-more.'), 'join', 'invitemail-b@sample.example', 'Una Birch', '{}', '{00000000-0000-4000-8000-00000000c1b1}',
    '00000000-0000-4000-8000-00000000ac07', '2026-03-04 12:00+00', '2026-03-06 12:00+00');
update invitation set rights = '{hurt}' where roles = '{}';

insert into term (id, name, starts_on, ends_on, showcase_on) values
  ('00000000-0000-4000-8000-000000007e01', 'Spring', '2026-01-05', '2026-04-03', '2026-03-28'),
  ('00000000-0000-4000-8000-000000007e02', 'Summer', '2026-04-20', '2026-07-03', null);
insert into holiday (id, term_id, name, starts_on, ends_on) values
  ('00000000-0000-4000-8000-000000004001', '00000000-0000-4000-8000-000000007e01', 'Half-way week', '2026-02-16', '2026-02-20');

insert into class (id, term_id, name, weekday, starts_at, minutes, time_zone, focus, groups, rotations) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-000000007e01', 'Amberclass', 3, '16:30', 60, 'UTC', '{handstand}', 1, 1),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-000000007e01', 'Berylclass', 3, '20:00', 60, 'UTC', '{handstand}', 1, 1);
insert into class_staff (class_id, staff_id, duty, from_on) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-000000005f02', 'teacher', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-000000005f03', 'teacher', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-000000005f04', 'assistant', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-000000005f05', 'assistant', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-000000005f09', 'teacher', '2026-01-05');
insert into enrolment (class_id, child_id, from_on) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a1', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a2', '2026-01-05'),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-00000000c1b1', '2026-01-05');
insert into class_pair (class_id, child_a, child_b, wish) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000c1a2', 'together');

insert into equipment (key, name, stock) values ('panel-mat', 'Panel mat', 8), ('wall', 'Clear wall', 6), ('bench', 'Bench', 0);
insert into ladder (key, name, family, about, position) values ('handstand', 'Handstand', 'upside down', 'Up and steady.', 1), ('spare', 'Spare', 'shapes', '', 2);
insert into rung (key, ladder_key, position, name, start_position, finish_position, look, spot_people, spot_manner, spot_until, spot_how, turn_seconds, load_wrists, inverted, home_reason) values
  ('hs-return', 'handstand', 1, 'Small kick and return', 'Lunge.', 'Lunge.', '{Straight arms}', 0, 'none', '', '', 20, 2, true, 'Upside down.'),
  ('hs-hold', 'handstand', 2, 'Hold', 'Lunge.', 'Handstand.', '{Straight line}', 1, 'hands-on', 'Five clean.', 'Beside the legs.', 30, 2, true, 'Upside down.'),
  ('sp-shape', 'spare', 1, 'Dish', 'On the back.', 'Dish.', '{Low back down}', 0, 'none', '', '', 20, 0, false, 'Quiet floor work.');
update rung set home_safe = true where key = 'sp-shape';
insert into rung_need (rung_key, needs_key) values ('hs-hold', 'hs-return');
insert into rung_equipment (rung_key, equipment_key, count, places) values ('hs-hold', 'wall', 1, 2);
insert into drill (key, name, kind, steps, turn_seconds, load_wrists, home_safe, home_reason, inverted) values
  ('d-press', 'Wall press', 'skill', '{Press,Hold}', 20, 0, true, 'Standing, feet on the floor.', false),
  ('d-dish', 'Dish hold', 'conditioning', '{Lie down,Lift}', 20, 0, true, 'On the floor.', false),
  ('d-kick', 'Kick at the wall', 'skill', '{Kick}', 20, 2, false, 'Upside down.', true),
  ('d-warm', 'Circles', 'warm-up', '{Circle}', 20, 0, true, 'Standing.', false),
  ('d-cool', 'Reach', 'cool-down', '{Reach}', 20, 0, true, 'Sitting.', false);
insert into drill_rung (drill_key, rung_key) values ('d-press', 'hs-return'), ('d-kick', 'hs-hold'), ('d-dish', 'sp-shape');
insert into drill_equipment (drill_key, equipment_key, count, places) values ('d-press', 'wall', 1, 2);
insert into fault (rung_key, key, position, name, safety) values ('hs-return', 'arms-bend', 1, 'Arms bend', true);
insert into cause (rung_key, fault_key, key, position, name, strength, cue) values ('hs-return', 'arms-bend', 'soft', 1, 'Soft shoulders', 0.6, 'Push tall');
insert into cause_drill (rung_key, fault_key, cause_key, drill_key) values ('hs-return', 'arms-bend', 'soft', 'd-press');
insert into sign_off (id, staff_id, rung_key, granted_by, granted_on, expires_on) values
  ('00000000-0000-4000-8000-00000000500a', '00000000-0000-4000-8000-000000005f04', 'hs-hold', '00000000-0000-4000-8000-00000000ac01', '2026-01-10', '2026-12-31'),
  ('00000000-0000-4000-8000-00000000500b', '00000000-0000-4000-8000-000000005f05', 'hs-hold', '00000000-0000-4000-8000-00000000ac01', '2026-01-10', '2026-12-31');

insert into lesson (id, class_id, starts_at, minutes) values
  ('00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c0a0', '2026-03-04 16:30+00', 60),
  ('00000000-0000-4000-8000-000000001ea9', '00000000-0000-4000-8000-00000000c0a0', '2026-02-25 16:30+00', 60),
  ('00000000-0000-4000-8000-000000001eb0', '00000000-0000-4000-8000-00000000c0b0', '2026-03-04 20:00+00', 60);
insert into lesson_note (lesson_id, note) values
  ('00000000-0000-4000-8000-000000001ea0', 'noteleak-a'),
  ('00000000-0000-4000-8000-000000001ea9', 'noteleak-p'),
  ('00000000-0000-4000-8000-000000001eb0', 'noteleak-b');
insert into lesson_block (lesson_id, position, kind, minutes, drills)
  select l.id, b.position, b.kind, b.minutes, b.drills from lesson l, (values
    (1, 'arrive', 5, '{}'::text[]), (2, 'warm-up', 10, '{d-warm}'), (3, 'stations', 35, '{}'), (4, 'cool-down', 10, '{d-cool}')) b (position, kind, minutes, drills);
insert into attendance (lesson_id, child_id, present, noted_by, noted_at) values
  ('00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a1', true, '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:31+00'),
  ('00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a2', true, '00000000-0000-4000-8000-00000000ac04', '2026-03-04 16:31+00'),
  ('00000000-0000-4000-8000-000000001eb0', '00000000-0000-4000-8000-00000000c1b1', true, '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:31+00');
insert into staff_attendance (lesson_id, staff_id, present, noted_at) values
  ('00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-000000005f04', true, '2026-03-04 16:31+00'),
  ('00000000-0000-4000-8000-000000001eb0', '00000000-0000-4000-8000-000000005f05', true, '2026-03-04 16:31+00');

insert into plan (id, lesson_id, shared_at, rotations, work_seconds, worth, bound, optimal, saved_by, saved_at) values
  ('00000000-0000-4000-8000-00000000b1a0', '00000000-0000-4000-8000-000000001ea0', '2026-03-04 16:00+00', 1, 600, 1, 1, true, '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:00+00'),
  ('00000000-0000-4000-8000-00000000b1b0', '00000000-0000-4000-8000-000000001eb0', null, 1, 600, 1, 1, true, '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:00+00');
insert into plan_before (plan_id, parts) values
  ('00000000-0000-4000-8000-00000000b1a0', '{"Rotations": 1, "WorkSeconds": 600, "Worth": 1, "Bound": 1, "Cells": [{"Rotation": 1, "GroupNo": 1, "LadderKey": "spare"}],
    "Members": [{"ChildID": "00000000-0000-4000-8000-00000000c1a1", "GroupNo": 1}],
    "Entries": [{"Rotation": 1, "ChildID": "00000000-0000-4000-8000-00000000c1a1", "RungKey": "sp-shape", "Turns": 9, "WaitShare": 0.5}]}'),
  ('00000000-0000-4000-8000-00000000b1b0', '{"Rotations": 1, "WorkSeconds": 600, "Worth": 1, "Bound": 1, "Cells": [{"Rotation": 1, "GroupNo": 1, "LadderKey": "spare"}],
    "Members": [{"ChildID": "00000000-0000-4000-8000-00000000c1b1", "GroupNo": 1}],
    "Entries": [{"Rotation": 1, "ChildID": "00000000-0000-4000-8000-00000000c1b1", "RungKey": "sp-shape", "Turns": 9, "WaitShare": 0.5}]}');
insert into plan_member (plan_id, child_id, group_no) values
  ('00000000-0000-4000-8000-00000000b1a0', '00000000-0000-4000-8000-00000000c1a1', 1),
  ('00000000-0000-4000-8000-00000000b1a0', '00000000-0000-4000-8000-00000000c1a2', 1),
  ('00000000-0000-4000-8000-00000000b1b0', '00000000-0000-4000-8000-00000000c1b1', 1);
insert into plan_cell (plan_id, rotation, group_no, ladder_key) values
  ('00000000-0000-4000-8000-00000000b1a0', 1, 1, 'handstand'), ('00000000-0000-4000-8000-00000000b1b0', 1, 1, 'handstand');
insert into plan_staff (plan_id, rotation, group_no, staff_id, duty) values
  ('00000000-0000-4000-8000-00000000b1a0', 1, 1, '00000000-0000-4000-8000-000000005f04', 'lead'),
  ('00000000-0000-4000-8000-00000000b1b0', 1, 1, '00000000-0000-4000-8000-000000005f05', 'lead');
insert into plan_entry (plan_id, rotation, child_id, rung_key, drill_key, turns, wait_share, why) values
  ('00000000-0000-4000-8000-00000000b1a0', 1, '00000000-0000-4000-8000-00000000c1a1', 'hs-return', null, 9, 0.5, ''),
  ('00000000-0000-4000-8000-00000000b1a0', 1, '00000000-0000-4000-8000-00000000c1a2', null, 'd-press', 9, 0.5, ''),
  ('00000000-0000-4000-8000-00000000b1b0', 1, '00000000-0000-4000-8000-00000000c1b1', 'hs-return', null, 9, 0.5, '');

insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_by, marked_at, received_at) values
  ('00000000-0000-4000-8000-00000000a0a1', '00000000-0000-4000-8000-00000000c1a1', 'hs-return', '00000000-0000-4000-8000-000000001ea9', 'missed', '00000000-0000-4000-8000-00000000ac02', '2026-02-25 17:00+00', '2026-02-25 17:00+00'),
  ('00000000-0000-4000-8000-00000000a0a2', '00000000-0000-4000-8000-00000000c1a2', 'hs-return', '00000000-0000-4000-8000-000000001ea0', 'clean', '00000000-0000-4000-8000-00000000ac04', '2026-03-04 16:50+00', '2026-03-04 16:50+00'),
  ('00000000-0000-4000-8000-00000000a0b1', '00000000-0000-4000-8000-00000000c1b1', 'hs-return', '00000000-0000-4000-8000-000000001eb0', 'clean', '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:50+00', '2026-03-04 16:50+00');
insert into mark_fault (mark_id, rung_key, fault_key) values
  ('00000000-0000-4000-8000-00000000a0a1', 'hs-return', 'arms-bend'), ('00000000-0000-4000-8000-00000000a0b1', 'hs-return', 'arms-bend');

insert into lesson_effort (lesson_id, effort, noted_by, noted_at) values
  ('00000000-0000-4000-8000-000000001ea9', 5, '00000000-0000-4000-8000-00000000ac02', '2026-02-25 18:00+00'),
  ('00000000-0000-4000-8000-000000001eb0', 6, '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:50+00');
insert into child_effort (lesson_id, child_id, effort, noted_by, noted_at) values
  ('00000000-0000-4000-8000-000000001ea9', '00000000-0000-4000-8000-00000000c1a1', 8, '00000000-0000-4000-8000-00000000ac02', '2026-02-25 18:00+00'),
  ('00000000-0000-4000-8000-000000001eb0', '00000000-0000-4000-8000-00000000c1b1', 7, '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:50+00');

insert into care_limit (id, child_id, avoid_wrists, avoid_landing, action, from_on, until_on, review_on, set_by, set_at) values
  ('00000000-0000-4000-8000-00000000ca01', '00000000-0000-4000-8000-00000000c1a1', true, false, 'limitdo-a1', '2026-03-01', '2026-03-20', '2026-03-12', '00000000-0000-4000-8000-00000000ac02', '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-00000000ca09', '00000000-0000-4000-8000-00000000c1a1', false, true, 'limitdo-p1', '2026-03-01', null, null, '00000000-0000-4000-8000-00000000ac06', '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-00000000cb01', '00000000-0000-4000-8000-00000000c1b1', true, false, 'limitdo-b1', '2026-03-01', '2026-03-20', '2026-03-12', '00000000-0000-4000-8000-00000000ac03', '2026-03-01 12:00+00');
insert into care_limit_reason (care_limit_id, reason) values
  ('00000000-0000-4000-8000-00000000ca01', 'reasonleak-a1'), ('00000000-0000-4000-8000-00000000cb01', 'reasonleak-b1');
insert into care_change (id, care_limit_id, child_id, at, by_account, what, until_on, review_on, note) values
  ('00000000-0000-4000-8000-00000000cc01', '00000000-0000-4000-8000-00000000ca01', '00000000-0000-4000-8000-00000000c1a1', '2026-03-01 12:00+00', '00000000-0000-4000-8000-00000000ac02', 'set', '2026-03-20', '2026-03-12', 'changeleak-a1'),
  ('00000000-0000-4000-8000-00000000cc09', '00000000-0000-4000-8000-00000000ca09', '00000000-0000-4000-8000-00000000c1a1', '2026-03-01 12:00+00', '00000000-0000-4000-8000-00000000ac06', 'set', null, null, ''),
  ('00000000-0000-4000-8000-00000000ccb1', '00000000-0000-4000-8000-00000000cb01', '00000000-0000-4000-8000-00000000c1b1', '2026-03-01 12:00+00', '00000000-0000-4000-8000-00000000ac03', 'set', '2026-03-20', '2026-03-12', 'changeleak-b1');
insert into soreness (id, child_id, reported_by, reported_at, place, how_much, doing) values
  ('00000000-0000-4000-8000-0000000050a1', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac06', '2026-03-01 12:00+00', 'wrist', 3, 'soreleak-a1'),
  ('00000000-0000-4000-8000-0000000050b1', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac07', '2026-03-01 12:00+00', 'wrist', 3, 'soreleak-b1');
insert into home_assignment (id, child_id, drill_key, sets, repeats, hold_seconds, from_on, until_on, why, assigned_by, assigned_at) values
  ('00000000-0000-4000-8000-0000000040a1', '00000000-0000-4000-8000-00000000c1a1', 'd-press', 2, 6, 0, '2026-03-01', '2026-03-14', 'homewhy-a1', '00000000-0000-4000-8000-00000000ac02', '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-0000000040b1', '00000000-0000-4000-8000-00000000c1b1', 'd-press', 2, 6, 0, '2026-03-01', '2026-03-14', 'homewhy-b1', '00000000-0000-4000-8000-00000000ac03', '2026-03-01 12:00+00');
insert into home_exception (id, child_id, drill_key, reason, signed, ticked_by, ticked_at, ticked_on, until_on) values
  ('00000000-0000-4000-8000-0000000041a1', '00000000-0000-4000-8000-00000000c1a1', 'd-kick', 'tickedfor-a1', 'Tove Arkle', '00000000-0000-4000-8000-00000000ac02', '2026-02-01 12:00+00', '2026-02-01', '2026-02-20'),
  ('00000000-0000-4000-8000-0000000041b1', '00000000-0000-4000-8000-00000000c1b1', 'd-kick', 'tickedfor-b1', 'Tibor Brack', '00000000-0000-4000-8000-00000000ac03', '2026-02-01 12:00+00', '2026-02-01', '2026-02-20');

insert into rung_fit (rung_key, known, learn, not_missed, not_supported, not_clean, yes_missed, yes_supported, yes_clean, used, children, marks,
  likely_before, likely_after, held_before, held_after, fitted_at) values
  ('hs-return', 0.15, 0.08, 0.4, 0.4, 0.2, 0.03, 0.06, 0.91, false, 3, 3, 0.4, 0.4, 0.4, 0.4, '2026-03-01 12:00+00');

insert into studio_settings (chosen, changed_by, changed_at) values ('{"homeDays": 4}', '00000000-0000-4000-8000-00000000ac01', '2026-03-01 12:00+00');

insert into child_note (id, child_id, note, written_by, written_at) values
  ('00000000-0000-4000-8000-00000000d0a1', '00000000-0000-4000-8000-00000000c1a1', 'aboutleak-a1', '00000000-0000-4000-8000-00000000ac02', '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-00000000d0b1', '00000000-0000-4000-8000-00000000c1b1', 'aboutleak-b1', '00000000-0000-4000-8000-00000000ac03', '2026-03-01 12:00+00');

insert into sheet_receipt (id, sent_by, items, received_at) values
  ('00000000-0000-4000-8000-000000005ea0', '00000000-0000-4000-8000-00000000ac04', 1, '2026-03-04 16:50+00'),
  ('00000000-0000-4000-8000-000000005eb0', '00000000-0000-4000-8000-00000000ac03', 1, '2026-03-04 16:50+00');
insert into sheet_item (id, digest, receipt_id, lesson_id, child_id, sent_by, content, answer, words, received_at) values
  ('00000000-0000-4000-8000-000000005ea1', 'digest-a', '00000000-0000-4000-8000-000000005ea0', '00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac04', '{"text": "itemleak-a"}', 'quarantined', 'Kept.', '2026-03-04 16:50+00'),
  ('00000000-0000-4000-8000-000000005eb1', 'digest-b', '00000000-0000-4000-8000-000000005eb0', '00000000-0000-4000-8000-000000001eb0', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac03', '{"text": "itemleak-b"}', 'quarantined', 'Kept.', '2026-03-04 16:50+00');
insert into sheet_item (id, digest, receipt_id, lesson_id, child_id, sent_by, content, answer, words, received_at) values
  ('00000000-0000-4000-8000-000000005ea2', 'digest-a2', '00000000-0000-4000-8000-000000005ea0', '00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac04',
    '{"id": "00000000-0000-4000-8000-000000005ea2", "kind": "note", "lesson": "00000000-0000-4000-8000-000000001ea0", "child": "00000000-0000-4000-8000-00000000c1a1", "text": "waitleak-a"}', 'quarantined', 'Kept.', '2026-03-04 16:50+00'),
  ('00000000-0000-4000-8000-000000005eb2', 'digest-b2', '00000000-0000-4000-8000-000000005eb0', '00000000-0000-4000-8000-000000001eb0', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac03',
    '{"id": "00000000-0000-4000-8000-000000005eb2", "kind": "note", "lesson": "00000000-0000-4000-8000-000000001eb0", "child": "00000000-0000-4000-8000-00000000c1b1", "text": "waitleak-b"}', 'quarantined', 'Kept.', '2026-03-04 16:50+00');
insert into sheet_verdict (item_id, digest, accepted, given_by, given_at) values
  ('00000000-0000-4000-8000-000000005ea1', 'digest-a', false, '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:55+00'),
  ('00000000-0000-4000-8000-000000005eb1', 'digest-b', false, '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:55+00');
insert into sheet_note (id, lesson_id, child_id, note, written_by, written_at) values
  ('00000000-0000-4000-8000-0000000053a1', '00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a1', 'hallleak-a', '00000000-0000-4000-8000-00000000ac04', '2026-03-04 16:50+00'),
  ('00000000-0000-4000-8000-0000000053a2', '00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a2', 'hallleak-a2', '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:50+00'),
  ('00000000-0000-4000-8000-0000000053b1', '00000000-0000-4000-8000-000000001eb0', null, 'hallleak-b', '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:50+00');
insert into lesson_clock (lesson_id, version, rotation, started_at, elapsed_ms, changed_at) values
  ('00000000-0000-4000-8000-000000001ea0', 1, 1, '2026-03-04 16:55+00', 0, '2026-03-04 16:55+00'),
  ('00000000-0000-4000-8000-000000001eb0', 1, 1, null, 0, '2026-03-04 16:55+00');
insert into mark_confirmation (mark_id, confirmed_by, confirmed_at) values
  ('00000000-0000-4000-8000-00000000a0a2', '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:55+00'),
  ('00000000-0000-4000-8000-00000000a0b1', '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:55+00');
insert into incident (id, lesson_id, child_id, happened_at, what, done, told, written_by, written_at, keep_until) values
  ('00000000-0000-4000-8000-0000000011a1', '00000000-0000-4000-8000-000000001ea0', '00000000-0000-4000-8000-00000000c1a1', '2026-03-04 16:45+00', 'whatleak-a', 'doneleak-a', 'toldleak-a', '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:55+00', '2036-05-17'),
  ('00000000-0000-4000-8000-0000000011b1', '00000000-0000-4000-8000-000000001eb0', null, '2026-03-04 16:45+00', 'whatleak-b', 'doneleak-b', 'toldleak-b', '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:55+00', '2036-07-19');
insert into incident_addition (id, incident_id, words, written_by, written_at) values
  ('00000000-0000-4000-8000-0000000012a1', '00000000-0000-4000-8000-0000000011a1', 'addleak-a', '00000000-0000-4000-8000-00000000ac02', '2026-03-04 16:56+00'),
  ('00000000-0000-4000-8000-0000000012b1', '00000000-0000-4000-8000-0000000011b1', 'addleak-b', '00000000-0000-4000-8000-00000000ac03', '2026-03-04 16:56+00');
insert into sign_off_request (id, staff_id, ladder_key, words, asked_at) values
  ('00000000-0000-4000-8000-0000000051a1', '00000000-0000-4000-8000-000000005f04', 'handstand', 'askleak-a', '2026-03-04 16:00+00'),
  ('00000000-0000-4000-8000-0000000051b1', '00000000-0000-4000-8000-000000005f05', 'handstand', 'askleak-b', '2026-03-04 16:00+00');

insert into practice (assignment_id, done_on, child_id, noted_by, noted_at) values
  ('00000000-0000-4000-8000-0000000040a1', '2026-03-02', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac06', '2026-03-02 18:00+00'),
  ('00000000-0000-4000-8000-0000000040b1', '2026-03-02', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac07', '2026-03-02 18:00+00');
insert into message (id, child_id, class_id, note, signed, written_by, written_on, written_at, taken_back_at) values
  ('00000000-0000-4000-8000-00000000e0a1', '00000000-0000-4000-8000-00000000c1a1', null, 'messageleak-a1', 'Tove Arkle', '00000000-0000-4000-8000-00000000ac02', '2026-03-03', '2026-03-03 18:00+00', null),
  ('00000000-0000-4000-8000-00000000e0a2', null, '00000000-0000-4000-8000-00000000c0a0', 'messageleak-ca', 'Tove Arkle', '00000000-0000-4000-8000-00000000ac02', '2026-03-03', '2026-03-03 18:10+00', null),
  ('00000000-0000-4000-8000-00000000e0a3', '00000000-0000-4000-8000-00000000c1a1', null, 'messagegone-a1', 'Tove Arkle', '00000000-0000-4000-8000-00000000ac02', '2026-03-02', '2026-03-02 18:00+00', '2026-03-02 18:05+00'),
  ('00000000-0000-4000-8000-00000000e0a4', null, '00000000-0000-4000-8000-00000000c0a0', 'messageearly-ca', 'Tove Arkle', '00000000-0000-4000-8000-00000000ac02', '2026-01-02', '2026-01-02 18:00+00', null),
  ('00000000-0000-4000-8000-00000000e0b1', '00000000-0000-4000-8000-00000000c1b1', null, 'messageleak-b1', 'Tibor Brack', '00000000-0000-4000-8000-00000000ac03', '2026-03-03', '2026-03-03 18:00+00', null),
  ('00000000-0000-4000-8000-00000000e0b2', null, '00000000-0000-4000-8000-00000000c0b0', 'messageleak-cb', 'Tibor Brack', '00000000-0000-4000-8000-00000000ac03', '2026-03-03', '2026-03-03 18:10+00', null);
insert into message_read (message_id, account_id, read_at) values
  ('00000000-0000-4000-8000-00000000e0a1', '00000000-0000-4000-8000-00000000ac06', '2026-03-03 19:00+00'),
  ('00000000-0000-4000-8000-00000000e0b1', '00000000-0000-4000-8000-00000000ac07', '2026-03-03 19:00+00');
insert into report_release (class_id, child_id, released_by, released_at, as_of, body) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac02', '2026-03-03 18:00+00', '2026-03-03', 'reportleak-a1'),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac03', '2026-03-03 18:00+00', '2026-03-03', 'reportleak-b1');
insert into calendar_feed (account_id, token_hash, made_at) values
  ('00000000-0000-4000-8000-00000000ac06', sha256('sample-calendar-feed-32-letters.'), '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-00000000ac07', sha256('another-calendar-of-32-letters..'), '2026-03-01 12:00+00');

insert into consent_answer (id, child_id, account_id, purpose, version, nth, given, answered_at) values
  ('00000000-0000-4000-8000-00000000c5a1', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac06', 'adult-drills', 1, 1, true, '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-00000000c5b1', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac07', 'photos', 1, 1, false, '2026-03-01 12:00+00');
insert into erasure_request (id, child_id, asked_by, words, asked_at) values
  ('00000000-0000-4000-8000-00000000e5a1', '00000000-0000-4000-8000-00000000c1a1', '00000000-0000-4000-8000-00000000ac06', 'eraseleak-a1', '2026-03-02 12:00+00'),
  ('00000000-0000-4000-8000-00000000e5b1', '00000000-0000-4000-8000-00000000c1b1', '00000000-0000-4000-8000-00000000ac07', 'eraseleak-b1', '2026-03-02 12:00+00');
insert into health_read (id, child_id, at, by_account, by_name, kind) values
  ('00000000-0000-4000-8000-000000004ea1', '00000000-0000-4000-8000-00000000c1a1', '2026-03-02 12:00+00', '00000000-0000-4000-8000-00000000ac02', 'Tove Arkle', 'the reason of a care limit'),
  ('00000000-0000-4000-8000-000000004eb1', '00000000-0000-4000-8000-00000000c1b1', '2026-03-02 12:00+00', '00000000-0000-4000-8000-00000000ac03', 'Tibor Brack', 'the reason of a care limit');
insert into incident (id, lesson_id, child_id, happened_at, what, done, told, written_by, written_at, keep_until) values
  ('00000000-0000-4000-8000-0000000011b9', '00000000-0000-4000-8000-000000001eb0', null, '2022-12-20 16:45+00', 'oldleak-b', 'olddone-b', 'oldtold-b', '00000000-0000-4000-8000-00000000ac03', '2022-12-20 16:55+00', '2026-01-01');
insert into incident_person (incident_id, name, birth_date) values ('00000000-0000-4000-8000-0000000011b1', 'Bygone Personleak', '2015-08-20');
insert into retention_run (id, ran_on, ran_at, gone) values ('00000000-0000-4000-8000-00000000ea01', '2026-03-03', '2026-03-03 00:30+00', '{"attempts": 2}');

insert into pacing (class_id, most_new, lag, saved_by, saved_at) values
  ('00000000-0000-4000-8000-00000000c0a0', 2, 1, '00000000-0000-4000-8000-00000000ac02', '2026-02-01 12:00+00'),
  ('00000000-0000-4000-8000-00000000c0b0', 2, 1, '00000000-0000-4000-8000-00000000ac03', '2026-02-01 12:00+00');
insert into pacing_rung (class_id, rung_key, week_of, focus, seen_again)
  select p.class_id, r.key, r.week_of, r.focus, r.again from pacing p, (values
    ('hs-return', date '2026-01-12', false, '{2026-01-19,2026-02-02}'::date[]), ('hs-hold', '2026-03-16', true, '{2026-03-23}')) r (key, week_of, focus, again);
insert into pacing_before (class_id, parts)
  select class_id, '{"MostNew": 2, "Lag": 1, "Rungs": [{"RungKey": "hs-hold", "WeekOf": "2026-03-09T00:00:00Z", "Focus": true}]}' from pacing;

insert into report_note (class_id, child_id, note, written_by, written_at) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a1', 'parentnote-a1', '00000000-0000-4000-8000-00000000ac02', '2026-03-02 12:00+00'),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-00000000c1b1', 'parentnote-b1', '00000000-0000-4000-8000-00000000ac03', '2026-03-02 12:00+00');
insert into report_bundle (id, term_id, asked_by, asked_at, expires_at, state, finished_at) values
  ('00000000-0000-4000-8000-00000000bd01', '00000000-0000-4000-8000-000000007e01', '00000000-0000-4000-8000-00000000ac01', '2026-03-03 12:00+00', '2026-03-10 12:00+00', 'ready', '2026-03-03 12:01+00'),
  ('00000000-0000-4000-8000-00000000bd09', '00000000-0000-4000-8000-000000007e01', '00000000-0000-4000-8000-00000000ac09', '2026-03-03 12:00+00', '2026-03-10 12:00+00', 'ready', '2026-03-03 12:01+00');
insert into report_bundle_part (bundle_id, class_id, place, children, made_at)
  select b.id, c.id, 1, 2, '2026-03-03 12:01+00' from report_bundle b, class c;
insert into report_bundle_file (bundle_id, name, body) select id, 'bundleleak-' || right(id::text, 4) || '.csv', 'Aliquot' from report_bundle;

insert into audit (id, at, actor, action, subject, detail) values
  ('00000000-0000-4000-8000-00000000ad01', '2026-03-01 12:00+00', '00000000-0000-4000-8000-00000000ac02', 'set a care limit', 'child 00000000-0000-4000-8000-00000000c1a1', '{"x": "trailleak"}'),
  ('00000000-0000-4000-8000-00000000ad02', '2026-03-01 12:00+00', null, 'changed a class', 'class 00000000-0000-4000-8000-00000000c0a0', '{"x": "trailleak"}');

insert into piece (id, class_id, name, on_day, note, saved_by, saved_at) values
  ('00000000-0000-4000-8000-0000000071a0', '00000000-0000-4000-8000-00000000c0a0', 'Amberpiece', null, 'pieceleak-a', '00000000-0000-4000-8000-00000000ac02', '2026-03-01 12:00+00'),
  ('00000000-0000-4000-8000-0000000071b0', '00000000-0000-4000-8000-00000000c0b0', 'Berylpiece', '2026-03-27', 'pieceleak-b', '00000000-0000-4000-8000-00000000ac03', '2026-03-01 12:00+00');
insert into piece_part (id, piece_id, name, everybody) values
  ('00000000-0000-4000-8000-0000000072a0', '00000000-0000-4000-8000-0000000071a0', 'Everybody', true),
  ('00000000-0000-4000-8000-0000000072a1', '00000000-0000-4000-8000-0000000071a0', 'Middle', false),
  ('00000000-0000-4000-8000-0000000072b0', '00000000-0000-4000-8000-0000000071b0', 'Front', false);
insert into piece_part_rung (part_id, rung_key) values
  ('00000000-0000-4000-8000-0000000072a0', 'hs-hold'), ('00000000-0000-4000-8000-0000000072a1', 'sp-shape'), ('00000000-0000-4000-8000-0000000072b0', 'hs-hold');
insert into piece_part_child (part_id, child_id) values
  ('00000000-0000-4000-8000-0000000072a1', '00000000-0000-4000-8000-00000000c1a1'),
  ('00000000-0000-4000-8000-0000000072b0', '00000000-0000-4000-8000-00000000c1b1');
insert into piece_swap (piece_id, child_id, rung_key, instead_key, accepted_by, accepted_at) values
  ('00000000-0000-4000-8000-0000000071a0', '00000000-0000-4000-8000-00000000c1a1', 'hs-hold', null, '00000000-0000-4000-8000-00000000ac02', '2026-03-02 12:00+00'),
  ('00000000-0000-4000-8000-0000000071b0', '00000000-0000-4000-8000-00000000c1b1', 'hs-hold', 'hs-return', '00000000-0000-4000-8000-00000000ac03', '2026-03-02 12:00+00');
insert into forecast_kept (class_id, child_id, made_for, made_on, due_on, rule_clean, rule_window, rule_lessons, rungs, chances) values
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a1', 'child', '2026-02-02', '2026-03-02', 4, 5, 2, '{hs-return}', '{0.4}'),
  ('00000000-0000-4000-8000-00000000c0a0', '00000000-0000-4000-8000-00000000c1a1', 'term', '2026-02-02', '2026-03-28', 4, 5, 2, '{hs-return}', '{0.5}'),
  ('00000000-0000-4000-8000-00000000c0b0', '00000000-0000-4000-8000-00000000c1b1', 'child', '2026-02-02', '2026-03-02', 4, 5, 2, '{hs-return}', '{0.4}');

-- What people write in fields that most rows above leave empty.
update guardian set relation = 'relationleak-08' where account_id::text like '%ac08' and child_id::text like '%c1a2';
update incident set seen_by = case right(id::text, 4) when '11a1' then 'seenleak-a' else 'seenleak-b' end;
update sign_off_request set answer = case right(id::text, 4) when '51a1' then 'answerleak-a' else 'answerleak-b' end;
update erasure_request set answer = 'refuseleak-' || right(child_id::text, 2);
update plan_entry set why = 'planwhy-b1' where child_id::text like '%c1b1';
update soreness set place = 'placeleak-' || right(child_id::text, 2), signs = array['signleak-' || right(child_id::text, 2)];
