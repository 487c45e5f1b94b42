package cover

import (
	"cmp"
	"fmt"
	"slices"
)

// Absence is what closes when one person stays away: the ids of rungs that could run with everyone here.
type Absence struct {
	Person string
	Closes []string
	Reason string
}

// Absences says for each person present what their absence would close, in the order of Present.
func (n Night) Absences(rungs []Rung) []Absence {
	all := n.Runnable(rungs)
	out := make([]Absence, len(n.Present))
	for i, p := range n.Present {
		out[i] = n.absence(p, rungs, all, i)
	}
	return out
}

func (n Night) absence(p Person, rungs []Rung, all []Run, i int) Absence {
	without := n
	without.Present = slices.Delete(slices.Clone(n.Present), i, i+1)
	a := Absence{Person: p.ID}
	for j, run := range without.Runnable(rungs) {
		if all[j].OK && !run.OK {
			a.Closes = append(a.Closes, rungs[j].ID)
		}
	}
	a.Reason = fmt.Sprintf("Without %s %s.", p.Name, count(len(a.Closes), "rung closes", "rungs close"))
	if v := Check(Room{Ages: n.Ages, Adults: without.adults()}, n.Ratios); !v.Enough {
		a.Reason = fmt.Sprintf("Without %s the room is short of adults. %s", p.Name, v.Reason)
	}
	return a
}

// Wish is a child who is ready to work at a rung.
type Wish struct {
	Child string
	Rung  string
}

// Renewal is an expired sign-off and what renewing it alone would open: Rungs, and how many Wishes (child-rungs) of them.
type Renewal struct {
	SignOff string
	Person  string
	Rungs   []string
	Wishes  int
	Reason  string
}

// Renewals ranks the expired sign-offs of the people present by the child-rungs that renewing each alone unblocks, most
// first. Those that unblock nothing are left out: another person covers them, or a second renewal is needed as well.
func (n Night) Renewals(rungs []Rung, wishes []Wish) []Renewal {
	wanted := map[string]int{}
	for _, w := range wishes {
		wanted[w.Rung]++
	}
	now := n.Runnable(rungs)
	var out []Renewal
	for i, s := range n.SignOffs {
		at := slices.IndexFunc(n.Present, func(p Person) bool { return p.ID == s.Person })
		if at < 0 || s.On(n.Date, -1) != Expired {
			continue
		}
		if r := n.renewal(i, n.Present[at], rungs, now, wanted); r.Wishes > 0 {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b Renewal) int {
		return cmp.Or(cmp.Compare(b.Wishes, a.Wishes), cmp.Compare(a.Person, b.Person), cmp.Compare(a.SignOff, b.SignOff))
	})
	return out
}

func (n Night) renewal(i int, p Person, rungs []Rung, now []Run, wanted map[string]int) Renewal {
	renewed := n
	renewed.SignOffs = slices.Clone(n.SignOffs)
	renewed.SignOffs[i].Until = n.Date
	r := Renewal{SignOff: n.SignOffs[i].ID, Person: p.ID}
	for j, run := range renewed.Runnable(rungs) {
		if run.OK && !now[j].OK && wanted[rungs[j].ID] > 0 {
			r.Rungs = append(r.Rungs, rungs[j].ID)
			r.Wishes += wanted[rungs[j].ID]
		}
	}
	r.Reason = fmt.Sprintf("Renewing the sign-off of %s opens %s that children are ready for, %s in all.", p.Name,
		count(len(r.Rungs), "rung", "rungs"), count(r.Wishes, "time", "times"))
	return r
}
