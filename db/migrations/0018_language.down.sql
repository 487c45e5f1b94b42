alter table account drop language;
