drop table forecast_kept;
