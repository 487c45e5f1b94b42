-- What a class shows: pieces with their rungs, who does which, and what a child does in place of a rung.

create table piece (
  id       uuid primary key default gen_random_uuid(),
  class_id uuid not null references class on delete cascade,
  version  int not null default 1,
  name     text not null check (length(trim(name)) between 1 and 80),
  on_day   date,
  note     text not null default '' check (length(note) <= 500),
  saved_by uuid references account on delete set null,
  saved_at timestamptz not null
);
comment on table piece is 'A piece that a class shows. For teachers of the class and the owner: it says who is not ready.';
comment on column piece.version is 'Counts saves: one that started from an older version is refused, never merged silently.';
comment on column piece.on_day is 'The day on which it is shown; null is the showcase of the term, so that a moved showcase moves the piece.';
create unique index piece_name_key on piece (class_id, lower(name));

create table piece_part (
  id        uuid primary key default gen_random_uuid(),
  piece_id  uuid not null references piece on delete cascade,
  name      text not null check (length(trim(name)) between 1 and 60),
  everybody boolean not null
);
comment on table piece_part is 'A group of children of a piece with the rungs that each of them does.';
comment on column piece_part.everybody is 'All who are in the class. A part of its own children never becomes everybody''s when the last of them leaves.';
create unique index piece_part_name_key on piece_part (piece_id, lower(name));

create table piece_part_rung (
  part_id  uuid not null references piece_part on delete cascade,
  rung_key text not null references rung on update cascade on delete cascade,
  primary key (part_id, rung_key)
);
comment on table piece_part_rung is 'A rung that every child of a part does.';

create table piece_part_child (
  part_id  uuid not null references piece_part on delete cascade,
  child_id uuid not null references child on delete cascade,
  primary key (part_id, child_id)
);
comment on table piece_part_child is 'A child of a part that is not everybody''s.';
create index piece_part_child_idx on piece_part_child (child_id);

create table piece_swap (
  piece_id     uuid not null references piece on delete cascade,
  child_id     uuid not null references child on delete cascade,
  rung_key     text not null references rung on update cascade on delete cascade,
  instead_key  text references rung on update cascade on delete cascade,
  accepted_by  uuid references account on delete set null,
  accepted_at  timestamptz not null,
  primary key (piece_id, child_id, rung_key),
  check (instead_key <> rung_key)
);
comment on table piece_swap is 'What a child does in a piece in place of a rung, as a teacher accepted it. It is judged again whenever it is read: a later care limit shows.';
comment on column piece_swap.instead_key is 'Null: the child stands in the picture.';
create index piece_swap_child_idx on piece_swap (child_id);

do $$
declare
  asked text := $x$pg_trigger_depth() = 0 and coalesce(current_setting('app.erase', true), '') = '' and coalesce(current_setting('app.clear', true), '') = ''$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  own_pieces text := 'any(array(select p.id from piece p))';
  own_parts  text := 'any(array(select q.id from piece_part q))';
  t text;
begin
  -- Every change of a part counts the version of its piece up, so a term that was put away is guarded there.
  execute format('create trigger put_away before insert or update or delete on piece for each row when (%s) execute function refuse_archived(''class'')', asked);
  foreach t in array array['piece', 'piece_part', 'piece_part_rung', 'piece_part_child', 'piece_swap'] loop
    execute format('alter table %I enable row level security', t);
    execute format('alter table %I force row level security', t);
  end loop;
  execute format('create policy own on piece for all using (%s or class_id = %s) with check (%1$s or class_id = %2$s)', owner, teaches);
  execute format('create policy own on piece_part for all using (piece_id = %s) with check (piece_id = %1$s)', own_pieces);
  execute format('create policy own on piece_part_rung for all using (part_id = %s) with check (part_id = %1$s)', own_parts);
  execute format('create policy own on piece_part_child for all using (part_id = %s) with check (part_id = %1$s and (%s or child_id = %s))', own_parts, owner, taught_children);
  execute format('create policy own on piece_swap for all using (piece_id = %s) with check (piece_id = %1$s and (%s or child_id = %s))', own_pieces, owner, taught_children);
end $$;
grant select, insert, update, delete on piece, piece_part, piece_part_rung, piece_part_child, piece_swap to rungbook_app;
