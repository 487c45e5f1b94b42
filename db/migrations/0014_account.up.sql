-- Accounts in their holders' own hands: the list of browsers, each guardian's own rights, passkeys and a second factor.

alter table session
  add id      uuid not null default gen_random_uuid() unique,
  add browser text not null default '' check (length(browser) <= 80);
comment on column session.id is 'Names the session in the list of one''s browsers; the id in the cookie names it to nobody else.';
comment on column session.browser is 'The kind of browser and computer in words, such as Firefox on Linux.';

create table account_browser (
  account_id uuid not null references account on delete cascade,
  browser    text not null check (length(browser) <= 80),
  since      timestamptz not null,
  primary key (account_id, browser)
);
comment on table account_browser is 'Kinds of browser from which an account has signed in: from a new one, its holder is told.';

alter table guardian
  add rights     text[] not null default '{hurt,reports}' check (rights <@ array['hurt', 'reports', 'invite']),
  add called     text not null default '' check (length(called) <= 120),
  add invited_by uuid references account on delete set null;
comment on column guardian.rights is 'What this guardian may beside seeing the child: hurt reports that something hurts, reports reads released term reports, invite lets further guardians in.';
comment on column guardian.called is 'The name as a guardian who may invite reads it: guardians do not see accounts.';
comment on column guardian.invited_by is 'Who invited this guardian: a guardian may take away again only whom he or she let in.';

alter table invitation
  add rights text[] check (rights <@ array['hurt', 'reports', 'invite']);
comment on column invitation.rights is 'Of the guardian to be; null for what a guardian has who is invited by the studio.';

create table passkey (
  id            uuid primary key default gen_random_uuid(),
  account_id    uuid not null references account on delete cascade,
  credential_id bytea not null unique,
  name          text not null check (length(trim(name)) between 1 and 60),
  credential    jsonb not null,
  made_at       timestamptz not null,
  used_at       timestamptz
);
comment on table passkey is 'Public keys of WebAuthn credentials. They open nothing by themselves: the private key never leaves its device.';
comment on column passkey.credential is 'The credential record of the WebAuthn standard, with its counter.';
create index passkey_account_idx on passkey (account_id);

create table second_factor (
  account_id   uuid primary key references account on delete cascade,
  secret       bytea not null check (length(secret) = 20),
  made_at      timestamptz not null,
  confirmed_at timestamptz,
  last_step    bigint not null default 0
);
comment on table second_factor is 'The secret that the program shares with an authenticator (RFC 6238). In force once a first code has been shown.';
comment on column second_factor.last_step is 'The time step of the last code that was taken: no code is taken twice.';

create table recovery_code (
  account_id uuid not null references second_factor on delete cascade,
  place      int not null check (place between 1 and 20),
  code_hash  bytea not null check (length(code_hash) = 32),
  used_at    timestamptz,
  primary key (account_id, place)
);
comment on table recovery_code is 'For when the authenticator is lost: each works once. 80 random bits need no slow hash.';

-- Those who are guardians now: who came first may invite. Row-level security is forced, so it is lifted for these two statements.
alter table guardian no force row level security;
alter table account no force row level security;
update guardian g set called = a.name from account a where a.id = g.account_id;
update guardian g set rights = '{hurt,reports,invite}' where g.removed_at is null and not exists (select from guardian o
  where o.child_id = g.child_id and o.removed_at is null and (o.since, o.account_id) < (g.since, g.account_id));
alter table account force row level security;
alter table guardian force row level security;

-- Three settings more, beside those that 0004 names:
--   app.may_report   children for whom the actor may report that something hurts
--   app.may_read     children whose released reports the actor may read
--   app.may_invite   children to whom the actor may let further guardians in
do $$
declare
  actor      text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner      text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  may_report text := $x$any((select coalesce(nullif(current_setting('app.may_report', true), ''), '{}')::uuid[])::uuid[])$x$;
  may_read   text := $x$any((select coalesce(nullif(current_setting('app.may_read', true), ''), '{}')::uuid[])::uuid[])$x$;
  may_invite text := $x$any((select coalesce(nullif(current_setting('app.may_invite', true), ''), '{}')::uuid[])::uuid[])$x$;
  inviting   text := $x$(select coalesce(nullif(current_setting('app.may_invite', true), ''), '{}')::uuid[])$x$;
  t text;
begin
  foreach t in array array['account_browser', 'passkey', 'second_factor', 'recovery_code'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
    execute format('create policy own on %I for all using (account_id = %s) with check (account_id = %2$s)', t, actor);
    execute format('create policy command on %I for all using (%s and %s is null) with check (%2$s and %3$s is null)', t, owner, actor);
  end loop;

  drop policy report on care_limit;
  execute format('create policy report on care_limit for insert with check (child_id = %s and set_by = %s and cleared_at is null and until_on is null)', may_report, actor);
  drop policy report on soreness;
  execute format('create policy report on soreness for insert with check (%s or child_id = %s and reported_by = %s)', owner, may_report, actor);
  drop policy read on report_release;
  execute format('create policy read on report_release for select using (child_id = %s)', may_read);

  execute format('create policy beside on guardian for select using (child_id = %s)', may_invite);
  execute format('create policy let_in on guardian for update using (child_id = %s and invited_by = %s) with check (child_id = %1$s and invited_by = %2$s and not ''invite'' = any(rights))', may_invite, actor);
  execute format('create policy own on invitation for select using (created_by = %s)', actor);
  execute format('create policy let_in on invitation for insert with check (created_by = %s and kind = ''join'' and roles = ''{}'' and staff_id is null '
    'and cardinality(child_ids) > 0 and child_ids <@ %s and rights <@ array[''hurt'', ''reports''])', actor, inviting);
  execute format('create policy take_back on invitation for delete using (created_by = %s and used_at is null)', actor);
end $$;
grant select, insert, update, delete on account_browser, passkey, second_factor, recovery_code to rungbook_app;
