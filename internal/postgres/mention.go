package postgres

import (
	"context"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// folded is an expression for the words of a text, whatever the case and the accents, with a blank before, between and after them.
func folded(text string) string {
	const bare = `regexp_replace(normalize(lower(TEXT collate "und-x-icu"), NFKD), '[\u0300-\u036f]', '', 'g')`
	const spelt = `replace(replace(replace(replace(translate(` + bare + `, 'øđłıðħ', 'odlidh'), 'ß', 'ss'), 'æ', 'ae'), 'œ', 'oe'), 'þ', 'th')`
	const words = `regexp_replace(' ' || ` + spelt + ` || ' ', '[^[:alpha:]]+', ' ', 'g')`
	return strings.ReplaceAll(words, "TEXT", text)
}

// mentionsSQL looks for names of two letters or more: a single one would be found everywhere.
var mentionsSQL = `with names as materialized (select n from child c join child_detail d on d.child_id = c.id,
		unnest(array[` + folded("c.given_name") + `, ` + folded("d.family_name") + `]) n where c.id = $1 and length(n) > 3),
	said as (
		select 'class message' as kind, m.class_id as about, c.name as of, m.written_at as at, m.note as words from message m join class c on c.id = m.class_id
		union all select 'child message', m.child_id, trim(o.given_name || ' ' || o.initial), m.written_at, m.note from message m join child o on o.id = m.child_id where m.child_id <> $1
		union all select 'lesson note', n.lesson_id, c.name, l.starts_at, n.note from lesson_note n join lesson l on l.id = n.lesson_id join class c on c.id = l.class_id
		union all select 'sheet note', n.lesson_id, c.name, n.written_at, n.note from sheet_note n join lesson l on l.id = n.lesson_id join class c on c.id = l.class_id
			where n.child_id is distinct from $1
		union all select 'child note', n.child_id, trim(o.given_name || ' ' || o.initial), n.written_at, n.note from child_note n join child o on o.id = n.child_id where n.child_id <> $1
		union all select 'report note', n.class_id, trim(o.given_name || ' ' || o.initial), n.written_at, n.note from report_note n join child o on o.id = n.child_id where n.child_id <> $1
	)
	select kind, about, of, at, words from said where exists (select from names where ` + folded("said.words") + ` like '%' || n || '%')
	order by at desc, kind, about limit $2`

// Mentions lists the latest words, at most most of them, that name a child and would stay when it is erased. Incident records are not
// looked through: they must be kept as they are.
func (t *Tx) Mentions(ctx context.Context, child uuid.UUID, most int) ([]studio.Mention, error) {
	return many[studio.Mention](ctx, t, mentionsSQL, child, most)
}
