-- Term reports of a whole studio, made in the background; what teachers write to parents; terms put away for good.

create schema jobs;
comment on schema jobs is 'The queue of background work, as its library keeps it. Its rows name records by id and hold nothing about people.';
grant usage on schema jobs to rungbook_app;
alter default privileges in schema jobs grant select, insert, update, delete on tables to rungbook_app;
alter default privileges in schema jobs grant usage on sequences to rungbook_app;

create table report_note (
  class_id   uuid not null references class on delete cascade,
  child_id   uuid not null references child on delete cascade,
  note       text not null check (length(trim(note)) between 1 and 2000),
  written_by uuid references account on delete set null,
  written_at timestamptz not null,
  primary key (class_id, child_id)
);
comment on table report_note is 'What the teacher writes to the parents in the term report of a child. Families read it only in a report that was released.';
create index report_note_child_idx on report_note (child_id);

create table report_bundle (
  id          uuid primary key default gen_random_uuid(),
  term_id     uuid not null references term on delete cascade,
  asked_by    uuid not null references account on delete cascade,
  asked_at    timestamptz not null,
  expires_at  timestamptz not null check (expires_at > asked_at),
  state       text not null default 'waiting' check (state in ('waiting', 'working', 'ready', 'stopped', 'failed')),
  finished_at timestamptz
);
comment on table report_bundle is 'The term reports of every class of a term, asked for by an owner and made in the background. Only who asked for it may read it, and only until it expires.';
create index report_bundle_asked_idx on report_bundle (asked_by, asked_at);

create table report_bundle_part (
  bundle_id uuid not null references report_bundle on delete cascade,
  class_id  uuid not null references class on delete cascade,
  place     int not null,
  children  int not null,
  made_at   timestamptz,
  primary key (bundle_id, class_id)
);
comment on table report_bundle_part is 'A class of a bundle. Its files and made_at are written together, so that work which was cut off goes on with the next class and doubles nothing.';
comment on column report_bundle_part.children is 'How many children there are to write for: the measure of progress.';

create table report_bundle_file (
  bundle_id uuid not null references report_bundle on delete cascade,
  name      text not null,
  body      bytea not null,
  primary key (bundle_id, name)
);
comment on table report_bundle_file is 'The files of a bundle, by their path in it. They go when it expires or is stopped.';
alter table report_bundle_file alter column body set storage external;

alter table term add column archived_at timestamptz;
comment on column term.archived_at is 'Since when the term has been put away: what is in it can be read, and not changed.';

-- A term that was put away stays as it is. Erasing a child and clearing what was kept long enough go on as before, and what follows
-- from the deletion of another row is not looked at.
create function refuse_archived() returns trigger language plpgsql as $$
declare
  changed jsonb;
  away boolean;
begin
  if tg_op = 'DELETE' then
    changed := to_jsonb(old);
  else
    changed := to_jsonb(new);
  end if;
  case tg_argv[0]
    when 'term' then
      select m.archived_at is not null into away from term m where m.id = (changed->>'term_id')::uuid;
    when 'class' then
      select m.archived_at is not null into away from class c join term m on m.id = c.term_id where c.id = (changed->>'class_id')::uuid;
    when 'lesson' then
      select m.archived_at is not null into away from lesson l join class c on c.id = l.class_id join term m on m.id = c.term_id
        where l.id = (changed->>'lesson_id')::uuid;
    else
      away := changed->>'archived_at' is not null and (tg_op = 'DELETE' or old.archived_at is not null);
  end case;
  if away then
    raise exception 'the term is put away' using errcode = 'check_violation', constraint = 'term_is_put_away';
  end if;
  if tg_op = 'DELETE' then
    return old;
  end if;
  return new;
end $$;

do $$
declare
  asked text := $x$pg_trigger_depth() = 0 and coalesce(current_setting('app.erase', true), '') = '' and coalesce(current_setting('app.clear', true), '') = ''$x$;
  held record;
  t text;
begin
  execute format('create trigger put_away before update or delete on term for each row when (%s) execute function refuse_archived(''itself'')', asked);
  for held in select * from (values ('term', '{class,holiday}'::text[]),
      ('class', '{lesson,class_staff,enrolment,class_pair,report_note,pacing,pacing_rung}'),
      ('lesson', '{lesson_note,lesson_block,attendance,staff_attendance,plan,mark}')) v (found_by, tables) loop
    foreach t in array held.tables loop
      execute format('create trigger put_away before insert or update or delete on %I for each row when (%s) execute function refuse_archived(%L)', t, asked, held.found_by);
    end loop;
  end loop;
end $$;

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  own_bundle text := format('%s and (asked_by = %s or %2$s is null)', owner, actor); -- without an actor it is the program itself
  t text;
begin
  foreach t in array array['report_note', 'report_bundle', 'report_bundle_part', 'report_bundle_file'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;
  execute format('create policy own on report_note for all using (%s or class_id = %s) with check (%1$s or class_id = %2$s and child_id = %s)', owner, teaches, taught_children);
  execute format('create policy own on report_bundle for all using (%s) with check (%1$s)', own_bundle);
  foreach t in array array['report_bundle_part', 'report_bundle_file'] loop
    execute format('create policy own on %I for all using (bundle_id = any(array(select b.id from report_bundle b))) with check (bundle_id = any(array(select b.id from report_bundle b)))', t);
  end loop;
end $$;
grant select, insert, update, delete on report_note, report_bundle, report_bundle_part, report_bundle_file to rungbook_app;
