package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// SaveLibrary writes a whole library over what is there: known keys are changed, new ones added, none removed. Equipment that it
// names and the studio lacks is added with a stock of none.
func (t *Tx) SaveLibrary(ctx context.Context, l studio.Library) error {
	batch := &pgx.Batch{}
	for i, ladder := range l.Ladders {
		queueLadder(batch, ladder, i+1)
		for j, r := range ladder.Rungs {
			queueRung(batch, ladder.Key, j+1, r)
		}
	}
	for _, d := range l.Drills {
		queueDrill(batch, d)
	}
	for _, ladder := range l.Ladders {
		for _, r := range ladder.Rungs {
			queueNeeds(batch, r)
			queueFaults(batch, r)
		}
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// SaveLadder writes a ladder's own words at a position.
func (t *Tx) SaveLadder(ctx context.Context, l studio.Ladder, position int) error {
	batch := &pgx.Batch{}
	queueLadder(batch, l, position)
	return t.tx.SendBatch(ctx, batch).Close()
}

// SaveRung writes a rung with all that hangs on it at a position of a ladder. Rungs and drills that it names must exist.
func (t *Tx) SaveRung(ctx context.Context, ladder string, position int, r studio.Rung) error {
	batch := &pgx.Batch{}
	queueRung(batch, ladder, position, r)
	queueNeeds(batch, r)
	queueFaults(batch, r)
	return t.tx.SendBatch(ctx, batch).Close()
}

// SaveDrill writes a drill. Rungs that it names must exist.
func (t *Tx) SaveDrill(ctx context.Context, d studio.Drill) error {
	batch := &pgx.Batch{}
	queueDrill(batch, d)
	return t.tx.SendBatch(ctx, batch).Close()
}

func queueLadder(b *pgx.Batch, l studio.Ladder, position int) {
	b.Queue(`insert into ladder (key, name, family, about, position) values ($1, $2, $3, $4, $5)
		on conflict (key) do update set name = $2, family = $3, about = $4, position = $5`, l.Key, l.Name, l.Family, l.About, position)
}

func queueRung(b *pgx.Batch, ladder string, position int, r studio.Rung) {
	b.Queue(`insert into rung (key, ladder_key, position, name, start_position, finish_position, look, spot_people, spot_manner, spot_until,
			spot_how, turn_seconds, load_back, load_wrists, load_landing, two_sided, inverted, back_bend, flight, home_safe, home_reason, caution, figure)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23)
		on conflict (key) do update set ladder_key = $2, position = $3, name = $4, start_position = $5, finish_position = $6, look = $7,
			spot_people = $8, spot_manner = $9, spot_until = $10, spot_how = $11, turn_seconds = $12, load_back = $13, load_wrists = $14,
			load_landing = $15, two_sided = $16, inverted = $17, back_bend = $18, flight = $19, home_safe = $20, home_reason = $21, caution = $22, figure = $23`,
		r.Key, ladder, position, r.Name, r.Start, r.Finish, filled(r.Look), r.Spotting.People, r.Spotting.Manner, r.Spotting.Until, r.Spotting.How,
		r.TurnSeconds, r.Load.Back, r.Load.Wrists, r.Load.Landing, r.TwoSided, r.Inverted, r.BackBend, r.Flight, r.Home.Safe, r.Home.Reason, r.Caution,
		filled(r.Figure))
	queueEquipment(b, "rung", r.Key, r.Equipment)
}

func queueEquipment(b *pgx.Batch, noun, key string, needs []studio.EquipmentNeed) {
	b.Queue(`delete from `+noun+`_equipment where `+noun+`_key = $1`, key)
	for _, e := range needs {
		b.Queue(`insert into equipment (key, name, stock) values ($1, initcap(replace($1, '-', ' ')), 0) on conflict do nothing`, e.Key)
		b.Queue(`insert into `+noun+`_equipment values ($1, $2, $3, $4)`, key, e.Key, e.Count, e.Places)
	}
}

func queueNeeds(b *pgx.Batch, r studio.Rung) {
	b.Queue(`delete from rung_need where rung_key = $1`, r.Key)
	b.Queue(`insert into rung_need select $1, unnest($2::text[])`, r.Key, filled(r.Needs))
}

// queueFaults retires faults that are no longer named, since marks may name them, and writes the rest.
func queueFaults(b *pgx.Batch, r studio.Rung) {
	b.Queue(`update fault set retired = true where rung_key = $1`, r.Key)
	b.Queue(`delete from cause where rung_key = $1`, r.Key)
	for i, f := range r.Faults {
		b.Queue(`insert into fault (rung_key, key, position, name, safety) values ($1, $2, $3, $4, $5)
			on conflict (rung_key, key) do update set position = $3, name = $4, safety = $5, retired = false`, r.Key, f.Key, i+1, f.Name, f.Safety)
		for j, c := range f.Causes {
			b.Queue(`insert into cause (rung_key, fault_key, key, position, name, strength, cue, prior, leads_to, look_for)
				values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
				r.Key, f.Key, c.Key, j+1, c.Name, c.Strength, c.Cue, c.Prior, filled(c.LeadsTo), c.LookFor)
			b.Queue(`insert into cause_drill select $1, $2, $3, unnest($4::text[])`, r.Key, f.Key, c.Key, filled(c.Drills))
		}
	}
}

func queueDrill(b *pgx.Batch, d studio.Drill) {
	b.Queue(`insert into drill (key, name, kind, steps, turn_seconds, load_back, load_wrists, load_landing, spot_people, spot_manner, spot_until,
			spot_how, sets, repeats, hold_seconds, space, caution, two_sided, inverted, back_bend, flight, partner, home_safe, home_reason, home_adult, figure)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23, $24, $25, $26)
		on conflict (key) do update set name = $2, kind = $3, steps = $4, turn_seconds = $5, load_back = $6, load_wrists = $7, load_landing = $8,
			spot_people = $9, spot_manner = $10, spot_until = $11, spot_how = $12, sets = $13, repeats = $14, hold_seconds = $15, space = $16,
			caution = $17, two_sided = $18, inverted = $19, back_bend = $20, flight = $21, partner = $22, home_safe = $23, home_reason = $24, home_adult = $25,
			figure = $26`,
		d.Key, d.Name, d.Kind, filled(d.Steps), d.TurnSeconds, d.Load.Back, d.Load.Wrists, d.Load.Landing, d.Spotting.People, d.Spotting.Manner,
		d.Spotting.Until, d.Spotting.How, d.Dose.Sets, d.Dose.Repeats, d.Dose.HoldSeconds, d.Space, d.Caution, d.TwoSided, d.Inverted, d.BackBend,
		d.Flight, d.Partner, d.Home.Safe, d.Home.Reason, d.Home.Adult, filled(d.Figure))
	queueEquipment(b, "drill", d.Key, d.Equipment)
	b.Queue(`delete from drill_rung where drill_key = $1`, d.Key)
	b.Queue(`insert into drill_rung select $1, unnest($2::text[])`, d.Key, filled(d.Prepares))
}

// filled is the list itself, or an empty one instead of null.
func filled[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
