package lesson

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"testing"
)

// milp writes a lesson as a whole-number linear model: one variable for every way to run a station for a group in a
// rotation, one for every group, one for every lead. Missing turns weigh more than all worth.
type milp struct {
	in      Input
	model   lpModel
	weight  float64 // of one missing turn
	columns []milpColumn
}

type milpColumn struct {
	milpCell
	rotation int // from 0
	name     string
}

func newMILP(in Input) *milp {
	m := &milp{in: in, weight: 1}
	for _, c := range in.Children {
		for _, o := range c.Options {
			m.weight += o.Priority * float64(in.Rotations)
		}
	}
	cells := milpCells(in)
	for r := range in.Rotations {
		for i, c := range milpUseful(m.pinned(cells, r), len(in.Pins.Duties) > 0) {
			col := milpColumn{c, r, fmt.Sprintf("z%d_%d", r, i)}
			m.columns = append(m.columns, col)
			m.model.binaries = append(m.model.binaries, col.name)
			m.model.objective = append(m.model.objective, lpTerm{-c.worth, col.name})
		}
	}
	m.groups()
	for r := range in.Rotations {
		m.hall(r)
		m.people(r)
	}
	m.stations()
	m.children()
	return m
}

// pinned leaves the cells that keep the pins of a rotation on what a child does.
func (m *milp) pinned(cells []milpCell, r int) []milpCell {
	return slices.DeleteFunc(slices.Clone(cells), func(c milpCell) bool {
		j := 0
		for i, child := range m.in.Children {
			if c.set>>i&1 == 0 {
				continue
			}
			for _, pin := range m.in.Pins.Activities {
				if pin.Rotation == r+1 && pin.ChildID == child.ID && pin.ActivityID != m.in.Activities[c.acts[j]].ID {
					return true
				}
			}
			j++
		}
		return false
	})
}

// sum adds up a number of every column, leaving out those of 0.
func (m *milp) sum(of func(milpColumn) int) []lpTerm {
	var out []lpTerm
	for _, c := range m.columns {
		if v := of(c); v != 0 {
			out = append(out, lpTerm{float64(v), c.name})
		}
	}
	return out
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// groups keeps the groups the same in every rotation, every child in one of them, and no group at a station twice.
func (m *milp) groups() {
	var names []lpTerm
	byChild := make([][]lpTerm, len(m.in.Children))
	bySet := map[uint][]milpColumn{}
	for _, c := range m.columns {
		bySet[c.set] = append(bySet[c.set], c)
	}
	for set := uint(1); set < 1<<len(m.in.Children); set++ {
		if len(bySet[set]) == 0 {
			continue
		}
		name := fmt.Sprintf("g%d", set)
		m.model.binaries = append(m.model.binaries, name)
		names = append(names, lpTerm{1, name})
		for i := range byChild {
			if set>>i&1 == 1 {
				byChild[i] = append(byChild[i], lpTerm{1, name})
			}
		}
		part := milp{columns: bySet[set]}
		for r := range m.in.Rotations {
			m.model.row(append(part.sum(func(c milpColumn) int { return one(c.rotation == r) }), lpTerm{-1, name}), "=", 0)
		}
		for st := range m.in.Stations {
			if !m.in.AllowRepeatStation {
				m.model.row(append(part.sum(func(c milpColumn) int { return one(c.station == st) }), lpTerm{-1, name}), "<=", 0)
			}
		}
	}
	m.model.row(names, "=", float64(m.in.Groups))
	for _, terms := range byChild {
		m.model.row(terms, "=", 1)
	}
}

// hall keeps one group at a station and the equipment within stock.
func (m *milp) hall(r int) {
	for st := range m.in.Stations {
		m.model.row(m.sum(func(c milpColumn) int { return one(c.rotation == r && c.station == st) }), "<=", 1)
	}
	for k, stock := range m.in.Stock {
		m.model.row(m.sum(func(c milpColumn) int { return one(c.rotation == r) * c.uses[k] }), "<=", float64(stock.Count))
	}
}

// people keeps everybody in one place, every station led and enough adults free.
func (m *milp) people(r int) {
	adults := 0
	led := make([][]lpTerm, len(m.in.Stations))
	for t, s := range m.in.Staff {
		spots := m.sum(func(c milpColumn) int { return one(c.rotation == r && c.spot>>t&1 == 1) })
		m.model.row(spots, "<=", 1)
		adults += one(s.Adult)
		if !s.CanLead {
			continue
		}
		perLead := defaultTo(m.in.StationsPerLead, 1)
		var leads []lpTerm
		for st := range m.in.Stations {
			name := fmt.Sprintf("l%d_%d_%d", r, st, t)
			m.model.binaries = append(m.model.binaries, name)
			leads, led[st] = append(leads, lpTerm{1, name}), append(led[st], lpTerm{-1, name})
			elsewhere := m.sum(func(c milpColumn) int { return one(c.rotation == r && c.spot>>t&1 == 1 && c.station != st) })
			m.model.row(append(elsewhere, lpTerm{1, name}), "<=", 1)
		}
		for _, s := range spots {
			leads = append(leads, lpTerm{float64(perLead - 1), s.name})
		}
		m.model.row(leads, "<=", float64(perLead))
	}
	for st := range m.in.Stations {
		m.model.row(append(m.sum(func(c milpColumn) int { return one(c.rotation == r && c.station == st) }), led[st]...), "=", 0)
	}
	m.model.row(m.sum(func(c milpColumn) int {
		n := 0
		for t, s := range m.in.Staff {
			n += one(c.rotation == r && s.Adult && c.spot>>t&1 == 1)
		}
		return n
	}), "<=", float64(adults-max(1, m.in.AdultsFreeNeeded)))
	m.duties(r)
}

func (m *milp) duties(r int) {
	for _, pin := range m.in.Pins.Duties {
		if pin.Rotation != r+1 {
			continue
		}
		t := slices.IndexFunc(m.in.Staff, func(s Staff) bool { return s.ID == pin.StaffID })
		st := slices.IndexFunc(m.in.Stations, func(s Station) bool { return s.ID == pin.StationID })
		switch {
		case pin.Duty == SpotDuty:
			m.model.row(m.sum(func(c milpColumn) int { return one(c.rotation == r && c.station == st && c.spot>>t&1 == 1) }), "=", 1)
		case m.in.Staff[t].CanLead:
			m.model.row([]lpTerm{{1, fmt.Sprintf("l%d_%d_%d", r, st, t)}}, "=", 1)
		default:
			m.model.row(nil, "=", 1)
		}
	}
}

// stations keeps the number of stations that are set up.
func (m *milp) stations() {
	var all []lpTerm
	for st := range m.in.Stations {
		name := fmt.Sprintf("s%d", st)
		m.model.binaries = append(m.model.binaries, name)
		all = append(all, lpTerm{1, name})
		for r := range m.in.Rotations {
			m.model.row(append(m.sum(func(c milpColumn) int { return one(c.rotation == r && c.station == st) }), lpTerm{-1, name}), "<=", 0)
		}
	}
	m.model.row(all, "<=", float64(defaultTo(m.in.MaxStations, max(m.in.Groups, m.in.Rotations))))
}

// children counts missing turns and keeps hard work out of two rotations in a row.
func (m *milp) children() {
	m.model.limit = m.in.TurnFloor
	for i := range m.in.Children {
		name := fmt.Sprintf("m%d", i)
		m.model.generals = append(m.model.generals, name)
		m.model.objective = append(m.model.objective, lpTerm{m.weight, name})
		turns := m.sum(func(c milpColumn) int {
			if c.set>>i&1 == 0 {
				return 0
			}
			return c.turns[bits.OnesCount(c.set&(1<<i-1))]
		})
		m.model.row(append(turns, lpTerm{1, name}), ">=", float64(m.in.TurnFloor))
		for r := range m.in.Rotations - 1 {
			m.model.row(m.sum(func(c milpColumn) int { return one((c.rotation == r || c.rotation == r+1) && c.back>>i&1 == 1) }), "<=", 1)
			m.model.row(m.sum(func(c milpColumn) int { return one((c.rotation == r || c.rotation == r+1) && c.wrists>>i&1 == 1) }), "<=", 1)
		}
	}
}

// read takes the optimum of the model apart: it is missing turns x weight - worth, and worth is below weight.
func (m *milp) read(optimum float64) (short int, worth float64) {
	short = int(math.Ceil(optimum/m.weight - 1e-9))
	return short, float64(short)*m.weight - optimum
}

// Source: GLPK and CBC, two general solvers that prove the optimum of a model written from the Input alone.
func TestBestPlanAgainstGeneralSolvers(t *testing.T) {
	tools := lpTools()
	if len(tools) == 0 {
		t.Skip("neither glpsol nor cbc is installed")
	}
	optimal, feasible, total := 0, 0, 0
	for _, s := range []struct{ children, stations, rotations, activities, count int }{
		{4, 2, 2, 3, 12}, {6, 2, 2, 3, 12}, {6, 3, 2, 2, 12}, {8, 2, 2, 2, 6}, {6, 3, 3, 2, 8}, {7, 3, 2, 2, 4}, {9, 3, 3, 2, 4},
	} {
		for seed := range uint64(s.count) {
			in := fair(seed+uint64(100*s.children), s.children, s.stations, s.rotations, s.activities)
			m := newMILP(in)
			res, err := Propose(context.Background(), in)
			tool := tools[total%len(tools)]
			optimum, ok := tool.solve(t, &m.model)
			if name := fmt.Sprintf("%v seed %d by %s", s, in.Seed, tool.name); milpAgrees(t, name, m, res, err, optimum, ok) {
				feasible++
				optimal += one(res.Optimal)
			}
			total++
		}
	}
	t.Logf("%d lessons, %d with a plan, %d called optimal", total, feasible, optimal)
}

// milpAgrees compares an answer with the optimum of the model and reports whether there is a plan.
func milpAgrees(t *testing.T, name string, m *milp, res Result, err error, optimum float64, feasible bool) bool {
	var none *Infeasible
	if errors.As(err, &none) {
		if feasible && none.Proven {
			t.Errorf("%s: called infeasible (%v); the model's optimum is %g", name, err, optimum)
		}
		return false
	}
	if err != nil || !feasible {
		t.Errorf("%s: %v, the model is feasible: %v", name, err, feasible)
		return false
	}
	const close = 1e-4 // worth is counted in millionths
	short, worth := m.read(optimum)
	plan := res.Plan
	switch {
	case res.Optimal && (plan.Short != short || math.Abs(plan.Worth-worth) > close):
		t.Errorf("%s: called optimal: %d, %g; the model has %d, %g", name, plan.Short, plan.Worth, short, worth)
	case plan.Short < short || plan.Short == short && plan.Worth > worth+close:
		t.Errorf("%s: %d, %g is better than the model's optimum %d, %g", name, plan.Short, plan.Worth, short, worth)
	case worth > res.Bound+close:
		t.Errorf("%s: bound %g is below the model's optimum %g", name, res.Bound, worth)
	}
	return true
}
