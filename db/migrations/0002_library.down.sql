drop table sign_off, cause_drill, cause, fault, drill_equipment, drill_rung, drill, rung_equipment, rung_need, rung, ladder,
  equipment;
