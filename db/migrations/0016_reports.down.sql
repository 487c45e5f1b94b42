do $$
declare
  t text;
begin
  foreach t in array array['term', 'class', 'holiday', 'lesson', 'class_staff', 'enrolment', 'class_pair', 'pacing', 'pacing_rung', 'lesson_note', 'lesson_block',
    'attendance', 'staff_attendance', 'plan', 'mark'] loop
    execute format('drop trigger put_away on %I', t);
  end loop;
end $$;
drop table report_bundle_file, report_bundle_part, report_bundle, report_note;
drop function refuse_archived();
alter table term drop column archived_at;
drop schema jobs cascade;
