-- What families decide about their data: consents, erasure, who read health data, how long things are kept; and a chain of hashes over
-- the trail. Three settings of a transaction, beside those of 0004, open what is else closed, each for a single use case:
--   app.export  on while a guardian's copy of a child's data is made
--   app.erase   the child that the owner is erasing
--   app.clear   the day on which the program clears out what was kept long enough

alter table child add column erased_at timestamptz;
comment on column child.erased_at is 'The row is a tombstone: nobody can be known from it. Marks and attendance stay with it, so that sums over a class stay what they were.';

create table consent_text (
  purpose    text not null check (purpose in ('letters', 'adult-drills', 'photos')),
  version    int not null check (version >= 1),
  words      text not null check (length(trim(words)) between 1 and 2000),
  written_by uuid references account on delete set null,
  written_at timestamptz not null,
  primary key (purpose, version)
);
comment on table consent_text is 'What families are asked, word for word. Append-only: other words are a new version, for which everybody is asked again.';
insert into consent_text (purpose, version, words, written_at) values
  ('letters', 1, 'The studio may write to my e-mail address when a message about my child waits here. The e-mail says that there is one, and nothing of what it says.', now()),
  ('adult-drills', 1, 'The studio may send home drills that my child does only while an adult is in the room. I see to it that one is.', now()),
  ('photos', 1, 'The studio may take photos of my child at the showcase. It keeps them outside of this program, and never puts a full name beside one.', now());

create table consent_answer (
  id          uuid primary key default gen_random_uuid(),
  child_id    uuid not null references child on delete cascade,
  account_id  uuid references account on delete set null,
  purpose     text not null,
  version     int not null,
  nth         int not null check (nth >= 1),
  given       boolean not null,
  answered_at timestamptz not null,
  unique (child_id, purpose, account_id, nth),
  foreign key (purpose, version) references consent_text
);
comment on table consent_answer is 'The ledger: append-only. The last answer of each guardian to the present words counts; a withdrawal is an answer like any other.';
comment on column consent_answer.nth is 'Counts the answers of a guardian about a child and a purpose.';

create function keep_words() returns trigger language plpgsql as $$
begin
  if to_jsonb(new) - tg_argv[0] = to_jsonb(old) - tg_argv[0] and to_jsonb(new) ->> tg_argv[0] is null then
    return new; -- the account is gone
  end if;
  raise exception '% is append-only', tg_table_name using errcode = 'restrict_violation', constraint = tg_table_name || '_append_only';
end $$;
create trigger consent_text_append_only before update on consent_text for each row execute function keep_words('written_by');
create trigger consent_answer_append_only before update on consent_answer for each row execute function keep_words('account_id');

create table erasure_request (
  id         uuid primary key default gen_random_uuid(),
  child_id   uuid not null references child on delete cascade,
  asked_by   uuid references account on delete set null,
  words      text not null default '' check (length(words) <= 1000),
  asked_at   timestamptz not null,
  decided_by uuid references account on delete set null,
  decided_at timestamptz,
  erased     boolean,
  answer     text not null default '' check (length(answer) <= 1000),
  check ((decided_at is null) = (erased is null))
);
comment on table erasure_request is 'A guardian asks that what is kept about a child be erased; the owner does it, or says why not.';
create unique index erasure_request_once on erasure_request (child_id) where decided_at is null;

create table health_read (
  id         uuid primary key default gen_random_uuid(),
  child_id   uuid not null references child on delete cascade,
  at         timestamptz not null,
  by_account uuid references account on delete set null,
  by_name    text not null,
  kind       text not null check (kind in ('the reason of a care limit', 'an incident record', 'the list of incident records'))
);
comment on table health_read is 'Who read health data of a child, written in the same transaction as the reading; the family sees it.';
comment on column health_read.by_name is 'The reader''s name at the time: families read neither staff nor accounts.';
create index health_read_child_idx on health_read (child_id, at);

create table incident_person (
  incident_id uuid primary key references incident on delete cascade,
  name        text not null,
  birth_date  date not null
);
comment on table incident_person is 'Whom an incident record is about, kept with it where the child was erased: the record must serve until it may go.';

create table retention_run (
  id     uuid primary key default gen_random_uuid(),
  ran_on date not null unique,
  ran_at timestamptz not null,
  gone   jsonb not null
);
comment on table retention_run is 'A row a day: of several running copies the one that writes it clears out. gone counts rows by kind.';

-- The chain. Each row of the trail gets a link when its transaction commits: the hash of the link before and of the row.
create table audit_link (
  seq      bigint primary key,
  audit_id uuid not null unique references audit on delete restrict,
  hash     bytea not null check (length(hash) = 32)
);
comment on table audit_link is 'Insert-only: the trail in the order of its commits. A row that is changed, removed or slipped in later breaks the chain from there on.';
create trigger audit_link_append_only before update or delete on audit_link for each row execute function refuse_change();

create function audit_hash(before bytea, entry audit) returns bytea language sql stable as $$
  select sha256(before || convert_to(jsonb_build_array(entry.id, to_char(entry.at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), entry.actor, entry.action,
    entry.subject, entry.detail)::text, 'UTF8'))
$$;
comment on function audit_hash is 'SHA-256 over the hash before (32 zero bytes for the first) and the row as a JSON array in UTF-8, as PostgreSQL writes jsonb.';

create function audit_chain() returns trigger language plpgsql as $$
declare
  last audit_link;
begin
  perform pg_advisory_xact_lock(hashtext('rungbook.audit_link'));
  select * into last from audit_link order by seq desc limit 1;
  insert into audit_link values (coalesce(last.seq, 0) + 1, new.id, audit_hash(coalesce(last.hash, decode(repeat('00', 32), 'hex')), new));
  return null;
end $$;
create constraint trigger audit_chain after insert on audit deferrable initially deferred for each row execute function audit_chain();
comment on function audit_chain is 'Runs at commit, so that transactions stand in line for their last moment only, and none can wait for another in a circle.';

-- The rows that are there, in the order in which they were written. The owner of the schema is under row-level security as well.
select set_config('app.owner', 'true', true);
do $$
declare
  entry audit;
  hash  bytea := decode(repeat('00', 32), 'hex');
  n     bigint := 0;
begin
  for entry in select * from audit order by at, id loop
    n := n + 1;
    hash := audit_hash(hash, entry);
    insert into audit_link values (n, entry.id, hash);
  end loop;
end $$;

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  guards  text := $x$any((select coalesce(nullif(current_setting('app.guards', true), ''), '{}')::uuid[])::uuid[])$x$;
  exports text := $x$(select coalesce(nullif(current_setting('app.export', true), ''), 'off')::boolean)$x$;
  erases  text := $x$(select nullif(current_setting('app.erase', true), '')::uuid)$x$;
  clears  text := $x$(select nullif(current_setting('app.clear', true), '')::date)$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  t text;
begin
  foreach t in array array['consent_text', 'consent_answer', 'erasure_request', 'health_read', 'incident_person', 'retention_run', 'audit_link'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;

  execute format('create policy read on consent_text for select using (%s is not null or %s)', actor, owner);
  execute format('create policy add on consent_text for insert with check (%s)', owner);
  execute format('create policy read on consent_answer for select using (%s or child_id = %s or child_id = %s)', owner, taught_children, guards);
  execute format('create policy add on consent_answer for insert with check (account_id = %s and child_id = %s)', actor, guards);

  execute format('create policy read on erasure_request for select using (%s or child_id = %s)', owner, guards);
  execute format('create policy ask on erasure_request for insert with check (asked_by = %s and child_id = %s and decided_at is null and decided_by is null)', actor, guards);
  execute format('create policy decide on erasure_request for update using (%s)', owner);

  execute format('create policy read on health_read for select using (%s or child_id = %s)', owner, guards);
  execute format('create policy add on health_read for insert with check (by_account is not distinct from %s and (%s or child_id = %s))', actor, owner, taught_children);

  execute format('create policy own on incident_person for all using (%s) with check (%1$s and %s is not null)', owner, erases);
  execute format('create policy read on retention_run for select using (%s)', owner);
  execute format('create policy add on retention_run for insert with check (%s and %s is not null)', owner, clears);
  execute format('create policy read on audit_link for select using (%s or pg_trigger_depth() > 0)', owner);
  execute format('create policy add on audit_link for insert with check (%s and %s is null or pg_trigger_depth() > 0)', owner, actor);

  -- A guardian's copy holds why a care limit was set, how it went on, and how hard lessons were.
  execute format('create policy exported on care_limit_reason for select using (%s and care_limit_id = any(array(select l.id from care_limit l where l.child_id = %s)))', exports, guards);
  execute format('create policy exported on care_change for select using (%s and child_id = %s)', exports, guards);
  execute format('create policy exported on child_effort for select using (%s and child_id = %s)', exports, guards);

  -- What goes with a child that is erased, or when it was kept long enough.
  foreach t in array array['child_note', 'soreness', 'sheet_note', 'sheet_item', 'message', 'practice', 'health_read'] loop
    execute format('create policy goes on %I for delete using (%s and (child_id = %s or %s is not null))', t, owner, erases, clears);
  end loop;
  execute format('create policy goes on consent_answer for delete using (%s and child_id = %s)', owner, erases);
  execute format('create policy goes on incident for delete using (%s and keep_until < %s)', owner, clears);
end $$;

grant select, insert on consent_text, health_read, incident_person, retention_run, audit_link to rungbook_app;
grant select, insert, delete on consent_answer to rungbook_app;
grant select, insert, update (words, asked_by, decided_by, decided_at, erased, answer) on erasure_request to rungbook_app;
grant delete on child_note, soreness, sheet_note, sheet_item, message, practice, health_read, incident to rungbook_app;
