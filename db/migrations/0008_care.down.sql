alter table cause drop column look_for, drop column leads_to, drop column prior;

select set_config('app.owner', 'true', true);
alter table care_limit add clear_note text not null default '';
update care_limit l set clear_note = c.note from care_change c where c.care_limit_id = l.id and c.what = 'cleared';
drop table care_change;
alter table care_limit drop constraint care_limit_of_child;
