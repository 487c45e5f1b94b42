-- Accounts, people, terms and classes. Row-level security is forced on every table from its first line: until 0004 states who
-- may see what, nobody but the migrating owner sees anything.

do $$ begin
  if not exists (select from pg_roles where rolname = 'rungbook_app') then
    create role rungbook_app login nosuperuser nobypassrls nocreatedb nocreaterole;
  end if;
end $$;

create table account (
  id          uuid primary key default gen_random_uuid(),
  email       text not null unique check (email = lower(email) and email like '%_@_%' and length(email) <= 254),
  name        text not null check (length(trim(name)) between 1 and 120),
  joined_at   timestamptz,
  disabled_at timestamptz,
  created_at  timestamptz not null default now()
);
comment on table account is 'Somebody who may sign in. What they may see follows from account_role, staff and guardian.';
comment on column account.joined_at is 'When a passphrase was first chosen; null while nobody can sign in with it, as after a roster named a guardian.';
comment on column account.disabled_at is 'Set to lock the account out on its next request; rows it wrote stay.';

create table account_secret (
  account_id    uuid primary key references account on delete cascade,
  password_hash text not null,
  changed_at    timestamptz not null default now()
);
comment on table account_secret is 'Apart from account so that the owner can list accounts without reading any hash.';

create table account_role (
  account_id uuid not null references account on delete cascade,
  role       text not null check (role in ('owner', 'teacher', 'assistant')),
  granted_at timestamptz not null default now(),
  primary key (account_id, role)
);
comment on table account_role is 'Roles given by the studio. Being a parent is not a role here: it follows from guardian.';

create table session (
  id_hash    bytea primary key check (length(id_hash) = 32),
  account_id uuid references account on delete cascade,
  data       bytea not null,
  created_at timestamptz not null,
  seen_at    timestamptz not null,
  expires_at timestamptz not null
);
comment on column session.id_hash is 'SHA-256 of the 256-bit id in the cookie: a stolen table opens no session.';
create index session_account_idx on session (account_id);
create index session_expires_idx on session (expires_at);

create table sign_in_attempt (
  id      uuid primary key default gen_random_uuid(),
  email   text not null,
  at      timestamptz not null,
  success boolean not null
);
comment on table sign_in_attempt is 'Counts guesses per account across all running copies of the program.';
create index sign_in_attempt_email_idx on sign_in_attempt (email, at);

create table staff (
  id         uuid primary key default gen_random_uuid(),
  account_id uuid unique references account on delete set null,
  name       text not null check (length(trim(name)) between 1 and 120),
  trainee    boolean not null default false,
  can_lead   boolean not null default true,
  left_on    date
);
comment on column staff.trainee is 'A trainee helps at a station and never counts as a spotter.';
comment on column staff.can_lead is 'May run a station.';

create table staff_detail (
  staff_id   uuid primary key references staff on delete cascade,
  birth_date date not null,
  phone      text not null default ''
);
comment on table staff_detail is 'Apart from staff so that assistants see each other''s names and nothing more.';

create table child (
  id         uuid primary key default gen_random_uuid(),
  given_name text not null check (length(trim(given_name)) between 1 and 80),
  initial    text not null check (length(initial) <= 8),
  joined_on  date not null,
  left_on    date
);
comment on table child is 'What an assistant may see of a child: first name and initial.';

create table child_detail (
  child_id    uuid primary key references child on delete cascade,
  family_name text not null check (length(trim(family_name)) between 1 and 80),
  birth_date  date not null,
  contact     text not null default '',
  roster_ref  text unique
);
comment on table child_detail is 'Apart from child: teachers of the child, its guardians and the owner only.';
comment on column child_detail.roster_ref is 'The studio''s own number for the child; makes importing a roster twice harmless.';

create table guardian (
  account_id uuid not null references account on delete cascade,
  child_id   uuid not null references child on delete cascade,
  relation   text not null default 'parent' check (length(relation) <= 40),
  since      timestamptz not null default now(),
  removed_at timestamptz,
  primary key (account_id, child_id)
);
comment on column guardian.removed_at is 'A removed guardian sees nothing from the next request on; the row stays for the trail.';
create index guardian_child_idx on guardian (child_id);

create table invitation (
  id         uuid primary key default gen_random_uuid(),
  token_hash bytea not null unique check (length(token_hash) = 32),
  kind       text not null check (kind in ('join', 'reset')),
  email      text not null,
  name       text not null,
  roles      text[] not null default '{}',
  staff_id   uuid references staff on delete cascade,
  child_ids  uuid[] not null default '{}',
  created_by uuid references account on delete set null,
  created_at timestamptz not null,
  expires_at timestamptz not null,
  used_at    timestamptz
);
comment on table invitation is 'A link to join or to choose a new passphrase: random, once, short-lived; only its hash is kept.';

create table term (
  id          uuid primary key default gen_random_uuid(),
  name        text not null unique check (length(trim(name)) between 1 and 80),
  starts_on   date not null,
  ends_on     date not null,
  showcase_on date,
  check (ends_on > starts_on),
  check (showcase_on is null or showcase_on between starts_on and ends_on)
);

create table holiday (
  id        uuid primary key default gen_random_uuid(),
  term_id   uuid not null references term on delete cascade,
  name      text not null check (length(trim(name)) between 1 and 80),
  starts_on date not null,
  ends_on   date not null check (ends_on >= starts_on)
);
comment on table holiday is 'Days without lessons within a term.';

create table class (
  id           uuid primary key default gen_random_uuid(),
  term_id      uuid not null references term on delete restrict,
  name         text not null check (length(trim(name)) between 1 and 80),
  weekday      int not null check (weekday between 0 and 6),
  starts_at    time not null,
  minutes      int not null check (minutes between 20 and 180),
  time_zone    text not null,
  places       int not null default 20 check (places between 1 and 60),
  rotations    int not null default 3 check (rotations between 1 and 6),
  groups       int not null default 3 check (groups between 1 and 8),
  turn_floor   int not null default 6 check (turn_floor between 0 and 60),
  max_activities int not null default 2 check (max_activities between 1 and 4),
  teacher_roams boolean not null default false,
  focus        text[] not null default '{}',
  unique (term_id, name)
);
comment on column class.weekday is '0 is Sunday, as in Go''s time.Weekday.';
comment on column class.starts_at is 'Wall time in time_zone: stays the same across a clock change.';
comment on column class.turn_floor is 'Fewest turns a child should get in a lesson.';
comment on column class.teacher_roams is 'The planner leaves the teacher free: to walk about, neither running a station nor spotting.';
comment on column class.max_activities is 'Most different activities at once in one cell of a plan.';
comment on column class.focus is 'Keys of the ladders that this term leans on.';

create table class_staff (
  class_id uuid not null references class on delete cascade,
  staff_id uuid not null references staff on delete cascade,
  duty     text not null check (duty in ('teacher', 'assistant')),
  from_on  date not null,
  until_on date,
  primary key (class_id, staff_id, duty, from_on),
  check (until_on is null or until_on >= from_on)
);
comment on table class_staff is 'Who takes or helps at a class, and from when until when; cover is a row of a single day.';
create index class_staff_staff_idx on class_staff (staff_id);

create table enrolment (
  class_id uuid not null references class on delete cascade,
  child_id uuid not null references child on delete cascade,
  from_on  date not null,
  until_on date,
  primary key (class_id, child_id),
  check (until_on is null or until_on >= from_on)
);
create index enrolment_child_idx on enrolment (child_id);

create table class_pair (
  class_id uuid not null references class on delete cascade,
  child_a  uuid not null references child on delete cascade,
  child_b  uuid not null references child on delete cascade,
  wish     text not null check (wish in ('together', 'apart')),
  primary key (class_id, child_a, child_b),
  check (child_a < child_b)
);
comment on table class_pair is 'Two children whom the plans of a class keep in one group, or in two. For the teachers of the class and the owner alone.';
comment on column class_pair.child_a is 'The lesser id of the two, so that a pair is there once.';
create index class_pair_child_a_idx on class_pair (child_a);
create index class_pair_child_b_idx on class_pair (child_b);

create table audit (
  id      uuid primary key default gen_random_uuid(),
  at      timestamptz not null,
  actor   uuid,
  action  text not null,
  subject text not null,
  detail  jsonb not null default '{}'
);
comment on table audit is 'Who did what to what. Insert-only for the serving role. actor is null for the program''s own commands.';
create index audit_at_idx on audit (at);

-- Names are sorted as people expect it, Ç beside C and Ł beside L, where the server has Unicode collations.
do $$ declare c text[]; begin
  if exists (select from pg_collation where collname = 'und-x-icu') then
    foreach c slice 1 in array array[['account','name'], ['staff','name'], ['child','given_name'], ['child_detail','family_name'],
      ['term','name'], ['class','name']] loop
      execute format('alter table %I alter column %I type text collate "und-x-icu"', c[1], c[2]);
    end loop;
  end if;
end $$;

do $$ declare t text; begin
  foreach t in array array['account','account_secret','account_role','session','sign_in_attempt','staff','staff_detail','child',
    'child_detail','guardian','invitation','term','holiday','class','class_staff','enrolment','class_pair',
    'audit'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;
end $$;
