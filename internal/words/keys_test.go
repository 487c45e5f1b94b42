package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// asked is a message that the program asks for: its key, or what its key begins with, and the names of the values it gives.
type asked struct {
	where, key, method string
	begins             bool
	pairs              []string
	open               bool // it gives more than can be read here
}

// asking finds every Say and Count of the program, and every other literal that may be a key.
func asking(t *testing.T) (calls []asked, literals map[string]bool) {
	t.Helper()
	literals = map[string]bool{}
	set := token.NewFileSet()
	for _, root := range []string{"../../web", "../../internal/app", "."} {
		err := filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(set, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.CallExpr:
					if a, ok := askedBy(n); ok {
						a.where = set.Position(n.Pos()).String()
						calls = append(calls, a)
					}
				case *ast.BasicLit:
					if text, ok := literal(n); ok {
						literals[text] = true
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return calls, literals
}

func askedBy(call *ast.CallExpr) (asked, bool) {
	on, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || on.Sel.Name != "Say" && on.Sel.Name != "Count" || len(call.Args) == 0 {
		return asked{}, false
	}
	if of, ok := on.X.(*ast.Ident); ok && slices.Contains([]string{"strings", "bytes", "utf8"}, of.Name) {
		return asked{}, false
	}
	a := asked{method: on.Sel.Name, open: call.Ellipsis.IsValid()}
	key := call.Args[0]
	if sum, ok := key.(*ast.BinaryExpr); ok {
		key, a.begins = sum.X, true
	}
	if a.key, ok = literal(key); !ok {
		return asked{}, false
	}
	rest := call.Args[1:]
	if a.method == "Count" {
		a.pairs, rest = []string{"{{.N}}"}, rest[1:]
	}
	for i := 0; i < len(rest); i += 2 {
		name, ok := literal(rest[i])
		a.open = a.open || !ok
		a.pairs = append(a.pairs, "{{."+name+"}}")
	}
	slices.Sort(a.pairs)
	return a, true
}

func literal(n ast.Node) (string, bool) {
	lit, ok := n.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

func TestEveryKeyIsKeptAndAskedFor(t *testing.T) {
	english := messages(t)["en-GB.toml"]
	calls, literals := asking(t)
	if len(calls) < 200 {
		t.Fatalf("only %d messages are asked for: the program is not found", len(calls))
	}
	used := map[string]bool{}
	for _, a := range calls {
		if a.begins {
			found := false
			for key := range english {
				if strings.HasPrefix(key, a.key) {
					used[key], found = true, true
				}
			}
			if !found || !strings.HasSuffix(a.key, ".") && !strings.HasSuffix(a.key, "-") {
				t.Errorf("%s: no key begins with %q", a.where, a.key)
			}
			continue
		}
		m := english[a.key]
		if m == nil {
			t.Errorf("%s: there is no message %q", a.where, a.key)
			continue
		}
		used[a.key] = true
		if counted := len(forms(m)) > 1; counted != (a.method == "Count") {
			t.Errorf("%s: %s of %q", a.where, a.method, a.key)
		}
		filled := slices.DeleteFunc(placeholders(m), func(p string) bool { return !strings.HasPrefix(p, "{{") })
		if !a.open && !slices.Equal(filled, a.pairs) {
			t.Errorf("%s: %q is given %v, and asks for %v", a.where, a.key, a.pairs, filled)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(english)) {
		if !used[key] && !literals[key] {
			t.Errorf("nothing asks for %q", key)
		}
	}
}
