-- How hard a lesson was, for session load: effort times minutes (Foster et al. 2001, J Strength Cond Res 15:109-115).

create table lesson_effort (
  lesson_id uuid primary key references lesson on delete cascade,
  effort    int not null check (effort between 0 and 10),
  noted_by  uuid references account on delete set null,
  noted_at  timestamptz not null
);
comment on table lesson_effort is 'One figure for the class, as its teacher saw it; holds for every child without a row of its own.';

create table child_effort (
  lesson_id uuid not null references lesson on delete cascade,
  child_id  uuid not null references child on delete cascade,
  effort    int not null check (effort between 0 and 10),
  noted_by  uuid references account on delete set null,
  noted_at  timestamptz not null,
  primary key (lesson_id, child_id)
);
comment on table child_effort is 'A child for whom the lesson was harder or easier than for the class.';
create index child_effort_child_idx on child_effort (child_id);

do $$
declare
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  taught_lessons  text := format('any(array(select l.id from lesson l where l.class_id = %s))', teaches);
  t text;
begin
  foreach t in array array['lesson_effort', 'child_effort'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;
  execute format('create policy own on lesson_effort for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s)', owner, taught_lessons);
  execute format('create policy own on child_effort for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s and child_id = %3$s)', owner, taught_lessons, taught_children);
end $$;

grant select, insert, update, delete on lesson_effort, child_effort to rungbook_app;
