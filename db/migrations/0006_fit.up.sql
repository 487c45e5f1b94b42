-- What the studio's own marks say about how each rung is learned. Worked out by the program over all marks, which no teacher may
-- read: only these sums leave.

create table rung_fit (
  rung_key      text primary key references rung on update cascade on delete cascade,
  known         double precision not null check (known between 0 and 1),
  learn         double precision not null check (learn between 0 and 1),
  not_missed    double precision not null check (not_missed between 0 and 1),
  not_supported double precision not null check (not_supported between 0 and 1),
  not_clean     double precision not null check (not_clean between 0 and 1),
  yes_missed    double precision not null check (yes_missed between 0 and 1),
  yes_supported double precision not null check (yes_supported between 0 and 1),
  yes_clean     double precision not null check (yes_clean between 0 and 1),
  used          boolean not null,
  children      int not null check (children >= 0),
  marks         int not null check (marks >= 0),
  likely_before double precision not null,
  likely_after  double precision not null,
  held_before   double precision not null,
  held_after    double precision not null,
  fitted_at     timestamptz not null
);
comment on table rung_fit is 'Parameters of Bayesian knowledge tracing by rung, with the number of children and marks behind them. Says nothing about any one child.';
comment on column rung_fit.not_missed is 'How a turn looks while the rung is not known: missed, supported, clean (the guess). Likewise yes_..., while it is known.';
comment on column rung_fit.used is 'False where the marks are too few, or the fit foretold children left out of it no better than the defaults did: then these are the defaults.';
comment on column rung_fit.likely_before is 'Mean chance (geometric) that the defaults gave to each mark; likely_after that of the fit; held_... the same of children left out of the fit.';

alter table rung_fit enable row level security;
alter table rung_fit force row level security;
do $$
declare
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teacher text := $x$(select coalesce(nullif(current_setting('app.teacher', true), ''), 'off')::boolean)$x$;
begin
  execute format('create policy read on rung_fit for select using (%s or %s)', owner, teacher);
  execute format('create policy write on rung_fit for all using (%s) with check (%1$s)', owner);
end $$;
grant select, insert, update, delete on rung_fit to rungbook_app;
