package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// The whole library is small (hundreds of rows) and pages need most of it: it is read in one round trip.
const (
	laddersSQL = `select key, name, family, about from ladder order by position, key`
	rungsSQL   = `select ladder_key, key, name, start_position, finish_position, figure, look, spot_people, spot_manner, spot_until, spot_how, turn_seconds,
		load_back, load_wrists, load_landing, two_sided, inverted, back_bend, flight, home_safe, home_reason, caution,
		array(select n.needs_key from rung_need n where n.rung_key = rung.key order by n.needs_key collate "C") from rung order by ladder_key, position`
	rungEquipmentSQL = `select rung_key, equipment_key, count, places from rung_equipment order by rung_key, equipment_key collate "C"`
	faultsSQL        = `select rung_key, key, name, safety from fault where not retired order by rung_key, position`
	causesSQL        = `select rung_key, fault_key, key, name, strength, cue, prior, leads_to, look_for,
		array(select d.drill_key from cause_drill d where (d.rung_key, d.fault_key, d.cause_key) = (cause.rung_key, cause.fault_key, cause.key) order by d.drill_key collate "C")
		from cause order by rung_key, fault_key, position`
	drillsSQL = `select key, name, kind, figure, steps, array(select r.rung_key from drill_rung r where r.drill_key = drill.key order by r.rung_key collate "C"), turn_seconds,
		load_back, load_wrists, load_landing, spot_people, spot_manner, spot_until, spot_how, sets, repeats, hold_seconds, space, caution,
		two_sided, inverted, back_bend, flight, partner, home_safe, home_reason, home_adult from drill order by kind, name, key`
	drillEquipmentSQL = `select drill_key, equipment_key, count, places from drill_equipment order by drill_key, equipment_key collate "C"`
)

// Library reads all ladders, rungs, faults, causes and drills.
func (t *Tx) Library(ctx context.Context) (studio.Library, error) {
	b := newLibraryBuilder()
	batch := &pgx.Batch{}
	b.queue(batch)
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return studio.Library{}, err
	}
	return b.library(), nil
}

// queue adds the reads of the library to a batch.
func (b *libraryBuilder) queue(batch *pgx.Batch) {
	batch.Queue(laddersSQL).Query(eachRow(b.ladder))
	batch.Queue(rungsSQL).Query(eachRow(b.rung))
	batch.Queue(rungEquipmentSQL).Query(eachRow(b.rungEquipment))
	batch.Queue(faultsSQL).Query(eachRow(b.fault))
	batch.Queue(causesSQL).Query(eachRow(b.cause))
	batch.Queue(drillsSQL).Query(eachRow(b.drill))
	batch.Queue(drillEquipmentSQL).Query(eachRow(b.drillEquipment))
}

func eachRow(scan func(pgx.Rows) error) func(pgx.Rows) error {
	return func(rows pgx.Rows) error {
		for rows.Next() {
			if err := scan(rows); err != nil {
				return err
			}
		}
		return rows.Err()
	}
}

// libraryBuilder puts the rows of the library together.
type libraryBuilder struct {
	ladders []studio.Ladder
	rungs   map[string][]studio.Rung // by ladder
	at      map[string]rungAt        // by rung key
	causes  map[[2]string][]studio.Cause
	faults  map[string][]studio.Fault
	drills  []studio.Drill
	drillAt map[string]int
}

type rungAt struct {
	ladder string
	index  int
}

func newLibraryBuilder() *libraryBuilder {
	return &libraryBuilder{rungs: map[string][]studio.Rung{}, at: map[string]rungAt{}, causes: map[[2]string][]studio.Cause{},
		faults: map[string][]studio.Fault{}, drillAt: map[string]int{}}
}

func (b *libraryBuilder) ladder(rows pgx.Rows) error {
	var l studio.Ladder
	if err := rows.Scan(&l.Key, &l.Name, &l.Family, &l.About); err != nil {
		return err
	}
	b.ladders = append(b.ladders, l)
	return nil
}

func (b *libraryBuilder) rung(rows pgx.Rows) error {
	var ladder string
	var r studio.Rung
	if err := rows.Scan(&ladder, &r.Key, &r.Name, &r.Start, &r.Finish, &r.Figure, &r.Look, &r.Spotting.People, &r.Spotting.Manner, &r.Spotting.Until,
		&r.Spotting.How, &r.TurnSeconds, &r.Load.Back, &r.Load.Wrists, &r.Load.Landing, &r.TwoSided, &r.Inverted, &r.BackBend, &r.Flight,
		&r.Home.Safe, &r.Home.Reason, &r.Caution, &r.Needs); err != nil {
		return err
	}
	b.at[r.Key] = rungAt{ladder, len(b.rungs[ladder])}
	b.rungs[ladder] = append(b.rungs[ladder], r)
	return nil
}

func (b *libraryBuilder) rungEquipment(rows pgx.Rows) error {
	var key string
	var need studio.EquipmentNeed
	if err := rows.Scan(&key, &need.Key, &need.Count, &need.Places); err != nil {
		return err
	}
	at := b.at[key]
	r := &b.rungs[at.ladder][at.index]
	r.Equipment = append(r.Equipment, need)
	return nil
}

func (b *libraryBuilder) fault(rows pgx.Rows) error {
	var rung string
	var f studio.Fault
	if err := rows.Scan(&rung, &f.Key, &f.Name, &f.Safety); err != nil {
		return err
	}
	b.faults[rung] = append(b.faults[rung], f)
	return nil
}

func (b *libraryBuilder) cause(rows pgx.Rows) error {
	var rung, fault string
	var c studio.Cause
	if err := rows.Scan(&rung, &fault, &c.Key, &c.Name, &c.Strength, &c.Cue, &c.Prior, &c.LeadsTo, &c.LookFor, &c.Drills); err != nil {
		return err
	}
	b.causes[[2]string{rung, fault}] = append(b.causes[[2]string{rung, fault}], c)
	return nil
}

func (b *libraryBuilder) drill(rows pgx.Rows) error {
	var d studio.Drill
	if err := rows.Scan(&d.Key, &d.Name, &d.Kind, &d.Figure, &d.Steps, &d.Prepares, &d.TurnSeconds, &d.Load.Back, &d.Load.Wrists, &d.Load.Landing,
		&d.Spotting.People, &d.Spotting.Manner, &d.Spotting.Until, &d.Spotting.How, &d.Dose.Sets, &d.Dose.Repeats, &d.Dose.HoldSeconds,
		&d.Space, &d.Caution, &d.TwoSided, &d.Inverted, &d.BackBend, &d.Flight, &d.Partner, &d.Home.Safe, &d.Home.Reason, &d.Home.Adult); err != nil {
		return err
	}
	b.drillAt[d.Key] = len(b.drills)
	b.drills = append(b.drills, d)
	return nil
}

func (b *libraryBuilder) drillEquipment(rows pgx.Rows) error {
	var key string
	var need studio.EquipmentNeed
	if err := rows.Scan(&key, &need.Key, &need.Count, &need.Places); err != nil {
		return err
	}
	d := &b.drills[b.drillAt[key]]
	d.Equipment = append(d.Equipment, need)
	return nil
}

func (b *libraryBuilder) library() studio.Library {
	for i := range b.ladders {
		l := &b.ladders[i]
		l.Rungs = b.rungs[l.Key]
		for j := range l.Rungs {
			r := &l.Rungs[j]
			r.Faults = b.faults[r.Key]
			for k := range r.Faults {
				r.Faults[k].Causes = b.causes[[2]string{r.Key, r.Faults[k].Key}]
			}
		}
	}
	return studio.Library{Ladders: b.ladders, Drills: b.drills}
}
