-- The term of a class: which rungs are met in which week.

create table pacing (
  class_id uuid primary key references class on delete cascade,
  version  int not null default 1,
  most_new int not null check (most_new between 1 and 6),
  lag      int not null check (lag between 1 and 6),
  saved_by uuid references account on delete set null,
  saved_at timestamptz not null
);
comment on table pacing is 'The rungs of a class laid over the weeks of its term. For teachers of the class and the owner.';
comment on column pacing.version is 'Counts saves: a save that started from an older version is refused, never merged silently.';
comment on column pacing.most_new is 'Most rungs that are new in one week.';
comment on column pacing.lag is 'Weeks, at least, between a rung and one that needs it.';

create table pacing_rung (
  class_id   uuid not null references pacing on delete cascade,
  rung_key   text not null references rung on update cascade on delete cascade,
  week_of    date check (extract(isodow from week_of) = 1),
  earliest   date check (extract(isodow from earliest) = 1),
  latest     date check (extract(isodow from latest) = 1),
  pinned     boolean not null default false,
  focus      boolean not null default false,
  seen_again date[] not null default '{}',
  primary key (class_id, rung_key),
  check (not pinned or week_of is not null)
);
comment on column pacing_rung.week_of is 'The Monday of the week in which the rung is new; null while it has none. A date, so that a change of the term moves nothing.';
comment on column pacing_rung.focus is 'Sooner is better, and by the showcase.';
comment on column pacing_rung.seen_again is 'The Mondays of the weeks in which it is seen again, as of the last save: the lesson planner reads them.';

create table pacing_before (
  class_id uuid primary key references pacing on delete cascade,
  parts    jsonb not null
);
comment on table pacing_before is 'The term as it was before its last change, to go back to.';

do $$
declare
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  t text;
begin
  foreach t in array array['pacing', 'pacing_rung', 'pacing_before'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
    execute format('create policy own on %I for all using (%s or class_id = %s) with check (%2$s or class_id = %3$s)', t, owner, teaches);
  end loop;
end $$;
grant select, insert, update, delete on pacing, pacing_rung, pacing_before to rungbook_app;
