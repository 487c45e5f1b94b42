-- The class sheet: what devices send, the clock of the hall, quick notes, marks that wait for a teacher, incident records, and requests
-- for a sign-off.

alter table mark drop constraint mark_outcome_check;
alter table mark add constraint mark_outcome_check check (outcome in ('missed', 'supported', 'clean', 'withdrawn'));
alter table mark add constraint mark_withdrawal_names_mark check (outcome <> 'withdrawn' or replaces is not null);
alter table mark drop constraint mark_replaces_fkey;
alter table mark add column awaits boolean not null default false;
create index mark_replaces_idx on mark (replaces) where replaces is not null;
comment on column mark.outcome is 'Withdrawn takes back the mark that it replaces: neither counts.';
comment on column mark.replaces is 'The mark that this one stands for, of the same child; one that names another child''s has no effect. No foreign key: a device may send the later mark first.';
comment on column mark.awaits is 'Made by an assistant while the studio wants a teacher''s word: counts once mark_confirmation names it.';

create table mark_confirmation (
  mark_id      uuid primary key references mark on delete cascade,
  confirmed_by uuid references account on delete set null,
  confirmed_at timestamptz not null
);
comment on table mark_confirmation is 'A teacher''s word that a mark which awaits it counts. A mark that is set aside is withdrawn instead.';

create table sheet_receipt (
  id          uuid primary key,
  sent_by     uuid references account on delete set null,
  items       int not null check (items between 0 and 200),
  received_at timestamptz not null
);
comment on table sheet_receipt is 'A row for each batch of items, also when every item in it is known: so that no answer leaves before a commit of its own, which a synchronous standby has too.';

create table sheet_item (
  id          uuid not null,
  digest      text not null,
  receipt_id  uuid not null references sheet_receipt on delete restrict,
  lesson_id   uuid references lesson on delete restrict,
  child_id    uuid references child on delete cascade,
  sent_by     uuid references account on delete set null,
  content     text not null,
  answer      text not null check (answer in ('stored', 'quarantined', 'invalid', 'conflict')),
  words       text not null default '',
  received_at timestamptz not null,
  primary key (id, digest)
);
comment on table sheet_item is 'Append-only: every item that a device sent, as it was sent, with what it was answered. The mark of an item has the item''s id.';
comment on column sheet_item.digest is 'Hex SHA-256 of the content: the same id with other content is a conflict, and both are kept.';
comment on column sheet_item.content is 'JSON as it was sent, which need not make sense.';
create unique index sheet_item_once on sheet_item (id) where answer <> 'conflict';
create index sheet_item_lesson_idx on sheet_item (lesson_id) where answer <> 'stored';

create table sheet_verdict (
  item_id  uuid not null,
  digest   text not null,
  accepted boolean not null,
  given_by uuid references account on delete set null,
  given_at timestamptz not null,
  primary key (item_id, digest),
  foreign key (item_id, digest) references sheet_item on delete cascade
);
comment on table sheet_verdict is 'What a teacher decided about an item that was quarantined or in conflict.';

create table sheet_note (
  id         uuid primary key,
  lesson_id  uuid not null references lesson on delete restrict,
  child_id   uuid references child on delete cascade,
  note       text not null check (length(trim(note)) between 1 and 500),
  written_by uuid references account on delete set null,
  written_at timestamptz not null
);
comment on table sheet_note is 'Append-only quick notes from the hall, about a child or the lesson. Read by teachers of the class only.';
create index sheet_note_lesson_idx on sheet_note (lesson_id);

create table lesson_clock (
  lesson_id  uuid primary key references lesson on delete cascade,
  version    int not null,
  rotation   int not null check (rotation between 1 and 6),
  started_at timestamptz,
  elapsed_ms bigint not null check (elapsed_ms between 0 and 86400000),
  changed_by uuid references account on delete set null,
  changed_at timestamptz not null
);
comment on table lesson_clock is 'The rotation clock that all devices of a lesson share. started_at is null while it stands; elapsed_ms is what had run before.';

create table incident (
  id          uuid primary key default gen_random_uuid(),
  lesson_id   uuid not null references lesson on delete restrict,
  child_id    uuid references child on delete set null,
  happened_at timestamptz not null,
  what        text not null check (length(trim(what)) between 1 and 4000),
  done        text not null check (length(trim(done)) between 1 and 4000),
  told        text not null check (length(trim(told)) between 1 and 2000),
  seen_by     text not null default '',
  written_by  uuid references account on delete set null,
  written_at  timestamptz not null,
  keep_until  date not null
);
comment on table incident is 'Append-only: what happened, what was done, who was told. For the owner and the teachers of the class.';
comment on column incident.keep_until is 'The later of three years after it happened and the child''s 21st birthday.';
create index incident_lesson_idx on incident (lesson_id);

create table incident_addition (
  id          uuid primary key default gen_random_uuid(),
  incident_id uuid not null references incident on delete cascade,
  words       text not null check (length(trim(words)) between 1 and 4000),
  written_by  uuid references account on delete set null,
  written_at  timestamptz not null
);
comment on table incident_addition is 'What was learned later. The record itself never changes.';
create index incident_addition_incident_idx on incident_addition (incident_id);

create table sign_off_request (
  id         uuid primary key default gen_random_uuid(),
  staff_id   uuid not null references staff on delete cascade,
  ladder_key text references ladder on update cascade on delete cascade,
  rung_key   text references rung on update cascade on delete cascade,
  words      text not null default '' check (length(words) <= 400),
  asked_at   timestamptz not null,
  decided_by uuid references account on delete set null,
  decided_at timestamptz,
  granted    boolean,
  answer     text not null default '' check (length(answer) <= 400),
  check (num_nonnulls(ladder_key, rung_key) = 1),
  check ((decided_at is null) = (granted is null))
);
comment on table sign_off_request is 'Somebody asks to be seen spotting a rung, or every spotted rung of a ladder; a teacher observes, then grants until a date or declines.';
create unique index sign_off_request_once on sign_off_request (staff_id, ladder_key, rung_key) nulls not distinct where decided_at is null;

create function sign_off_is_not_for_trainees() returns trigger language plpgsql as $$
begin
  if exists (select from staff s where s.id = new.staff_id and s.trainee) then
    raise exception 'a trainee does not spot' using errcode = 'check_violation', constraint = 'sign_off_is_not_for_trainees';
  end if;
  return new;
end $$;
create trigger sign_off_is_not_for_trainees before insert on sign_off for each row execute function sign_off_is_not_for_trainees();

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teacher text := $x$(select coalesce(nullif(current_setting('app.teacher', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  assists text := $x$any((select coalesce(nullif(current_setting('app.assists', true), ''), '{}')::uuid[])::uuid[])$x$;
  helps   text := $x$any((select coalesce(nullif(current_setting('app.assist_classes', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  helped_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', helps);
  taught_lessons text := format('any(array(select l.id from lesson l where l.class_id = %s))', teaches);
  own_staff text := format('any(array(select s.id from staff s where s.account_id = %s and s.left_on is null))', actor);
  has_role text := format('exists (select from account_role r where r.account_id = %s)', actor);
  t text;
begin
  foreach t in array array['mark_confirmation', 'sheet_receipt', 'sheet_item', 'sheet_verdict', 'sheet_note', 'lesson_clock', 'incident', 'incident_addition', 'sign_off_request'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;

  -- Whoever sees a mark sees whether it counts; a teacher of the child says so.
  execute 'create policy read on mark_confirmation for select using (mark_id = any(array(select m.id from mark m where m.id = mark_id)))';
  execute format('create policy add on mark_confirmation for insert with check (%s or confirmed_by = %s and mark_id = any(array(select m.id from mark m where m.id = mark_id and m.child_id = %s)))', owner, actor, taught_children);

  -- What devices send: staff add in their own name, teachers of the lesson read.
  execute format('create policy add on sheet_receipt for insert with check (sent_by = %s and %s)', actor, has_role);
  execute format('create policy read on sheet_receipt for select using (%s)', owner);
  execute format('create policy add on sheet_item for insert with check (sent_by = %s and %s)', actor, has_role);
  execute format('create policy read on sheet_item for select using (%s or lesson_id = %s)', owner, taught_lessons);
  execute format('create policy own on sheet_verdict for all using (%s or item_id = any(array(select i.id from sheet_item i where i.lesson_id = %s))) '
    'with check (given_by = %s and (%1$s or item_id = any(array(select i.id from sheet_item i where i.lesson_id = %2$s))))', owner, taught_lessons, actor);
  execute format('create policy read on sheet_note for select using (%s or lesson_id = %s)', owner, taught_lessons);
  execute format('create policy add on sheet_note for insert with check (%s or written_by = %s and (lesson_id = %s and (child_id is null or child_id = %s) or lesson_id = %s and (child_id is null or child_id = %s)))',
    owner, actor, taught_lessons, taught_children, assists, helped_children);

  -- Whoever runs the lesson.
  execute format('create policy own on lesson_clock for all using (%s or lesson_id = %s or lesson_id = %s) with check (%1$s or lesson_id = %2$s or lesson_id = %3$s)', owner, taught_lessons, assists);
  execute format('create policy add on attendance for insert with check (lesson_id = %s and child_id = %s and noted_by = %s)', assists, helped_children, actor);
  execute format('create policy change on attendance for update using (lesson_id = %s) with check (lesson_id = %1$s and child_id = %s and noted_by = %s)', assists, helped_children, actor);

  -- Incidents: the owner and the teachers of the class.
  execute format('create policy read on incident for select using (%s or lesson_id = %s)', owner, taught_lessons);
  execute format('create policy add on incident for insert with check (%s or written_by = %s and lesson_id = %s and (child_id is null or child_id = %s))', owner, actor, taught_lessons, taught_children);
  execute 'create policy read on incident_addition for select using (incident_id = any(array(select i.id from incident i)))';
  execute format('create policy add on incident_addition for insert with check (%s or written_by = %s and incident_id = any(array(select i.id from incident i)))', owner, actor);

  -- Requests for a sign-off: one's own, and all for those who grant them.
  execute format('create policy read on sign_off_request for select using (%s or %s or staff_id = %s)', owner, teacher, own_staff);
  execute format('create policy ask on sign_off_request for insert with check (%s or staff_id = %s and decided_at is null and decided_by is null)', owner, own_staff);
  execute format('create policy decide on sign_off_request for update using (%s or %s)', owner, teacher);
end $$;

grant select, insert on mark_confirmation, sheet_receipt, sheet_item, sheet_verdict, sheet_note, incident, incident_addition to rungbook_app;
grant select, insert, update on lesson_clock, sign_off_request to rungbook_app;
