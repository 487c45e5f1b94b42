-- The figures of rungs and drills: names of poses that the program draws.

alter table rung add column figure text[] not null default '{}' check (cardinality(figure) <= 4);
alter table drill add column figure text[] not null default '{}' check (cardinality(figure) <= 4);
comment on column rung.figure is 'Names of the poses that show it, in order. The program draws them from joint angles; a name that it does not know is not drawn.';
comment on column drill.figure is 'As of a rung.';
