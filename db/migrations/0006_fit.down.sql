drop table rung_fit;
