-- What became of each care limit, and what the studio knows of the causes of faults beyond their strength.

alter table care_limit add constraint care_limit_of_child unique (id, child_id);

create table care_change (
  id            uuid primary key default gen_random_uuid(),
  care_limit_id uuid not null,
  child_id      uuid not null references child on delete cascade,
  at            timestamptz not null,
  by_account    uuid references account on delete set null,
  what          text not null check (what in ('set', 'extended', 'cleared', 'reason read')),
  until_on      date,
  review_on     date,
  note          text not null default '' check (length(note) <= 400),
  foreign key (care_limit_id, child_id) references care_limit (id, child_id) on delete cascade
);
comment on table care_change is 'Append-only: only select and insert are granted. The note of clearing a limit may tell why it was set, so it is kept here, where assistants do not read, and not beside the limit.';
comment on column care_change.until_on is 'The last day and the day to look again, as they were after the change.';
create index care_change_limit_idx on care_change (care_limit_id, at);

-- What is known of earlier changes, while the new table is still open: the owner of the schema is under row-level security as well,
-- and reads the limits as the program does.
select set_config('app.owner', 'true', true);
insert into care_change (care_limit_id, child_id, at, by_account, what, until_on, review_on)
  select id, child_id, set_at, set_by, 'set', until_on, review_on from care_limit;
insert into care_change (care_limit_id, child_id, at, by_account, what, until_on, review_on, note)
  select id, child_id, cleared_at, cleared_by, 'cleared', until_on, review_on, left(clear_note, 400) from care_limit where cleared_at is not null;
alter table care_limit drop column clear_note;

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  guards  text := $x$any((select coalesce(nullif(current_setting('app.guards', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
begin
  execute 'alter table care_change enable row level security';
  execute 'alter table care_change force row level security';
  execute format('create policy read on care_change for select using (%s or child_id = %s)', owner, taught_children);
  execute format('create policy add on care_change for insert with check (by_account is not distinct from %s and (%s or child_id = %s or child_id = %s and what = ''set''))',
    actor, owner, taught_children, guards);
end $$;
grant select, insert on care_change to rungbook_app;

alter table cause
  add prior    double precision not null default 0 check (prior >= 0 and prior < 1),
  add leads_to text[] not null default '{}',
  add look_for text not null default '' check (length(look_for) <= 200);
comment on column cause.prior is 'How likely the cause is before anything is seen; 0 takes the program''s guess. A cause that stands at several faults of a rung is one: the first that says something counts, here and in the columns after this.';
comment on column cause.leads_to is 'Keys of causes of the same rung that this one brings about: it is corrected before them.';
comment on column cause.look_for is 'What a teacher looks for or asks to find out whether this is the cause.';
