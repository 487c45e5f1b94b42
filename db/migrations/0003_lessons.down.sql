drop table home_assignment, soreness, care_limit_reason, care_limit, mark_fault, mark, plan_entry, plan_staff, plan_cell,
  plan_member, plan_before, plan, staff_attendance, attendance, lesson_block, lesson_note, lesson;
drop trigger audit_append_only on audit;
drop function home_assignment_obeys_limits;
drop function refuse_change;
