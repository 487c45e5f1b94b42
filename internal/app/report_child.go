package app

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// termBook is what the report of each child of a class is made from: the library, and every child's marks from first to last, each
// marked by "a teacher" or "an assistant", "" where that is not known: a report names no staff.
type termBook struct {
	*ladders
	judged     standing.Settings // when a rung is secure, by the studio
	focus      []string
	from, asOf time.Time // days of the term up to which marks count
	dayOf      func(time.Time) time.Time
	marks      map[uuid.UUID][]standing.Mark
	attendance map[uuid.UUID]postgres.ClassAttendance
	limits     map[uuid.UUID][]studio.CareLimit
	home       map[uuid.UUID][]studio.HomeAssignment
}

func readTermBook(ctx context.Context, t *postgres.Tx, class studio.Class, from, asOf time.Time, children []uuid.UUID) (*termBook, error) {
	library, err := readLadders(ctx, t)
	if err != nil {
		return nil, err
	}
	b := &termBook{ladders: library, judged: judging(t.Settings), focus: class.Focus, from: from, asOf: asOf, dayOf: t.DayOf, marks: map[uuid.UUID][]standing.Mark{},
		attendance: map[uuid.UUID]postgres.ClassAttendance{}, home: map[uuid.UUID][]studio.HomeAssignment{}}
	seen, err := t.MarksOf(ctx, children)
	if err != nil {
		return nil, fmt.Errorf("read the marks: %w", err)
	}
	markers, err := t.DutiesOfMarkers(ctx, children)
	if err != nil {
		return nil, fmt.Errorf("read who marked: %w", err)
	}
	for _, m := range seen {
		mark := standingMark(m)
		mark.By = markerWords(m.MarkedBy, markers)
		b.marks[m.ChildID] = append(b.marks[m.ChildID], mark)
	}
	counts, err := t.AttendanceOfClass(ctx, class.ID)
	if err != nil {
		return nil, fmt.Errorf("count the attendance: %w", err)
	}
	for _, c := range counts {
		b.attendance[c.ChildID] = c
	}
	given, err := t.HomeDrillsOn(ctx, children, asOf)
	if err != nil {
		return nil, fmt.Errorf("read the home drills: %w", err)
	}
	for _, h := range given {
		b.home[h.ChildID] = append(b.home[h.ChildID], h)
	}
	b.limits, err = limitsInForce(ctx, t, children)
	return b, err
}

// childTerm is one child's term while its part of the report is written. turns counts the marks within the term by rung.
type childTerm struct {
	*termBook
	id    uuid.UUID
	board standing.Board
	turns map[string]turnCount
}

type turnCount struct{ clean, of int }

// child writes a child's part of the report.
func (b *termBook) child(e studio.Enrolment) (report.Child, error) {
	board, err := b.graph.Board(b.marks[e.ChildID], b.judged, b.asOf)
	if err != nil {
		return report.Child{}, fmt.Errorf("work out where a child stands: %w", err)
	}
	t := childTerm{termBook: b, id: e.ChildID, board: board, turns: b.turnsOf(e.ChildID)}
	a := b.attendance[e.ChildID]
	c := report.Child{Name: strings.TrimSpace(e.GivenName + " " + e.FamilyName), Attended: a.Attended, Lessons: a.Noted, Unnoted: a.Held - a.Noted,
		Ladders: t.drawn(), HomeDrills: t.homeDrills()}
	for _, ladder := range b.Ladders {
		for _, r := range ladder.Rungs {
			if err := t.judge(&c, ladder.Name, r); err != nil {
				return report.Child{}, err
			}
		}
	}
	c.Next = t.next()
	return c, nil
}

// turnsOf counts a child's turns within the term, by rung. Clean is as the standing counts it: without a fault that can hurt.
func (b *termBook) turnsOf(child uuid.UUID) map[string]turnCount {
	turns := map[string]turnCount{}
	for _, m := range b.marks[child] {
		if !b.inTerm(m.At) {
			continue
		}
		n := turns[m.RungID]
		n.of++
		if m.Outcome == standing.Clean && !m.SafetyFault {
			n.clean++
		}
		turns[m.RungID] = n
	}
	return turns
}

func (b *termBook) inTerm(moment time.Time) bool {
	day := b.dayOf(moment)
	return !day.Before(b.from) && !day.After(b.asOf)
}

// judge puts a rung into the list where it belongs, if any. A rung that was secured in the term and is due a recheck by now is only
// in that list, which says both.
func (t childTerm) judge(c *report.Child, ladder string, r studio.Rung) error {
	s, _ := t.board.On(r.Key) // the graph is made of these rungs
	switch n := t.turns[r.Key]; {
	case s.State == standing.Secure && t.inTerm(s.SecureSince):
		evidence, err := t.evidenceAt(r.Key, s.SecureSince)
		if err != nil {
			return err
		}
		c.Secured = append(c.Secured, report.Secured{Ladder: ladder, Rung: r.Name, On: t.dayOf(s.SecureSince), Evidence: evidence})
	case s.State == standing.Working && n.of > 0:
		low, high, err := standing.Wilson(n.clean, n.of)
		if err != nil {
			return fmt.Errorf("work out a clean rate: %w", err)
		}
		c.Working = append(c.Working, report.Working{Ladder: ladder, Rung: r.Name, Clean: n.clean, Marks: n.of, Low: low, High: high})
	case s.State == standing.Recheck:
		seen := t.asOf.AddDate(0, 0, -s.DaysUnseen)
		c.Recheck = append(c.Recheck, report.Recheck{Ladder: ladder, Rung: r.Name, LastSeen: seen, Why: t.lapse(s, seen)})
	}
	return nil
}

// evidenceAt is what "secure" rested on at the moment when the rule was first met, and by whom it was seen; later marks may say more or
// less.
func (t childTerm) evidenceAt(rung string, moment time.Time) (string, error) {
	until := slices.DeleteFunc(slices.Clone(t.marks[t.id]), func(m standing.Mark) bool { return m.At.After(moment) })
	board, err := t.graph.Board(until, t.judged, moment)
	if err != nil {
		return "", fmt.Errorf("work out where a child stood: %w", err)
	}
	s, _ := board.On(rung)
	return s.Reason + seenBy(until, rung, t.judged.Rule.Window), nil
}

// seenBy says who marked the clean turns among the last ones of each side; "" when that is not known of any.
func seenBy(marks []standing.Mark, rung string, window int) string {
	var who []string
	counted := map[standing.Side]int{}
	for _, m := range slices.Backward(marks) {
		if m.RungID != rung || counted[m.Side] == window {
			continue
		}
		counted[m.Side]++
		if m.By != "" && m.Outcome == standing.Clean && !m.SafetyFault && !slices.Contains(who, m.By) {
			who = append(who, m.By)
		}
	}
	if len(who) == 0 {
		return ""
	}
	slices.Sort(who) // a teacher first
	return " Seen by " + listOf(who) + "."
}

func markerWords(account *uuid.UUID, markers []postgres.MarkerDuty) string {
	if account == nil {
		return ""
	}
	i := slices.IndexFunc(markers, func(m postgres.MarkerDuty) bool { return m.AccountID == *account })
	switch {
	case i < 0:
		return ""
	case markers[i].Teaches:
		return "a teacher"
	}
	return "an assistant"
}

// lapse says why a rung is due another look.
func (t childTerm) lapse(s standing.Standing, lastSeen time.Time) string {
	since := t.dayOf(s.SecureSince)
	switch {
	case slices.ContainsFunc(s.Sides, func(side standing.Tally) bool { return !side.Met }):
		return s.Reason
	case !since.Before(lastSeen):
		return "Secure then; long unseen."
	}
	return "Was secure from " + since.Format("2 January 2006") + "; long unseen."
}

// drawn are the ladders that the child meets: the ones that the class leans on in this term and the ones with a turn of the child's.
func (t childTerm) drawn() []report.Ladder {
	var met []report.Ladder
	for _, ladder := range t.Ladders {
		if !t.meets(ladder) {
			continue
		}
		drawn := report.Ladder{Name: ladder.Name}
		for _, r := range ladder.Rungs {
			s, _ := t.board.On(r.Key)
			n := t.turns[r.Key]
			drawn.Rungs = append(drawn.Rungs, report.Rung{Name: r.Name, State: report.State(s.State), Clean: n.clean, Marks: n.of})
		}
		met = append(met, drawn)
	}
	return met
}

func (t childTerm) meets(ladder studio.Ladder) bool {
	return slices.Contains(t.focus, ladder.Key) || slices.ContainsFunc(ladder.Rungs, func(r studio.Rung) bool { return t.turns[r.Key].of > 0 })
}

// homeDrills are those in force, without any that a care limit forbids today.
func (t childTerm) homeDrills() []report.HomeDrill {
	var out []report.HomeDrill
	for _, h := range t.home[t.id] {
		d, ok := t.drills[h.DrillKey]
		if !ok || forbids(t.limits[t.id], d.Load, d.Inverted) {
			continue
		}
		caution := d.Caution
		if d.Home.Adult {
			caution = strings.TrimSpace("Only with an adult in the room. " + caution)
		}
		out = append(out, report.HomeDrill{Name: d.Name, Dose: doseWords(h.Dose), Caution: caution, Figure: d.Figure})
	}
	return out
}

// doseWords is "2 times 8" or "3 times 20 seconds".
func doseWords(d studio.Dose) string {
	switch {
	case d.HoldSeconds == 0:
		return fmt.Sprintf("%d times %d", d.Sets, d.Repeats)
	case d.Repeats == 1:
		return fmt.Sprintf("%d times %s", d.Sets, countOf(d.HoldSeconds, "second"))
	}
	return fmt.Sprintf("%d times %d, each held for %s", d.Sets, d.Repeats, countOf(d.HoldSeconds, "second"))
}

// forbids reports whether a care limit keeps a child from what loads the body so.
func forbids(limits []studio.CareLimit, load studio.Load, inverted bool) bool {
	return slices.ContainsFunc(limits, func(l studio.CareLimit) bool {
		return l.AvoidBack && load.Back > 0 || l.AvoidWrists && load.Wrists > 0 || l.AvoidLanding && load.Landing > 0 || l.AvoidInverted && inverted
	})
}
