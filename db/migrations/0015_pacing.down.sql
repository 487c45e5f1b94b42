drop table pacing_before, pacing_rung, pacing;
