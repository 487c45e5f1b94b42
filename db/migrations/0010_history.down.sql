drop policy of_child on audit;
drop index audit_subject_idx;
drop table child_note;
