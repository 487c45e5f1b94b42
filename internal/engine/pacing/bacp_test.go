package pacing

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// bacp are the instances of testdata with their optima, whose sources testdata/README.md names: bacp8, bacp10 and bacp12
// published with CSPLib problem 030, the others agreed by CBC and Gecode.
var bacp = []struct {
	name string
	peak int
}{
	{"bacp8", 17}, {"bacp10", 14}, {"bacp12", 17},
	{"bacp-1", 28}, {"bacp-2", 29}, {"bacp-3", 30}, {"bacp-4", 44}, {"bacp-5", 26}, {"bacp-6", 26}, {"bacp-7", 27}, {"bacp-8", 30},
	{"bacp-9", 38}, {"bacp-10", 26}, {"bacp-11", 30}, {"bacp-12", 30}, {"bacp-13", 31}, {"bacp-14", 27}, {"bacp-15", 29}, {"bacp-16", 25},
}

// readBACP reads an instance: periods become weeks, courses rungs, credits new material.
func readBACP(t testing.TB, name string) Problem {
	f, err := os.Open(filepath.Join("testdata", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p, at := Problem{}, map[string]int{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		word, rest, _ := strings.Cut(lines.Text(), " ")
		var a, b string
		var x int
		switch word {
		case "periods":
			fmt.Sscan(rest, &p.Weeks)
		case "load":
			fmt.Sscan(rest, &p.Limits.MinLoad.New, &p.Limits.MaxLoad.New)
		case "courses":
			fmt.Sscan(rest, &p.Limits.MinNew, &p.Limits.MaxNew)
		case "course":
			fmt.Sscan(rest, &a, &x)
			at[a] = len(p.Rungs)
			p.Rungs = append(p.Rungs, Rung{ID: a, Load: Load{New: x}})
		case "prereq":
			fmt.Sscan(rest, &a, &b)
			p.Rungs[at[b]].Needs = append(p.Rungs[at[b]].Needs, Need{ID: a})
		}
	}
	return p
}

func TestPublishedOptima(t *testing.T) {
	for _, c := range bacp {
		plan, err := Solve(context.Background(), readBACP(t, c.name), Options{Time: time.Minute})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if plan.Peak != c.peak || !plan.Optimal || plan.Bound != c.peak {
			t.Errorf("%s: peak %d, bound %d, want %d", c.name, plan.Peak, plan.Bound, c.peak)
		}
	}
}
