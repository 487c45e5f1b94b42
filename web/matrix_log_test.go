package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rungbook/internal/app"
)

// spared are the tables that say who asks; without any other, most requests fail within the database, in the middle of their work.
const spared = `'session', 'account', 'account_role', 'account_secret', 'passkey', 'second_factor', 'staff', 'studio_settings', 'guardian',
	'class_staff', 'class', 'enrolment', 'lesson'`

// When the database fails, the log says which route did, and nothing of whom it was about: no id or secret out of a path, no typed text,
// no value out of an error of the database.
func TestLogOfFailuresTellsNothing(t *testing.T) {
	t.Parallel()
	m := matrix{world: openWorld(t, line{policy: app.StudioPolicy()})}
	m.exec(t, `do $$ declare name text; begin
		for name in select relname from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r' and relname not in (`+spared+`) loop
			execute format('alter table %I rename to %I', name, 'lost_' || name);
		end loop; end $$`)
	failed := 0
	for _, r := range table() {
		p := pages[nameOf(r)]
		for _, as := range []who{nobody, owner, teacherA, parentA} {
			path, _ := pathOf(r.Pattern, m.sample(r.Pattern))
			c := cell{route: r, page: p, as: as, v: ofA, path: path + p.query}
			if r.Method == http.MethodPost {
				c.form = m.typed(p)
			}
			got := m.ask(as, r.Method, c.path, c.form)
			m.exec(t, `delete from session; insert into session select * from kept.session; delete from account; insert into account select * from kept.account`) // nobody is out
			if got.status == http.StatusInternalServerError {
				failed++
			}
			if leaked := m.leaks(as, c.path, got, m.shown(c)...); len(leaked) > 0 {
				t.Errorf("%s (%d) shows %q", c, got.status, leaked)
			}
		}
	}
	if lines := strings.Count(m.log.String(), "request failed"); failed < 100 || lines < failed {
		t.Errorf("%d requests failed, and the log tells of %d", failed, lines)
	}
	if strings.Contains(m.log.String(), "00000000-0000-4000-8000-") {
		t.Error("the log holds ids of the sample")
	}
	m.readLog(t)
	t.Logf("%d requests failed; %s", failed, m.scanned)
}

// sample is the variant of a pattern that exists.
func (m *matrix) sample(pattern string) variant {
	if strings.Contains(pattern, "{") {
		return ofA
	}
	return plain
}

// typed is a form of the page without asking for the page.
func (m *matrix) typed(p page) *sent {
	switch {
	case p.file != nil:
		return p.file(ofA)
	case p.form != nil:
		return formOf(p.form(ofA))
	}
	return formOf(values("name", "Aliquot Alderleak", "note", "noteleak-a", "passphrase", sampleWords)(plain))
}
