package e2e

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"
)

// keptItem is what the database holds of an item: its bytes, its answer, who sent it and, for one that became a mark, the mark.
type keptItem struct {
	ID, Content, Answer, By string
	Mark                    *keptMark
}

type keptMark struct {
	Child, Rung, Lesson, Side, Outcome, Replaces, By string
	Faults                                           []string
}

const keptSQL = `select i.id::text as id, i.content, i.answer, coalesce(a.email, '') as by,
	case when m.id is not null then jsonb_build_object('Child', m.child_id, 'Rung', m.rung_key, 'Lesson', m.lesson_id, 'Side', m.side, 'Outcome', m.outcome,
		'Replaces', coalesce(m.replaces::text, ''), 'By', coalesce(b.email, ''),
		'Faults', coalesce((select jsonb_agg(f.fault_key order by f.fault_key) from mark_fault f where f.mark_id = m.id), '[]')) end as mark
	from sheet_item i left join account a on a.id = i.sent_by left join mark m on m.id = i.id left join account b on b.id = m.marked_by
	where i.content like '%"device":"tablet-%'`

func readKept(ctx context.Context, c *pgx.Conn) ([]keptItem, error) {
	rows, err := c.Query(ctx, keptSQL)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[keptItem])
}

// verdict counts what went wrong between the journals of tablets and what was kept.
type verdict struct {
	lost    int // noted, and not kept
	absent  int // answered for, and not kept
	doubled int // kept more than once
	altered int // kept other than noted, or with another answer
	foreign int // kept, and never noted
	first   []string
}

func (v verdict) String() string {
	return fmt.Sprintf("%d lost, %d doubled, %d altered, %d acknowledged but absent, %d from nowhere", v.lost, v.doubled, v.altered, v.absent, v.foreign)
}

func (v *verdict) note(n *int, format string, args ...any) {
	if *n++; len(v.first) < 10 {
		v.first = append(v.first, fmt.Sprintf(format, args...))
	}
}

// judge holds what was kept against the journals. want is the answer that every item should have had.
func judge(journals [][]*entry, rows []keptItem, want string) verdict {
	var v verdict
	by := map[string][]keptItem{}
	for _, k := range rows {
		by[k.ID] = append(by[k.ID], k)
	}
	for _, journal := range journals {
		for _, e := range journal {
			found := by[e.ID]
			delete(by, e.ID)
			switch {
			case len(found) == 0 && e.answered != "":
				v.note(&v.absent, "%s %s was answered %s and is not there", e.Kind, e.ID, e.answered)
			case len(found) == 0:
				v.note(&v.lost, "%s %s is not there", e.Kind, e.ID)
			case len(found) > 1:
				v.note(&v.doubled, "%s %s is there %d times", e.Kind, e.ID, len(found))
			default:
				if wrong := difference(e, found[0], want); wrong != "" {
					v.note(&v.altered, "%s %s: %s", e.Kind, e.ID, wrong)
				}
			}
		}
	}
	for id := range by {
		v.note(&v.foreign, "%s was never noted", id)
	}
	return v
}

// difference is in what an item was kept other than it was noted; "" when in nothing.
func difference(e *entry, k keptItem, want string) string {
	switch {
	case k.Content != string(e.raw):
		return "kept as " + k.Content
	case k.Answer != want || e.answered != "" && e.answered != want:
		return fmt.Sprintf("kept as %s and answered %s, want %s", k.Answer, e.answered, want)
	case k.By != e.as:
		return "kept as sent by " + k.By
	case (e.Kind == "mark" || e.Kind == "strike") != (k.Mark != nil):
		return "a mark where none was made, or none where one was"
	case k.Mark == nil:
		return ""
	}
	m, should := *k.Mark, keptMark{e.Child, e.Rung, e.Lesson, e.Side, e.Outcome, e.Replaces, e.as, e.Faults}
	if e.Kind == "strike" {
		should.Outcome, should.Side = "withdrawn", m.Side // the side is that of the mark taken back
	}
	mine, _ := json.Marshal(should)
	theirs, _ := json.Marshal(m)
	if !slices.Equal(m.Faults, should.Faults) {
		return fmt.Sprintf("faults %v, noted %v", m.Faults, should.Faults)
	}
	m.Faults, should.Faults = nil, nil
	if fmt.Sprint(m) != fmt.Sprint(should) {
		return fmt.Sprintf("kept as %s, noted %s", theirs, mine)
	}
	return ""
}
