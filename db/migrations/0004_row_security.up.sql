-- Who may see and write which row, in one place. Each transaction of the serving role starts by setting, for itself only:
--   app.actor           the account, or '' when nobody is signed in
--   app.owner           on for an owner and for the program's own commands
--   app.teacher         on for a teacher or an owner
--   app.teaches         classes that the actor takes today (a day of cover counts)
--   app.assists         lessons that the actor helps at, from 15 minutes before to 15 after
--   app.assist_classes  the classes of those lessons
--   app.guards          children of whom the actor is a guardian
--   app.secret          hex SHA-256 of a token or session id that the caller holds
-- internal/postgres works them out from the rows themselves (scope.go). A setting that is missing opens nothing.
-- Policies are inline and use "= any(array)" so that the planner evaluates each setting once.

do $$
declare
  actor   text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner   text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  teacher text := $x$(select coalesce(nullif(current_setting('app.teacher', true), ''), 'off')::boolean)$x$;
  secret  text := $x$(select nullif(current_setting('app.secret', true), ''))$x$;
  teaches text := $x$any((select coalesce(nullif(current_setting('app.teaches', true), ''), '{}')::uuid[])::uuid[])$x$;
  assists text := $x$any((select coalesce(nullif(current_setting('app.assists', true), ''), '{}')::uuid[])::uuid[])$x$;
  helps   text := $x$any((select coalesce(nullif(current_setting('app.assist_classes', true), ''), '{}')::uuid[])::uuid[])$x$;
  helping text := $x$(select coalesce(nullif(current_setting('app.assists', true), ''), '{}') <> '{}')$x$;
  guards  text := $x$any((select coalesce(nullif(current_setting('app.guards', true), ''), '{}')::uuid[])::uuid[])$x$;
  somebody text := format('(%s is not null or %s)', actor, owner);
  taught_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', teaches);
  helped_children text := format('any(array(select e.child_id from enrolment e where e.class_id = %s))', helps);
  guarded_classes text := format('any(array(select e.class_id from enrolment e where e.child_id = %s))', guards);
  taught_lessons text := format('any(array(select l.id from lesson l where l.class_id = %s))', teaches);
  guarded_lessons text := format('any(array(select l.id from lesson l where l.class_id = %s))', guarded_classes);
  t text;
begin
  -- Accounts and sessions.
  execute format('create policy read on account for select using (id = %s or %s)', actor, owner);
  execute format('create policy write on account for all using (%s) with check (%1$s)', owner);
  execute format('create policy rename on account for update using (id = %s) with check (id = %1$s)', actor);
  execute format('create policy own on account_secret for all using (account_id = %s) with check (account_id = %1$s)', actor);
  execute format('create policy command on account_secret for all using (%s and %s is null) with check (%1$s and %2$s is null)', owner, actor);
  execute format('create policy read on account_role for select using (account_id = %s or %s)', actor, owner);
  execute format('create policy write on account_role for all using (%s) with check (%1$s)', owner);
  execute format('create policy held on session for all using (encode(id_hash, ''hex'') = %s or account_id = %s or (%s and %2$s is null)) '
    'with check (encode(id_hash, ''hex'') = %1$s)', secret, actor, owner);
  execute format('create policy command on sign_in_attempt for all using (%s) with check (%1$s)', owner);
  execute format('create policy held on invitation for select using (encode(token_hash, ''hex'') = %s or %s)', secret, owner);
  execute format('create policy write on invitation for all using (%s) with check (%1$s)', owner);

  -- Staff: names for whoever works there tonight, birth dates and phones for teachers and the owner.
  execute format('create policy read on staff for select using (account_id = %s or %s or %s or %s)', actor, owner, teacher, helping);
  execute format('create policy write on staff for all using (%s) with check (%1$s)', owner);
  execute format('create policy read on staff_detail for select using (%s or %s or staff_id = any(array(select s.id from staff s where s.account_id = %s)))', owner, teacher, actor);
  execute format('create policy write on staff_detail for all using (%s) with check (%1$s)', owner);

  -- Children.
  execute format('create policy read on child for select using (%s or id = %s or id = %s or id = %s)', owner, taught_children, helped_children, guards);
  execute format('create policy write on child for all using (%s) with check (%1$s)', owner);
  execute format('create policy read on child_detail for select using (%s or child_id = %s or child_id = %s)', owner, taught_children, guards);
  execute format('create policy write on child_detail for all using (%s) with check (%1$s)', owner);
  execute format('create policy read on guardian for select using (account_id = %s or %s)', actor, owner);
  execute format('create policy write on guardian for all using (%s) with check (%1$s)', owner);

  -- Terms, equipment and classes.
  foreach t in array array['term', 'holiday', 'equipment'] loop
    execute format('create policy read on %I for select using (%s)', t, somebody);
    execute format('create policy write on %I for all using (%s) with check (%2$s)', t, owner);
  end loop;
  execute format('create policy read on class for select using (%s or id = %s or id = %s or id = %s)', owner, teaches, helps, guarded_classes);
  execute format('create policy write on class for all using (%s) with check (%1$s)', owner);
  execute format('create policy settings on class for update using (id = %s) with check (id = %1$s)', teaches);
  execute format('create policy read on class_staff for select using (%s or class_id = %s or class_id = %s or staff_id = any(array(select s.id from staff s where s.account_id = %s)))', owner, teaches, helps, actor);
  execute format('create policy write on class_staff for all using (%s) with check (%1$s)', owner);
  execute format('create policy read on enrolment for select using (%s or class_id = %s or class_id = %s or child_id = %s)', owner, teaches, helps, guards);
  execute format('create policy write on enrolment for all using (%s) with check (%1$s)', owner);
  execute format('create policy own on class_pair for all using (%s or class_id = %s) with check (%1$s or class_id = %2$s and child_a = %3$s and child_b = %3$s)', owner, teaches, taught_children);

  -- Library: read by everybody who is signed in, edited by teachers and the owner.
  foreach t in array array['ladder','rung','rung_need','rung_equipment','drill','drill_rung','drill_equipment','fault','cause','cause_drill'] loop
    execute format('create policy read on %I for select using (%s)', t, somebody);
    execute format('create policy write on %I for all using (%s or %s) with check (%2$s or %3$s)', t, owner, teacher);
  end loop;
  -- A rung or drill may name equipment that the hall does not have yet: it is added with none in stock.
  execute format('create policy add on equipment for insert with check (%s and stock = 0)', teacher);
  execute format('create policy read on sign_off for select using (%s or %s or staff_id = any(array(select s.id from staff s where s.account_id = %s)))', owner, teacher, actor);
  execute format('create policy write on sign_off for all using (%s or %s) with check (%1$s or %2$s)', owner, teacher);

  -- Lessons.
  execute format('create policy read on lesson for select using (%s or class_id = %s or id = %s or class_id = %s)', owner, teaches, assists, guarded_classes);
  execute format('create policy write on lesson for all using (%s or class_id = %s) with check (%1$s or class_id = %2$s)', owner, teaches);
  execute format('create policy own on lesson_note for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s)', owner, taught_lessons);
  execute format('create policy read on lesson_block for select using (%s or lesson_id = %s or lesson_id = %s)', owner, taught_lessons, assists);
  execute format('create policy write on lesson_block for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s)', owner, taught_lessons);
  execute format('create policy read on attendance for select using (%s or lesson_id = %s or lesson_id = %s or child_id = %s)', owner, taught_lessons, assists, guards);
  execute format('create policy write on attendance for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s and child_id = %3$s)', owner, taught_lessons, taught_children);
  execute format('create policy read on staff_attendance for select using (%s or lesson_id = %s or lesson_id = %s)', owner, taught_lessons, assists);
  execute format('create policy write on staff_attendance for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s)', owner, taught_lessons);

  -- Plans: the parts follow the plan. Assistants read a plan once it is shared, in their window.
  execute format('create policy read on plan for select using (%s or lesson_id = %s or (lesson_id = %s and shared_at is not null))', owner, taught_lessons, assists);
  execute format('create policy write on plan for all using (%s or lesson_id = %s) with check (%1$s or lesson_id = %2$s)', owner, taught_lessons);
  foreach t in array array['plan_member', 'plan_cell', 'plan_staff', 'plan_entry'] loop
    execute format('create policy read on %I for select using (plan_id = any(array(select p.id from plan p)))', t);
    execute format('create policy write on %I for all using (plan_id = any(array(select p.id from plan p where %s or p.lesson_id = %s))) with check (plan_id = any(array(select p.id from plan p where %2$s or p.lesson_id = %3$s)))', t, owner, taught_lessons);
  end loop;
  execute format('create policy own on plan_before for all using (plan_id = any(array(select p.id from plan p where %s or p.lesson_id = %s))) with check (plan_id = any(array(select p.id from plan p where %1$s or p.lesson_id = %2$s)))', owner, taught_lessons);

  -- Marks: no update or delete is granted at all.
  execute format('create policy read on mark for select using (%s or child_id = %s or child_id = %s or lesson_id = %s)', owner, taught_children, guards, assists);
  execute format('create policy add on mark for insert with check ((marked_by = %s or %s) and (%2$s or child_id = %s and (lesson_id is null or lesson_id = %s) or child_id = %s and lesson_id = %s))', actor, owner, taught_children, taught_lessons, helped_children, assists);
  execute 'create policy read on mark_fault for select using (mark_id = any(array(select m.id from mark m where m.id = mark_id)))';
  execute format('create policy add on mark_fault for insert with check (mark_id = any(array(select m.id from mark m where m.id = mark_id and (m.marked_by = %s or %s))))', actor, owner);

  -- Care limits, soreness, home.
  execute format('create policy read on care_limit for select using (%s or child_id = %s or child_id = %s or child_id = %s)', owner, taught_children, helped_children, guards);
  execute format('create policy write on care_limit for all using (%s or child_id = %s) with check (%1$s or child_id = %2$s)', owner, taught_children);
  execute format('create policy report on care_limit for insert with check (child_id = %s and set_by = %s and cleared_at is null and until_on is null)', guards, actor);
  execute format('create policy own on care_limit_reason for all using (%s or care_limit_id = any(array(select l.id from care_limit l where l.child_id = %s))) with check (%1$s or care_limit_id = any(array(select l.id from care_limit l where l.child_id = %2$s)))', owner, taught_children);
  execute format('create policy read on soreness for select using (%s or child_id = %s or child_id = %s)', owner, taught_children, guards);
  execute format('create policy report on soreness for insert with check (%s or child_id = %s and reported_by = %s)', owner, guards, actor);
  execute format('create policy read on home_assignment for select using (%s or child_id = %s or child_id = %s)', owner, taught_children, guards);
  execute format('create policy write on home_assignment for all using (%s or child_id = %s) with check (%1$s or child_id = %2$s)', owner, taught_children);

  -- The trail.
  execute format('create policy read on audit for select using (%s)', owner);
  execute format('create policy add on audit for insert with check (actor is not distinct from %s)', actor);
end $$;

grant usage on schema public to rungbook_app;
grant select, insert, update, delete on account, account_secret, account_role, session, sign_in_attempt, staff, staff_detail, child,
  child_detail, guardian, invitation, term, holiday, class, class_staff, enrolment, class_pair, equipment, ladder, rung, rung_need, rung_equipment,
  drill, drill_rung, drill_equipment, fault, cause, cause_drill, sign_off, lesson, lesson_note, lesson_block, attendance, staff_attendance, plan,
  plan_before, plan_member, plan_cell, plan_staff, plan_entry, care_limit, care_limit_reason, home_assignment to rungbook_app;
grant select, insert on mark, mark_fault, soreness, audit to rungbook_app;
