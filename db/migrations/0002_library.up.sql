-- The skill library: ladders of rungs, faults and their causes, drills, equipment, and who is signed off to spot what.

create table equipment (
  key   text primary key check (key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  name  text not null check (length(trim(name)) between 1 and 80),
  stock int not null check (stock between 0 and 500)
);
comment on column equipment.stock is 'Pieces that the hall has; a plan never needs more at once.';

create table ladder (
  key      text primary key check (key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  name     text not null check (length(trim(name)) between 1 and 80),
  family   text not null check (family in ('upside down', 'wheels', 'arches', 'rolls', 'shapes', 'flight')),
  about    text not null default '',
  position int not null
);

create table rung (
  key             text primary key check (key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  ladder_key      text not null references ladder on update cascade on delete restrict,
  position        int not null,
  name            text not null check (length(trim(name)) between 1 and 120),
  start_position  text not null default '',
  finish_position text not null default '',
  look            text[] not null default '{}',
  spot_people     int not null default 0 check (spot_people between 0 and 2),
  spot_manner     text not null default 'none' check (spot_manner in ('none', 'near', 'hands-on')),
  spot_until      text not null default '',
  spot_how        text not null default '',
  turn_seconds    int not null check (turn_seconds between 5 and 180),
  load_back       int not null default 0 check (load_back between 0 and 3),
  load_wrists     int not null default 0 check (load_wrists between 0 and 3),
  load_landing    int not null default 0 check (load_landing between 0 and 3),
  two_sided       boolean not null default false,
  inverted        boolean not null default false,
  back_bend       boolean not null default false,
  flight          boolean not null default false,
  home_safe       boolean not null default false,
  home_reason     text not null check (length(trim(home_reason)) > 0),
  caution         text not null default '',
  unique (ladder_key, position) deferrable initially deferred,
  constraint rung_home_rule check (not home_safe or not (inverted or back_bend or flight or spot_people > 0)),
  constraint rung_spotting_whole check ((spot_people = 0) = (spot_manner = 'none'))
);
comment on column rung.load_back is 'Back extension per turn, 0-3: the studio''s setting, not medicine. Likewise wrists and landing.';
comment on constraint rung_home_rule on rung is 'Nothing upside down, bent back over the head, in flight or spotted goes home.';

create table rung_need (
  rung_key  text not null references rung on update cascade on delete cascade,
  needs_key text not null references rung on update cascade on delete restrict,
  primary key (rung_key, needs_key),
  check (rung_key <> needs_key)
);
comment on table rung_need is 'Prerequisites. Longer circles are refused by name in the program before they are written.';

create table rung_equipment (
  rung_key      text not null references rung on update cascade on delete cascade,
  equipment_key text not null references equipment on update cascade on delete restrict,
  count         int not null check (count between 1 and 50),
  places        int not null check (places between 1 and 50),
  primary key (rung_key, equipment_key)
);
comment on column rung_equipment.places is 'Children that can work at once on count pieces.';

create table drill (
  key          text primary key check (key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  name         text not null check (length(trim(name)) between 1 and 120),
  kind         text not null check (kind in ('warm-up', 'conditioning', 'skill', 'cool-down')),
  steps        text[] not null default '{}',
  turn_seconds int not null check (turn_seconds between 5 and 180),
  load_back    int not null default 0 check (load_back between 0 and 3),
  load_wrists  int not null default 0 check (load_wrists between 0 and 3),
  load_landing int not null default 0 check (load_landing between 0 and 3),
  spot_people  int not null default 0 check (spot_people between 0 and 2),
  spot_manner  text not null default 'none' check (spot_manner in ('none', 'near', 'hands-on')),
  spot_until   text not null default '',
  spot_how     text not null default '',
  sets         int not null default 1 check (sets between 1 and 10),
  repeats      int not null default 1 check (repeats between 1 and 50),
  hold_seconds int not null default 0 check (hold_seconds between 0 and 300),
  space        text not null default '',
  caution      text not null default '',
  two_sided    boolean not null default false,
  inverted     boolean not null default false,
  back_bend    boolean not null default false,
  flight       boolean not null default false,
  partner      boolean not null default false,
  home_safe    boolean not null default false,
  home_reason  text not null check (length(trim(home_reason)) > 0),
  home_adult   boolean not null default false,
  unique (key, home_safe),
  constraint drill_home_rule check (not home_safe or not (inverted or back_bend or flight or partner or spot_people > 0)),
  constraint drill_spotting_whole check ((spot_people = 0) = (spot_manner = 'none'))
);
comment on column drill.home_adult is 'At home only with an adult in the room.';

create table drill_rung (
  drill_key text not null references drill on update cascade on delete cascade,
  rung_key  text not null references rung on update cascade on delete cascade,
  primary key (drill_key, rung_key)
);
comment on table drill_rung is 'Which rungs a drill prepares.';

create table drill_equipment (
  drill_key     text not null references drill on update cascade on delete cascade,
  equipment_key text not null references equipment on update cascade on delete restrict,
  count         int not null check (count between 1 and 50),
  places        int not null check (places between 1 and 50),
  primary key (drill_key, equipment_key)
);

create table fault (
  rung_key text not null references rung on update cascade on delete cascade,
  key      text not null check (key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  position int not null,
  name     text not null check (length(trim(name)) between 1 and 160),
  safety   boolean not null default false,
  retired  boolean not null default false,
  primary key (rung_key, key)
);
comment on column fault.safety is 'While it is seen, the rung is not secure, whatever the count says.';
comment on column fault.retired is 'No longer offered; kept because marks name it.';

create table cause (
  rung_key  text not null,
  fault_key text not null,
  key       text not null check (key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'),
  position  int not null,
  name      text not null,
  strength  double precision not null check (strength > 0 and strength <= 1),
  cue       text not null,
  primary key (rung_key, fault_key, key),
  foreign key (rung_key, fault_key) references fault on update cascade on delete cascade
);
comment on column cause.strength is 'Chance that the cause alone shows as the fault (noisy-OR). The studio''s setting.';

create table cause_drill (
  rung_key  text not null,
  fault_key text not null,
  cause_key text not null,
  drill_key text not null references drill on update cascade on delete cascade,
  primary key (rung_key, fault_key, cause_key, drill_key),
  foreign key (rung_key, fault_key, cause_key) references cause on update cascade on delete cascade
);

create table sign_off (
  id         uuid primary key default gen_random_uuid(),
  staff_id   uuid not null references staff on delete cascade,
  rung_key   text not null references rung on update cascade on delete cascade,
  granted_by uuid references account on delete set null,
  granted_on date not null,
  expires_on date not null check (expires_on >= granted_on),
  revoked_at timestamptz
);
comment on table sign_off is 'The person may spot this rung (and its drills) until the date. A renewal is a new row.';
create index sign_off_staff_idx on sign_off (staff_id, rung_key);

do $$ declare t text; begin
  foreach t in array array['equipment','ladder','rung','rung_need','rung_equipment','drill','drill_rung','drill_equipment','fault',
    'cause','cause_drill','sign_off'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;
end $$;
