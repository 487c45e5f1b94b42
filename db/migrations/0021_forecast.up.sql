-- Forecasts as they were made, to see later how they turned out.

create table forecast_kept (
  class_id     uuid not null references class on delete cascade,
  child_id     uuid not null references child on delete cascade,
  made_for     text not null check (made_for in ('child', 'term')),
  made_on      date not null,
  due_on       date not null check (due_on > made_on),
  rule_clean   smallint not null,
  rule_window  smallint not null,
  rule_lessons smallint not null,
  rungs        text[] not null check (cardinality(rungs) > 0),
  chances      double precision[] not null check (cardinality(chances) = cardinality(rungs) and 0 <= all (chances) and 1 >= all (chances)),
  primary key (class_id, made_on, made_for, due_on, child_id)
);
comment on table forecast_kept is 'What was forecast about a child, once a week in term. Rows are added by the program and never changed: what became of them is read from the marks when it is asked. For teachers of the class and the owner, never families or assistants.';
comment on column forecast_kept.made_for is 'child: as on the page of the child, over all its classes. term: as it goes into the outlook of the class, through the weeks as they were laid out.';
comment on column forecast_kept.due_on is 'The showcase or the end of the term; or four weeks ahead, so that something comes due early.';
comment on column forecast_kept.rule_clean is 'The studio''s rule of secure that the forecast was made by, with rule_window and rule_lessons: it is judged by the same.';
comment on column forecast_kept.rungs is 'The keys of the rungs, with the chance of each in chances. Arrays, since a row for each would take ten times the room; a rung that has left the library since is passed over.';
create index forecast_kept_child_idx on forecast_kept (child_id);
create index forecast_kept_due_idx on forecast_kept (due_on);

alter table forecast_kept enable row level security;
alter table forecast_kept force row level security;
do $$
declare
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  erases  text := $x$(select nullif(current_setting('app.erase', true), '')::uuid)$x$;
  clears  text := $x$(select nullif(current_setting('app.clear', true), '')::date)$x$;
begin
  execute format('create policy read on forecast_kept for select using (%s or class_id = %s)', owner, teaches);
  execute format('create policy add on forecast_kept for insert with check (%s)', owner);
  execute format('create policy goes on forecast_kept for delete using (%s and (child_id = %s or %s is not null))', owner, erases, clears);
end $$;
grant select, insert, delete on forecast_kept to rungbook_app;
