-- What a studio sets for itself: one row of values; those that are missing take the program's defaults.

create table studio_settings (
  one        boolean primary key default true check (one),
  chosen     jsonb not null default '{}' check (jsonb_typeof(chosen) = 'object'),
  changed_by uuid references account on delete set null,
  changed_at timestamptz not null
);
comment on table studio_settings is 'One row. Read with the scope of every transaction, so it must stay small and hold nothing about people.';
comment on column studio_settings.chosen is 'The fields of studio.Settings that the studio chose; a new field needs no migration.';

alter table studio_settings enable row level security;
alter table studio_settings force row level security;
do $$
declare
  actor text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
begin
  execute format('create policy read on studio_settings for select using (%s is not null or %s)', actor, owner);
  execute format('create policy write on studio_settings for all using (%s) with check (%1$s)', owner);
end $$;
grant select, insert, update on studio_settings to rungbook_app;
