-- Teachers' notes about a child, and the trail of one child for those who teach it.

create table child_note (
  id         uuid primary key default gen_random_uuid(),
  child_id   uuid not null references child on delete cascade,
  note       text not null check (length(trim(note)) between 1 and 2000),
  written_by uuid references account on delete set null,
  written_at timestamptz not null
);
comment on table child_note is 'What a teacher wants the child''s next teacher to know. Append-only. For teachers of the child and the owner; never for assistants or parents.';
create index child_note_child_idx on child_note (child_id, written_at);
create trigger child_note_append_only before update on child_note for each row
  when (old.written_by is not distinct from new.written_by) execute function refuse_change();

create index audit_subject_idx on audit (subject, at);

alter table child_note enable row level security;
alter table child_note force row level security;
do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  taught_subjects text := format('any(array(select ''child '' || e.child_id from enrolment e where e.class_id = %s))', teaches);
begin
  execute format('create policy read on child_note for select using (%s or child_id = %s)', owner, taught_children);
  execute format('create policy add on child_note for insert with check (written_by is not distinct from %s and (%s or child_id = %s))', actor, owner, taught_children);
  -- The trail is the owner's; of a child, also its teachers'.
  execute format('create policy of_child on audit for select using (subject = %s)', taught_subjects);
end $$;
grant select, insert on child_note to rungbook_app;
