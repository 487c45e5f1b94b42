-- Exceptions for home: a teacher ticks, for one child and one drill, that it may be done at home although the library keeps it for class.
-- An adult in the room is always a condition. Without a live exception the database refuses such a drill by itself.

alter table drill add constraint drill_key_spotters unique (key, spot_people);

create table home_exception (
  id         uuid primary key default gen_random_uuid(),
  child_id   uuid not null references child on delete cascade,
  drill_key  text not null,
  spotters   int not null default 0,
  reason     text not null check (length(trim(reason)) between 1 and 400),
  signed     text not null check (length(trim(signed)) between 1 and 120),
  ticked_by  uuid references account on delete set null,
  ticked_at  timestamptz not null,
  ticked_on  date not null,
  until_on   date not null,
  ended_by   uuid references account on delete set null,
  ended_how  text check (ended_how in ('taken back', 'no consent', 'over')),
  ended_at   timestamptz,
  unique (id, child_id, drill_key),
  constraint home_exception_span check (until_on between ticked_on and ticked_on + 84),
  constraint home_exception_ended check ((ended_at is null) = (ended_how is null)),
  constraint home_exception_no_spotter check (spotters = 0 or ended_at is not null),
  constraint home_exception_drill foreign key (drill_key, spotters) references drill (key, spot_people) on update cascade
);
comment on table home_exception is 'A drill that the library keeps for class and one child may do at home, with an adult in the room, because a teacher ticked it. Append-only but for its end.';
comment on column home_exception.spotters is 'Always 0 while it is live: with the foreign key on (key, spot_people) the database itself refuses a drill that needs a spotter, and refuses to let a drill need one while an exception for it is live. A parent is not signed off.';
comment on column home_exception.signed is 'The name of who ticked it, as families read it: they see neither staff nor accounts.';
comment on column home_exception.ticked_on is 'The studio''s day. It holds from then until until_on, twelve weeks at most.';
create unique index home_exception_once on home_exception (child_id, drill_key) where ended_at is null;

create function home_exception_keeps() returns trigger language plpgsql as $$
begin
  if old.ended_at is not null and (new.ended_at, new.ended_how) is distinct from (old.ended_at, old.ended_how)
    or new.ticked_by is distinct from old.ticked_by and new.ticked_by is not null
    or new.ended_by is distinct from old.ended_by and new.ended_by is not null and old.ended_at is not null
    or to_jsonb(new) - '{ended_at,ended_how,ended_by,ticked_by,drill_key,spotters}'::text[]
      is distinct from to_jsonb(old) - '{ended_at,ended_how,ended_by,ticked_by,drill_key,spotters}'::text[] then
    raise exception 'home_exception is append-only' using errcode = 'restrict_violation', constraint = 'home_exception_append_only';
  end if;
  return new;
end $$;
create trigger home_exception_append_only before update on home_exception for each row execute function home_exception_keeps();

alter table home_assignment
  add column exception_id uuid,
  add constraint home_assignment_exception foreign key (exception_id, child_id, drill_key) references home_exception (id, child_id, drill_key) on update cascade,
  drop constraint home_assignment_home_safe_check,
  add constraint home_assignment_home_safe_check check (home_safe or exception_id is not null or withdrawn_at is not null);
create index home_assignment_exception_idx on home_assignment (exception_id) where exception_id is not null;
comment on column home_assignment.home_safe is 'As the drill says, by the foreign key on (key, home_safe): the database itself refuses an unsafe drill without an exception, and refuses to make a drill unsafe while it is out without one.';
comment on column home_assignment.exception_id is 'The exception by which the drill is out though it is not safe alone: of the same child and drill, by the foreign key.';

create function home_assignment_has_exception() returns trigger language plpgsql as $$
begin
  if new.exception_id is null or new.withdrawn_at is not null then
    return new;
  end if;
  perform from home_exception x where x.id = new.exception_id and x.ended_at is null and new.from_on >= x.ticked_on and new.until_on <= x.until_on for share;
  if not found then
    raise exception 'no exception for this drill is live over these days' using errcode = 'check_violation', constraint = 'home_assignment_has_exception';
  end if;
  return new;
end $$;
create trigger home_assignment_has_exception before insert or update of exception_id, withdrawn_at, from_on, until_on on home_assignment
  for each row execute function home_assignment_has_exception();

create function home_exception_withdraws() returns trigger language plpgsql as $$
begin
  update home_assignment set withdrawn_at = new.ended_at where exception_id = new.id and withdrawn_at is null;
  return null;
end $$;
create trigger home_exception_withdraws after update on home_exception for each row
  when (old.ended_at is null and new.ended_at is not null) execute function home_exception_withdraws();
comment on function home_exception_withdraws is 'What was sent by an exception ends with it, in the same transaction.';

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  guards  text := $x$any((select coalesce(nullif(current_setting('app.guards', true), ''), '{}')::uuid[])::uuid[])$x$;
  erases  text := $x$(select nullif(current_setting('app.erase', true), '')::uuid)$x$;
  clears  text := $x$(select nullif(current_setting('app.clear', true), '')::date)$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
begin
  alter table home_exception enable row level security;
  alter table home_exception force row level security;
  execute format('create policy read on home_exception for select using (%s or child_id = %s or child_id = %s)', owner, taught_children, guards);
  execute format('create policy tick on home_exception for insert with check (ticked_by is not distinct from %s and ended_at is null and (%s or child_id = %s))', actor, owner, taught_children);
  execute format('create policy finish on home_exception for update using (%s or child_id = %s)', owner, taught_children);
  execute format('create policy goes on home_exception for delete using (%s and (child_id = %s or %s is not null))', owner, erases, clears);
end $$;

grant select, insert, delete, update (ended_by, ended_how, ended_at) on home_exception to rungbook_app;
