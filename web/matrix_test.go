package web_test

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Every route x every actor x every kind of record, through both lines of defence and through each alone. The expectations are the
// hand-written tables of matrix_actors_test.go, matrix_pages_test.go and matrix_canary_test.go.

func TestMatrixBothLines(t *testing.T) {
	t.Parallel()
	run := matrix{world: openWorld(t, line{policy: app.StudioPolicy()}), statuses: true}
	run.all(t)
}

// The serving role is bound by no row-level security: the handlers and use cases alone give the same answers.
func TestMatrixHandlersAlone(t *testing.T) {
	t.Parallel()
	run := matrix{world: openWorld(t, line{policy: app.StudioPolicy(), bypassRLS: true}), statuses: true}
	run.all(t)
}

// The policy grants everything to everybody: row-level security alone shows no canary and lets nobody change what is not theirs.
func TestMatrixRowSecurityAlone(t *testing.T) {
	t.Parallel()
	run := matrix{world: openWorld(t, line{policy: everythingToEverybody()}), wider: colleaguesBirth}
	run.all(t)
}

func everythingToEverybody() app.Policy {
	var p app.Policy
	for _, r := range table() {
		p = append(p, app.Grant{Action: r.Action, Relation: app.Anyone})
	}
	return p
}

// matrix is one run over all cells.
type matrix struct {
	*world
	statuses bool     // the policy is the studio's: statuses are exact
	wider    []string // canaries that this line of defence shows by itself, with the reason at the list
	cells    int
}

// cell is one request.
type cell struct {
	route kit.Route
	page  page
	as    who
	v     variant
	path  string
	form  *sent // nil for GET
	blank bool  // the form has no fields at all
}

func (c cell) String() string {
	return fmt.Sprintf("%s as %s, %s%s", nameOf(c.route), c.as.name, c.v, map[bool]string{true: ", empty form"}[c.blank])
}

func (c cell) allowed() bool {
	return may(c.as, c.route.Action, c.page.on, c.v) && (c.page.only == nil || c.page.only(c.as, c.v))
}

// shown are the canaries that are in order in the answer to a cell alone.
func (m *matrix) shown(c cell) []string {
	if c.page.shows == nil || !c.v.exists() {
		return m.wider
	}
	return slices.Concat(m.wider, c.page.shows(c.as))
}

func (m *matrix) all(t *testing.T) {
	routes := table()
	for _, r := range routes {
		p, listed := pages[nameOf(r)]
		if !listed {
			t.Errorf("%s has no expectation: add it to the pages of matrix_pages_test.go", nameOf(r))
			continue
		}
		m.route(t, r, p)
	}
	for name := range pages {
		if !slices.ContainsFunc(routes, func(r kit.Route) bool { return nameOf(r) == name }) {
			t.Errorf("%s is expected and there is no such route", name)
		}
	}
	m.readLog(t)
	t.Logf("%d cells; %s", m.cells, m.scanned)
}

// route asks for all cells of one route. Those that must change nothing go first, under one look at the database.
func (m *matrix) route(t *testing.T, r kit.Route, p page) {
	var still, moving []cell
	for _, c := range m.cellsOf(t, r, p) {
		if r.Method == http.MethodPost && c.allowed() {
			moving = append(moving, c)
		} else {
			still = append(still, c)
		}
	}
	answers := map[string]string{} // of absent records
	for _, c := range still {
		m.judge(t, c, m.ask(c.as, r.Method, c.path, c.form), answers)
	}
	m.readLetters(t, nameOf(r))
	if m.touched(t, still) {
		for _, c := range still {
			m.ask(c.as, r.Method, c.path, c.form)
			if names := m.meant(m.changed(t), c); len(names) > 0 {
				t.Errorf("%s changed %v", c, names)
			}
		}
	}
	for _, c := range moving {
		got := m.ask(c.as, r.Method, c.path, c.form)
		m.judge(t, c, got, answers)
		m.follow(t, c, got)
		m.readLetters(t, c.String())
		names := m.meant(m.changed(t), c)
		if c.form != nil && !c.blank && got.status == http.StatusSeeOther && m.statuses && len(names) == 0 && !p.quiet {
			t.Errorf("%s answered %d and changed nothing", c, got.status)
		}
	}
}

// touched reports whether any of the cells changed a table that it must not.
func (m *matrix) touched(t *testing.T, cells []cell) bool {
	names := m.changed(t)
	return slices.ContainsFunc(cells, func(c cell) bool { return len(m.meant(names, c)) > 0 })
}

// trail are the tables of what was done, and of who read what.
var trail = []string{"audit", "audit_link", "health_read"}

// meant leaves out the tables that every request may touch: the session of who asks; where reading is written to the trail, or the
// policy is wide open, the actor's own trail.
func (m *matrix) meant(names []string, c cell) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool {
		return slices.Contains(c.page.notes, n) && (!m.statuses || c.allowed()) || n == "session" && c.route.Action != studio.OwnAccount && c.route.Action != studio.GuardAccount || n == "sign_in_attempt" || slices.Contains(trail, n) && (!m.statuses || c.page.logs && c.allowed()) ||
			!m.statuses && (c.as == owner || slices.Contains(c.page.wider, n)) // row-level security knows no limit of an owner
	})
}

func (m *matrix) judge(t *testing.T, c cell, got answer, absentAnswers map[string]string) {
	t.Helper()
	m.cells++
	if got.status >= 500 {
		t.Errorf("%s: %d", c, got.status)
	}
	if got.header.Get("Cache-Control") != "no-store" || got.header.Get("Content-Security-Policy") == "" {
		t.Errorf("%s may be stored or runs what it likes", c)
	}
	if leaked := m.leaks(c.as, c.path, got, m.shown(c)...); len(leaked) > 0 {
		t.Errorf("%s (%d) shows %q", c, got.status, leaked)
	}
	if !m.statuses {
		return
	}
	if want := c.want(); !c.blank && got.status != want {
		t.Errorf("%s: %d, want %d%s", c, got.status, want, reason(got))
	}
	m.same(t, c, got, absentAnswers)
}

// same holds that a record which is not the actor's looks like one that does not exist.
func (m *matrix) same(t *testing.T, c cell, got answer, absentAnswers map[string]string) {
	t.Helper()
	key := fmt.Sprint(c.as.name, c.blank, c.v == mixed || c.v == mixedNone)
	switch {
	case c.allowed():
	case absentAnswers[key] == "":
		absentAnswers[key] = got.everything(c.path)
	case absentAnswers[key] != got.everything(c.path):
		t.Errorf("%s answers otherwise than for what does not exist", c)
	}
}

// want is the exact status of a cell.
func (c cell) want() int {
	get := c.route.Method == http.MethodGet
	switch {
	case slices.Contains(open, c.route.Action) && c.v.exists():
		return c.page.status(c.as, c.v, get)
	case !c.as.signedIn() && get && !c.route.JSON && !slices.Contains(open, c.route.Action):
		return http.StatusSeeOther
	case !c.as.signedIn() && !slices.Contains(open, c.route.Action):
		return http.StatusUnauthorized
	case !c.allowed():
		return http.StatusNotFound
	}
	return c.page.status(c.as, c.v, get)
}

var notices = regexp.MustCompile(`(?s)<div id="flash".*?</div>|class="field-error".*?</p>`)

// reason is what a page says went wrong, to be shown beside an unexpected status.
func reason(a answer) string {
	text := strings.Join(notices.FindAllString(a.body, 5), " ")
	return " " + strings.Join(strings.Fields(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, " ")), " ")
}

var param = regexp.MustCompile(`\{([a-z-]+)\}`)

// cellsOf lists the requests for one route: absent records first, for the others to be compared with.
func (m *matrix) cellsOf(t *testing.T, r kit.Route, p page) []cell {
	var cells []cell
	for _, as := range actors {
		for _, v := range variantsOf(r.Pattern) {
			path, known := pathOf(r.Pattern, v)
			if !known {
				continue
			}
			c := cell{route: r, page: p, as: as, v: v, path: path + p.query}
			if r.Method == http.MethodGet {
				cells = append(cells, c)
				continue
			}
			c.form = m.fields(t, r, p, v)
			cells = append(cells, c)
			c.form, c.blank = formOf(url.Values{}), true
			cells = append(cells, c)
		}
	}
	return cells
}

func variantsOf(pattern string) []variant {
	switch found := param.FindAllString(pattern, -1); len(found) {
	case 0:
		return []variant{plain}
	case 1:
		return []variant{absent, ofA, ofB, mateOfA, pastOfA, malformed, broken}
	default:
		return []variant{absent, ofA, ofB, mateOfA, pastOfA, malformed, broken, mixed, mixedNone}
	}
}

// pathOf fills in a pattern; false when some part has no record of the variant.
func pathOf(pattern string, v variant) (string, bool) {
	known, n := true, 0
	path := param.ReplaceAllStringFunc(pattern, func(found string) string {
		n++
		values, ok := records[found[1:len(found)-1]]
		if !ok {
			panic("matrix_pages_test.go names no records for " + found)
		}
		text, has := values[partOf(v, n)]
		known = known && has
		return url.PathEscape(text)
	})
	return path, known
}

// partOf is the variant of the n-th part of a path.
func partOf(v variant, n int) variant {
	switch {
	case v == mixed && n == 1, v == mixedNone && n == 1:
		return ofA
	case v == mixed:
		return ofB
	case v == mixedNone:
		return absent
	}
	return v
}

// The tables of expectations speak of known parts only.
func TestRecordsAreUsed(t *testing.T) {
	used := map[string]bool{}
	for _, r := range table() {
		for _, found := range param.FindAllStringSubmatch(r.Pattern, -1) {
			used[found[1]] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(records)) {
		if !used[name] {
			t.Errorf("no route has a part {%s}", name)
		}
	}
}
