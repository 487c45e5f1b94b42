alter table drill drop column figure;
alter table rung drop column figure;
