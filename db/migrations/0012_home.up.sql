-- What families have at home: a log of practice, messages from the teacher, released term reports, a calendar to subscribe to, and
-- since when something has hurt.

alter table soreness add began_on date;
comment on column soreness.began_on is 'Since when it has hurt, as the family says; null in reports from before it was asked for.';

alter table lesson
  add revision   int not null default 0,
  add changed_at timestamptz not null default now();
comment on column lesson.revision is 'Counts changes that a calendar must hear of: it is the SEQUENCE of the event in iCalendar.';
create function lesson_revised() returns trigger language plpgsql as $$
begin
  new.revision := old.revision + 1;
  new.changed_at := now();
  return new;
end $$;
create trigger lesson_revised before update on lesson for each row
  when (old.starts_at <> new.starts_at or old.minutes <> new.minutes or old.cancelled_at is distinct from new.cancelled_at)
  execute function lesson_revised();

alter table home_assignment add constraint home_assignment_of_child unique (id, child_id);
create table practice (
  assignment_id uuid not null,
  done_on       date not null,
  child_id      uuid not null references child on delete cascade,
  noted_by      uuid references account on delete set null,
  noted_at      timestamptz not null,
  primary key (assignment_id, done_on),
  foreign key (assignment_id, child_id) references home_assignment (id, child_id) on delete cascade
);
comment on table practice is 'That a drill was done at home on a day, as the family says. The family may take it away again.';
create index practice_child_idx on practice (child_id, done_on);

create table message (
  id            uuid primary key default gen_random_uuid(),
  child_id      uuid references child on delete cascade,
  class_id      uuid references class on delete cascade,
  note          text not null check (length(trim(note)) between 1 and 2000),
  signed        text not null check (length(signed) <= 120),
  written_by    uuid references account on delete set null,
  written_on    date not null,
  written_at    timestamptz not null,
  taken_back_at timestamptz,
  check (num_nonnulls(child_id, class_id) = 1)
);
comment on table message is 'A one-way note from a teacher to the family of a child, or to those of a class. Its words never change; it may be taken back.';
comment on column message.signed is 'The writer''s name as families read it: they see neither staff nor accounts.';
comment on column message.written_on is 'The studio''s day. A message to a class is for the families of the children who were in it on that day.';
create index message_child_idx on message (child_id);
create index message_class_idx on message (class_id);

create table message_read (
  message_id uuid not null references message on delete cascade,
  account_id uuid not null references account on delete cascade,
  read_at    timestamptz not null,
  primary key (message_id, account_id)
);
comment on table message_read is 'When a guardian first opened a message. Teachers see how many did.';

create table report_release (
  class_id    uuid not null references class on delete cascade,
  child_id    uuid not null references child on delete cascade,
  released_by uuid references account on delete set null,
  released_at timestamptz not null,
  as_of       date not null,
  body        bytea not null,
  primary key (class_id, child_id)
);
comment on table report_release is 'The term report of a child as its family may read it. The file itself is kept, so that it stays what the teacher looked at.';
comment on column report_release.as_of is 'The day up to which marks count in it.';
create index report_release_child_idx on report_release (child_id);

create table calendar_feed (
  account_id uuid primary key references account on delete cascade,
  token_hash bytea not null unique check (length(token_hash) = 32),
  made_at    timestamptz not null,
  read_at    timestamptz
);
comment on table calendar_feed is 'A guardian''s link for calendar programs. Only the SHA-256 of its secret is kept: a new link replaces it, and deleting the row ends it.';
comment on column calendar_feed.read_at is 'When a calendar program last asked for it.';

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  secret  text := $x$(select nullif(current_setting('app.secret', true), ''))$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  guards  text := $x$any((select coalesce(nullif(current_setting('app.guards', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  writes_to text := format('(%s or class_id = %s or child_id = %s)', owner, teaches, taught_children);
  t text;
begin
  foreach t in array array['practice', 'message', 'message_read', 'report_release', 'calendar_feed'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;

  execute format('create policy read on practice for select using (%s or child_id = %s)', owner, taught_children);
  execute format('create policy own on practice for all using (child_id = %s) with check (child_id = %1$s and noted_by = %s)', guards, actor);

  execute format('create policy read on message for select using (%s or taken_back_at is null and (child_id = %s or exists (select from enrolment e '
    'where e.class_id = message.class_id and e.child_id = %2$s and message.written_on between e.from_on and coalesce(e.until_on, ''infinity''))))', writes_to, guards);
  execute format('create policy add on message for insert with check (written_by is not distinct from %s and %s)', actor, writes_to);
  execute format('create policy take_back on message for update using (%s)', writes_to);

  execute format('create policy read on message_read for select using (account_id = %s or %s or message_id = any(array(select m.id from message m where m.class_id = %s or m.child_id = %s)))',
    actor, owner, teaches, taught_children);
  execute format('create policy add on message_read for insert with check (account_id = %s and message_id = any(array(select m.id from message m)))', actor);

  execute format('create policy read on report_release for select using (child_id = %s)', guards);
  execute format('create policy write on report_release for all using (%s or class_id = %s) with check (%1$s or class_id = %2$s and child_id = %s)', owner, teaches, taught_children);

  execute format('create policy own on calendar_feed for all using (account_id = %s) with check (account_id = %1$s)', actor);
  execute format('create policy held on calendar_feed for select using (encode(token_hash, ''hex'') = %s)', secret);
end $$;

grant select, insert, delete on practice to rungbook_app;
grant select, insert, update (taken_back_at) on message to rungbook_app;
grant select, insert on message_read to rungbook_app;
grant select, insert, update, delete on report_release, calendar_feed to rungbook_app;
