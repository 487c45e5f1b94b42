-- Accounts, better guarded: sealed secrets of authenticators, changes of address that are confirmed, and notes of what happened.

alter table second_factor add column key_id text not null default '';
alter table second_factor drop constraint second_factor_secret_check;
alter table second_factor add constraint second_factor_secret_check
  check (case when key_id = '' then length(secret) = 20 else key_id ~ '^[0-9a-f]{8}$' and length(secret) = 48 end);
comment on column second_factor.key_id is 'The key by which the secret is sealed (AES-256-GCM: a nonce, the secret, a tag); empty for a secret from before there was one, which the program seals when it starts.';

create table email_change (
  account_id   uuid primary key references account on delete cascade,
  was          text not null,
  email        text not null check (email = lower(email) and length(email) between 3 and 254),
  confirm_hash bytea not null unique check (length(confirm_hash) = 32),
  stop_hash    bytea not null unique check (length(stop_hash) = 32),
  asked_at     timestamptz not null,
  confirmed_at timestamptz
);
comment on table email_change is 'The last change of address that an account asked for. It counts once a link sent to the new address was opened; a link sent to the old one stops it, for some days also afterwards.';

create table account_note (
  id         uuid primary key default gen_random_uuid(),
  account_id uuid not null references account on delete cascade,
  at         timestamptz not null,
  kind       text not null check (kind ~ '^[a-z-]{1,40}$'),
  about      text not null default '' check (length(about) <= 254)
);
comment on table account_note is 'What its holder is told about an account: on the page of the account, and by e-mail where there is a mail server.';
create index account_note_account_idx on account_note (account_id, at);

do $$
declare
  actor text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  t text;
begin
  foreach t in array array['email_change', 'account_note'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
    execute format('create policy command on %I for all using (%s and %s is null) with check (%2$s and %3$s is null)', t, owner, actor);
  end loop;
  execute format('create policy own on email_change for all using (account_id = %s) with check (account_id = %1$s)', actor);
  execute format('create policy own on account_note for select using (account_id = %s)', actor);
  execute format('create policy tell on account_note for insert with check (account_id = %s or %s)', actor, owner);
end $$;
grant select, insert, update, delete on email_change to rungbook_app;
grant select, insert, delete on account_note to rungbook_app;
