drop table studio_settings;
