package testkit

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// room is what the packages that match a path pattern may import. All paths
// inside leave out the module's name; "*" stands for one path element.
type room struct {
	at      string
	floor   int
	inside  []string // packages of this module
	outside []string // beginnings of other modules' packages
	not     []string // standard packages that are refused, with all below them
}

// impure are the standard packages that pure computation has no use for. A context is let in: an engine that may run long is
// cancelled by one, and takes no values from it.
var impure = []string{"database", "io/fs", "log", "math/rand", "net", "os", "syscall"}

// rooms is the table of the house: the first row that matches a package counts.
// A package without a row fails the test, so a new room is a decision.
var rooms = []room{
	{at: "cmd/rungbook", floor: 6, inside: []string{"internal/boot"}},
	{at: "cmd/check", floor: 6},
	{at: "internal/boot", floor: 5,
		inside:  []string{"web", "internal/app", "internal/postgres", "internal/embeddedpg", "internal/auth", "internal/studio", "internal/words", "internal/demo", "db"},
		outside: []string{"github.com/caarlos0/env/", "github.com/google/uuid", "github.com/wneessen/go-mail"}},
	{at: "web", floor: 4,
		inside:  []string{"web/*", "internal/app", "internal/studio", "internal/words"},
		outside: []string{"github.com/go-chi/"}},
	{at: "web/kit", floor: 4,
		inside:  []string{"web/static", "internal/studio", "internal/figure", "internal/words"},
		outside: []string{"github.com/a-h/templ", "github.com/go-chi/", "github.com/gorilla/", "github.com/google/uuid"}},
	{at: "web/static", floor: 4},
	{at: "web/sitetest", floor: 4, // imported by tests only
		inside:  []string{"web", "internal/app", "internal/auth", "internal/postgres", "internal/testkit", "internal/words"},
		outside: []string{"github.com/PuerkitoBio/goquery"}},
	{at: "web/*", floor: 4, // an area; never another area
		inside:  []string{"web/kit", "internal/app", "internal/studio", "internal/words"},
		outside: []string{"github.com/a-h/templ", "github.com/go-chi/chi/", "github.com/gorilla/schema", "github.com/google/uuid"}},
	{at: "internal/demo", floor: 4, // fills a database by the use cases, as people do
		inside:  []string{"internal/app", "internal/studio", "db"},
		outside: []string{"github.com/google/uuid"}},
	{at: "internal/app", floor: 3,
		inside:  []string{"internal/postgres", "internal/engine/*", "internal/report", "internal/auth", "internal/studio", "internal/words", "db"},
		outside: []string{"github.com/goccy/go-yaml", "github.com/google/uuid"}},
	{at: "internal/postgres", floor: 2,
		inside:  []string{"internal/studio", "db"},
		outside: []string{"github.com/jackc/pgx/v5", "github.com/golang-migrate/migrate/v4", "github.com/google/uuid", "github.com/riverqueue/river"}},
	{at: "internal/report", floor: 2,
		inside:  []string{"internal/studio", "internal/figure"},
		outside: []string{"codeberg.org/go-pdf/fpdf", "github.com/arran4/golang-ical", "github.com/go-fonts/dejavu", "github.com/xuri/excelize/v2", "golang.org/x/image/", "golang.org/x/text/"}},
	{at: "internal/engine/calibration", floor: 1, inside: []string{"internal/engine/standing"}, not: impure},
	{at: "internal/engine/lesson", floor: 1,
		inside:  []string{"internal/engine/load", "internal/engine/cover"},
		outside: []string{"gonum.org/"}, not: impure},
	{at: "internal/engine/*", floor: 1, outside: []string{"gonum.org/"}, not: impure},
	{at: "internal/figure", floor: 1, not: impure},
	{at: "internal/words", floor: 1, outside: []string{"github.com/BurntSushi/toml", "github.com/go-playground/locales", "github.com/nicksnyder/go-i18n/v2/i18n", "golang.org/x/text/language"}},
	{at: "internal/studio", floor: 1, inside: []string{"internal/figure"}, outside: []string{"github.com/google/uuid", "golang.org/x/text/language"}},
	{at: "internal/auth", floor: 1, outside: []string{"golang.org/x/crypto/", "golang.org/x/text/", "github.com/go-webauthn/webauthn/", "github.com/boombuler/barcode/"}},
	{at: "internal/embeddedpg", floor: 1, outside: []string{"github.com/fergusstrange/embedded-postgres"}},
	{at: "db", floor: 1},
	{at: "internal/testkit", floor: 5,
		inside:  []string{"internal/postgres", "internal/studio", "internal/auth", "internal/embeddedpg", "db"},
		outside: []string{"github.com/testcontainers/", "github.com/jackc/pgx/v5", "github.com/google/uuid"}},
	{at: "e2e", floor: 6,
		inside:  []string{"internal/boot", "internal/app", "internal/testkit", "internal/embeddedpg", "web", "web/kit"},
		outside: []string{"github.com/chromedp/", "github.com/jackc/pgx/v5", "github.com/google/uuid", "github.com/go-chi/chi/v5"}},
}

const module = "rungbook"

type listed struct {
	ImportPath, Dir                    string
	GoFiles                            []string
	Imports, TestImports, XTestImports []string
}

// packages lists the module's packages as the go command sees them.
func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,GoFiles,Imports,TestImports,XTestImports", "./...")
	cmd.Dir = filepath.Join("..", "..")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

// local gives a package's path inside the module.
func local(importPath string) (string, bool) {
	return strings.CutPrefix(importPath, module+"/")
}

func roomOf(pkg string) (room, bool) {
	i := slices.IndexFunc(rooms, func(r room) bool { return matches(r.at, pkg) })
	if i < 0 {
		return room{}, false
	}
	return rooms[i], true
}

func matches(pattern, pkg string) bool {
	ok, err := path.Match(pattern, pkg)
	return ok && err == nil
}

// refuses says why a room may not import a package, or "".
func (r room) refuses(imported string) string {
	if pkg, ok := local(imported); ok {
		if slices.ContainsFunc(r.inside, func(p string) bool { return matches(p, pkg) }) {
			return ""
		}
		return "this room may not import it"
	}
	first, _, _ := strings.Cut(imported, "/")
	if strings.Contains(first, ".") {
		if slices.ContainsFunc(r.outside, func(p string) bool { return strings.HasPrefix(imported, p) }) {
			return ""
		}
		return "this room may not use this library"
	}
	if slices.ContainsFunc(r.not, func(p string) bool { return imported == p || strings.HasPrefix(imported, p+"/") }) &&
		imported != "math/rand/v2" { // the seeded kind
		return "pure computation has no use for it"
	}
	return ""
}

func TestImportsKeepToTheTable(t *testing.T) {
	for _, p := range packages(t) {
		pkg, _ := local(p.ImportPath)
		r, ok := roomOf(pkg)
		if !ok {
			t.Errorf("%s has no row in the table of rooms", p.ImportPath)
			continue
		}
		for _, imported := range p.Imports {
			if why := r.refuses(imported); why != "" {
				t.Errorf("%s imports %s: %s", p.ImportPath, imported, why)
			}
		}
	}
}

// Tests, too, look down only; testkit and what it stands on is open to them all.
func TestArrowsPointDown(t *testing.T) {
	for _, p := range packages(t) {
		pkg, _ := local(p.ImportPath)
		r, _ := roomOf(pkg)
		for _, imported := range slices.Concat(p.Imports, p.TestImports, p.XTestImports) {
			below, ok := local(imported)
			if !ok || below == "internal/testkit" {
				continue
			}
			if other, ok := roomOf(below); ok && other.floor > r.floor {
				t.Errorf("%s (floor %d) imports %s (floor %d)", p.ImportPath, r.floor, imported, other.floor)
			}
		}
	}
}

var clock = regexp.MustCompile(`\btime\.(Now|Since|Until)\(|\brand\.(Int|IntN|Float64|Perm|Shuffle|N)\(`)

// An engine gets the time and its random source from whoever calls it.
func TestEnginesReadNoClockAndThrowNoDice(t *testing.T) {
	for _, p := range packages(t) {
		if pkg, _ := local(p.ImportPath); !matches("internal/engine/*", pkg) {
			continue
		}
		for _, name := range p.GoFiles {
			src, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				t.Fatal(err)
			}
			if found := clock.Find(src); found != nil {
				t.Errorf("%s/%s calls %s)", p.ImportPath, name, found)
			}
		}
	}
}

// The table must bite: each row here is an import that it has to refuse.
func TestTableRefuses(t *testing.T) {
	for _, c := range []struct{ pkg, imported string }{
		{"web/lesson", "rungbook/web/people"},
		{"web/lesson", "rungbook/internal/postgres"},
		{"web/lesson", "github.com/jackc/pgx/v5"},
		{"web", "github.com/jackc/pgx/v5/pgxpool"},
		{"internal/app", "github.com/jackc/pgx/v5"},
		{"internal/app", "rungbook/web/kit"},
		{"internal/studio", "rungbook/internal/postgres"},
		{"internal/engine/load", "rungbook/internal/engine/cover"},
		{"internal/engine/load", "rungbook/internal/studio"},
		{"internal/engine/standing", "database/sql"},
		{"internal/engine/standing", "log/slog"},
		{"internal/engine/standing", "net/http"},
		{"internal/engine/lesson", "math/rand"},
		{"cmd/rungbook", "rungbook/internal/app"},
		{"cmd/check", "github.com/google/uuid"},
		{"db", "rungbook/internal/studio"},
		{"internal/app", "rungbook/internal/testkit"},
	} {
		r, ok := roomOf(c.pkg)
		if !ok || r.refuses(c.imported) == "" {
			t.Errorf("%s may import %s", c.pkg, c.imported)
		}
	}
	if _, ok := roomOf("internal/utils"); ok {
		t.Error("a room without a row passes")
	}
}
