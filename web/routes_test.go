package web_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web"
	"rungbook/web/kit"
)

// bare are the answers that belong to no action: they say nothing about anybody.
var bare = []string{"GET /healthz", "GET /static/*", "GET /sw.js"}

// pageless are granted actions that no page of their own asks for, each with its reason. There are none.
var pageless = map[studio.Action]string{}

// table is the route table of the program, without a database behind it.
func table() []kit.Route {
	return web.Routes(app.New(nil, app.StudioPolicy(), nil, app.Settings{}), &kit.Kit{Log: slog.New(slog.DiscardHandler)})
}

func nameOf(r kit.Route) string { return r.Method + " " + r.Pattern }

// The router answers what the table lists and nothing else: no catch-all, no second method, no page put in elsewhere.
func TestRouterEqualsTable(t *testing.T) {
	var listed, walked []string
	for _, r := range table() {
		listed = append(listed, nameOf(r))
	}
	listed = append(listed, bare...)
	site := web.New(app.New(nil, app.StudioPolicy(), nil, app.Settings{}), web.Options{Log: slog.New(slog.DiscardHandler)})
	err := chi.Walk(site.(chi.Routes), func(method, route string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		walked = append(walked, method+" "+route)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(listed)
	slices.Sort(walked)
	if again := slices.Compact(slices.Clone(listed)); len(again) != len(listed) {
		t.Error("a route is listed twice")
	}
	for _, name := range walked {
		if !slices.Contains(listed, name) {
			t.Errorf("the router answers %s, which the route table does not list", name)
		}
	}
	for _, name := range listed {
		if !slices.Contains(walked, name) {
			t.Errorf("the route table lists %s, which the router does not answer", name)
		}
	}
}

func TestEveryRouteHasAGrantedAction(t *testing.T) {
	policy := app.StudioPolicy()
	for _, r := range table() {
		switch {
		case r.Method != http.MethodGet && r.Method != http.MethodPost:
			t.Errorf("%s: pages are asked for by GET and changed by POST", nameOf(r))
		case r.Action == "":
			t.Errorf("%s has no action", nameOf(r))
		case !slices.ContainsFunc(policy, func(g app.Grant) bool { return g.Action == r.Action }):
			t.Errorf("%s: nobody may %q", nameOf(r), r.Action)
		case r.Handler == nil:
			t.Errorf("%s has no handler", nameOf(r))
		}
	}
}

func TestEveryGrantHasARoute(t *testing.T) {
	routes := table()
	for _, g := range app.StudioPolicy() {
		routed := slices.ContainsFunc(routes, func(r kit.Route) bool { return r.Action == g.Action })
		if _, excused := pageless[g.Action]; !routed && !excused {
			t.Errorf("%q is granted and no route asks for it", g.Action)
		}
	}
	if slices.ContainsFunc(app.StudioPolicy(), func(g app.Grant) bool { return g.Role == "" && g.Relation != app.Anyone }) {
		t.Error("a grant names no role")
	}
}

// Calls that would hide pages from the walk, or answer methods that nobody meant.
func TestNoCatchAlls(t *testing.T) {
	hidden := []string{"Mount", "HandleFunc", "Connect", "Trace"}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, src, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if to, ok := call.Fun.(*ast.SelectorExpr); ok && slices.Contains(hidden, to.Sel.Name) {
				t.Errorf("%s calls %s: such routes escape the route table", path, to.Sel.Name)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
