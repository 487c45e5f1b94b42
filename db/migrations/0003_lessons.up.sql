-- Lessons, plans, marks, care limits and what goes home.

create table lesson (
  id        uuid primary key default gen_random_uuid(),
  class_id  uuid not null references class on delete restrict,
  starts_at timestamptz not null,
  minutes   int not null check (minutes between 20 and 180),
  cancelled_at timestamptz,
  unique (class_id, starts_at)
);

create table lesson_note (
  lesson_id uuid primary key references lesson on delete cascade,
  note      text not null
);
comment on table lesson_note is 'The teacher''s note. Apart from lesson, which assistants and parents may read.';

create table lesson_block (
  lesson_id uuid not null references lesson on delete cascade,
  position  int not null,
  kind      text not null check (kind in ('arrive', 'warm-up', 'conditioning', 'stations', 'cool-down')),
  minutes   int not null check (minutes between 0 and 120),
  drills    text[] not null default '{}',
  primary key (lesson_id, position)
);
comment on column lesson_block.drills is 'Keys of the drills that fill the block; empty for stations.';

create table attendance (
  lesson_id uuid not null references lesson on delete cascade,
  child_id  uuid not null references child on delete cascade,
  present   boolean not null,
  noted_by  uuid references account on delete set null,
  noted_at  timestamptz not null,
  primary key (lesson_id, child_id)
);
create index attendance_child_idx on attendance (child_id);

create table staff_attendance (
  lesson_id uuid not null references lesson on delete cascade,
  staff_id  uuid not null references staff on delete cascade,
  present   boolean not null,
  noted_at  timestamptz not null,
  primary key (lesson_id, staff_id)
);

create table plan (
  id         uuid primary key default gen_random_uuid(),
  lesson_id  uuid not null unique references lesson on delete cascade,
  version    int not null default 1,
  shared_at  timestamptz,
  rotations  int not null check (rotations between 1 and 6),
  work_seconds int not null check (work_seconds between 60 and 3600),
  worth      double precision not null,
  bound      double precision not null,
  optimal    boolean not null,
  saved_by   uuid references account on delete set null,
  saved_at   timestamptz not null
);
comment on column plan.version is 'Counts saves: a save that started from an older version is refused, never merged silently.';
comment on column plan.shared_at is 'When the teacher saved it for the assistants; null while it is a draft.';
comment on column plan.bound is 'No plan for the same evening can be worth more than this (proven).';

create table plan_before (
  plan_id uuid primary key references plan on delete cascade,
  parts   jsonb not null
);
comment on table plan_before is 'A plan as it was before its last change, to go back to. Apart from plan, which assistants may read once it is shared.';

create table plan_member (
  plan_id  uuid not null references plan on delete cascade,
  child_id uuid not null references child on delete cascade,
  group_no int not null check (group_no between 1 and 8),
  pinned   boolean not null default false,
  primary key (plan_id, child_id)
);

create table plan_cell (
  plan_id    uuid not null references plan on delete cascade,
  rotation   int not null check (rotation between 1 and 6),
  group_no   int not null check (group_no between 1 and 8),
  ladder_key text not null references ladder on update cascade on delete restrict,
  pinned     boolean not null default false,
  primary key (plan_id, rotation, group_no)
);
comment on table plan_cell is 'Where a group is in a rotation. That two groups never share a station is the checker''s rule: a hand edit may pass through it.';

create table plan_staff (
  plan_id  uuid not null references plan on delete cascade,
  rotation int not null,
  group_no int not null,
  staff_id uuid not null references staff on delete cascade,
  duty     text not null check (duty in ('lead', 'spot')),
  primary key (plan_id, rotation, group_no, staff_id, duty),
  foreign key (plan_id, rotation, group_no) references plan_cell on delete cascade
);

create table plan_entry (
  plan_id    uuid not null references plan on delete cascade,
  rotation   int not null,
  child_id   uuid not null,
  rung_key   text references rung on update cascade on delete restrict,
  drill_key  text references drill on update cascade on delete restrict,
  turns      int not null check (turns >= 0),
  wait_share double precision not null check (wait_share between 0 and 1),
  why        text not null default '',
  pinned     boolean not null default false,
  primary key (plan_id, rotation, child_id),
  foreign key (plan_id, child_id) references plan_member on delete cascade,
  check (num_nonnulls(rung_key, drill_key) = 1)
);

create table mark (
  id         uuid primary key,
  child_id   uuid not null references child on delete cascade,
  rung_key   text not null references rung on update cascade on delete restrict,
  lesson_id  uuid references lesson on delete restrict,
  side       text not null default 'none' check (side in ('none', 'left', 'right')),
  outcome    text not null check (outcome in ('missed', 'supported', 'clean')),
  marked_by  uuid references account on delete set null,
  marked_at  timestamptz not null,
  received_at timestamptz not null default now(),
  replaces   uuid references mark on delete restrict
);
comment on table mark is 'Append-only. A correction is a new row that names the one it replaces.';
comment on column mark.marked_at is 'When the turn was seen, as the device says; advisory. received_at orders.';
create index mark_child_idx on mark (child_id, rung_key, received_at);
create index mark_lesson_idx on mark (lesson_id);

create table mark_fault (
  mark_id   uuid not null references mark on delete cascade,
  rung_key  text not null,
  fault_key text not null,
  primary key (mark_id, fault_key),
  foreign key (rung_key, fault_key) references fault on update cascade on delete restrict
);

create table care_limit (
  id             uuid primary key default gen_random_uuid(),
  child_id       uuid not null references child on delete cascade,
  avoid_back     boolean not null default false,
  avoid_wrists   boolean not null default false,
  avoid_landing  boolean not null default false,
  avoid_inverted boolean not null default false,
  action         text not null check (length(trim(action)) between 1 and 160),
  from_on        date not null,
  until_on       date check (until_on >= from_on),
  review_on      date,
  set_by         uuid references account on delete set null,
  set_at         timestamptz not null,
  cleared_at     timestamptz,
  cleared_by     uuid references account on delete set null,
  clear_note     text not null default '',
  check (avoid_back or avoid_wrists or avoid_landing or avoid_inverted)
);
comment on column care_limit.action is 'What to do, never why: this is what assistants read.';
create index care_limit_child_idx on care_limit (child_id);

create table care_limit_reason (
  care_limit_id uuid primary key references care_limit on delete cascade,
  reason        text not null
);
comment on table care_limit_reason is 'Apart from care_limit: teachers of the child and the owner only; reads are written to audit.';

create table soreness (
  id          uuid primary key default gen_random_uuid(),
  child_id    uuid not null references child on delete cascade,
  reported_by uuid references account on delete set null,
  reported_at timestamptz not null,
  place       text not null check (length(trim(place)) between 1 and 80),
  how_much    int not null check (how_much between 0 and 10),
  doing       text not null default '',
  signs       text[] not null default '{}',
  care_limit_id uuid references care_limit on delete set null
);
comment on column soreness.signs is 'Signs that call for help at once, as ticked: numbness, weakness, odd walking and the like.';
create index soreness_child_idx on soreness (child_id);

create table home_assignment (
  id          uuid primary key default gen_random_uuid(),
  child_id    uuid not null references child on delete cascade,
  drill_key   text not null,
  home_safe   boolean not null default true check (home_safe),
  sets        int not null check (sets between 1 and 10),
  repeats     int not null check (repeats between 1 and 50),
  hold_seconds int not null check (hold_seconds between 0 and 300),
  from_on     date not null,
  until_on    date not null check (until_on >= from_on),
  why         text not null default '',
  assigned_by uuid references account on delete set null,
  assigned_at timestamptz not null,
  withdrawn_at timestamptz,
  constraint home_assignment_drill_is_home_safe foreign key (drill_key, home_safe) references drill (key, home_safe) on update cascade
);
comment on column home_assignment.home_safe is 'Always true: with the foreign key on (key, home_safe) the database itself refuses an unsafe drill, and refuses to make a drill unsafe while it is out.';
create index home_assignment_child_idx on home_assignment (child_id);

create function home_assignment_obeys_limits() returns trigger language plpgsql as $$
begin
  if new.withdrawn_at is null and exists (
    select from drill d join care_limit l on l.child_id = new.child_id
    where d.key = new.drill_key and l.cleared_at is null and l.from_on <= new.until_on and coalesce(l.until_on, 'infinity') >= new.from_on
      and (l.avoid_back and d.load_back > 0 or l.avoid_wrists and d.load_wrists > 0 or l.avoid_landing and d.load_landing > 0
           or l.avoid_inverted and d.inverted)) then
    raise exception 'a care limit of the child forbids this drill' using errcode = 'check_violation', constraint = 'home_assignment_obeys_limits';
  end if;
  return new;
end $$;
create trigger home_assignment_obeys_limits before insert or update on home_assignment
  for each row execute function home_assignment_obeys_limits();

create function refuse_change() returns trigger language plpgsql as $$
begin
  raise exception '% is append-only', tg_table_name using errcode = 'restrict_violation', constraint = tg_table_name || '_append_only';
end $$;
create trigger mark_append_only before update on mark for each row
  when (old.* is distinct from new.* and old.rung_key = new.rung_key and old.marked_by is not distinct from new.marked_by)
  execute function refuse_change();
create trigger audit_append_only before update or delete on audit for each row execute function refuse_change();

do $$ declare t text; begin
  foreach t in array array['lesson','lesson_note','lesson_block','attendance','staff_attendance','plan','plan_before','plan_member','plan_cell','plan_staff',
    'plan_entry','mark','mark_fault','care_limit','care_limit_reason','soreness','home_assignment'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;
end $$;
