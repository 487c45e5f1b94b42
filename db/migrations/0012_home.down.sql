drop table calendar_feed, report_release, message_read, message, practice;
alter table home_assignment drop constraint home_assignment_of_child;
drop trigger lesson_revised on lesson;
drop function lesson_revised;
alter table lesson drop column changed_at, drop column revision;
alter table soreness drop column began_on;
