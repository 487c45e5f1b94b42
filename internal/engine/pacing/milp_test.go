package pacing

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// linear writes a problem as a whole-number linear model in the CPLEX LP format: a variable x<rung>_<week> of 0 or 1 for
// every week that is still to come, and the peak, to be least. It shares no code with the solver.
func linear(p Problem) string {
	m := &lpWriter{}
	index := map[string]int{}
	for i, r := range p.Rungs {
		index[r.ID] = i
	}
	for i, r := range p.Rungs {
		m.places(p, i, r)
		for _, n := range r.Needs {
			m.need(p, i, index[n.ID], max(1, n.Lag))
		}
	}
	for w := p.Done + 1; w <= p.Weeks; w++ {
		m.week(p, w)
	}
	return fmt.Sprintf("Minimize\n obj: peak\nSubject To\n%sBounds\n peak >= 0\nGenerals\n peak\nBinaries\n%sEnd\n", &m.rows, &m.binaries)
}

type lpWriter struct{ rows, binaries bytes.Buffer }

func (m *lpWriter) row(sum []string, sense string, right int) {
	if len(sum) == 0 {
		sum = []string{"+ 0 peak"} // keeps a row that cannot hold
	}
	fmt.Fprintf(&m.rows, " %s %s %d\n", strings.Join(sum, "\n  "), sense, right)
}

func name(i, w int) string { return fmt.Sprintf("x%d_%d", i, w) }

func lacksLesson(p Problem, w int) bool {
	for _, h := range p.Holidays {
		if h == w {
			return true
		}
	}
	return false
}

// dueWeeks are the weeks in which a rung is seen again, written anew.
func dueWeeks(p Problem, w int, again []int) map[int]bool {
	out := map[int]bool{}
	for _, a := range again {
		v := w + a
		for lacksLesson(p, v) {
			v++
		}
		if v <= p.Weeks {
			out[v] = true
		}
	}
	return out
}

func (m *lpWriter) places(p Problem, i int, r Rung) {
	if r.Taught > 0 {
		return
	}
	show := false
	for _, id := range p.Showcase.Rungs {
		show = show || p.Showcase.Week > 0 && id == r.ID
	}
	var sum []string
	for w := p.Done + 1; w <= p.Weeks; w++ {
		due, by := dueWeeks(p, w, r.Again), 0
		for v := range due {
			if v <= p.Showcase.Week {
				by++
			}
		}
		sum = append(sum, "+ "+name(i, w))
		fmt.Fprintf(&m.binaries, " %s\n", name(i, w))
		if lacksLesson(p, w) || r.Pin > 0 && w != r.Pin || w < r.Earliest || r.Latest > 0 && w > r.Latest ||
			len(due) < min(p.Limits.Revisits, len(r.Again)) || show && (w > p.Showcase.Week || by < min(p.Showcase.Revisits, len(r.Again))) {
			m.row([]string{"+ " + name(i, w)}, "=", 0)
		}
	}
	m.row(sum, "=", 1)
}

// need says for every week: if a rung is in by then, what it needs is in by lag weeks before.
func (m *lpWriter) need(p Problem, i, j, lag int) {
	if p.Rungs[i].Taught > 0 {
		return
	}
	for w := p.Done + 1; w <= p.Weeks; w++ {
		var sum []string
		for v := p.Done + 1; v <= w; v++ {
			sum = append(sum, "+ "+name(i, v))
		}
		right := 0
		if t := p.Rungs[j].Taught; t > 0 && t <= w-lag {
			right = 1
		} else if t == 0 {
			for v := p.Done + 1; v <= w-lag; v++ {
				sum = append(sum, "- "+name(j, v))
			}
		}
		m.row(sum, "<=", right)
	}
}

func (m *lpWriter) week(p Problem, w int) {
	if lacksLesson(p, w) {
		return
	}
	var number []string
	var loads [3][]string
	var there [3]int
	for i, r := range p.Rungs {
		fresh, again := r.Load.kinds(), r.AgainLoad.kinds()
		if r.Taught > 0 {
			if dueWeeks(p, r.Taught, r.Again)[w] {
				for k := range there {
					there[k] += again[k]
				}
			}
			continue
		}
		number = append(number, "+ "+name(i, w))
		for k := range loads {
			loads[k] = append(loads[k], fmt.Sprintf("+ %d %s", fresh[k], name(i, w)))
			for v := p.Done + 1; v < w; v++ {
				if dueWeeks(p, v, r.Again)[w] {
					loads[k] = append(loads[k], fmt.Sprintf("+ %d %s", again[k], name(i, v)))
				}
			}
		}
	}
	quiet := false
	for _, q := range p.Quiet {
		quiet = quiet || q == w
	}
	if quiet {
		m.row(number, "=", 0)
	} else {
		m.row(number, ">=", p.Limits.MinNew)
		if p.Limits.MaxNew > 0 {
			m.row(number, "<=", p.Limits.MaxNew)
		}
	}
	weights := p.Weights.kinds()
	if p.Weights == (Load{}) {
		weights = [3]int{1, 1, 1}
	}
	for k := range loads {
		if v := p.Limits.MinLoad.kinds()[k]; v > 0 {
			m.row(loads[k], ">=", v-there[k])
		}
		if v := p.Limits.MaxLoad.kinds()[k]; v > 0 {
			m.row(loads[k], "<=", v-there[k])
		}
		if weights[k] == 0 {
			continue
		}
		sum := []string{fmt.Sprintf("- %g peak", 1.0)}
		for i, r := range p.Rungs {
			if r.Taught > 0 {
				continue
			}
			fresh, again := r.Load.kinds(), r.AgainLoad.kinds()
			for v := p.Done + 1; v <= w; v++ {
				c := 0
				if v == w {
					c = fresh[k]
				} else if dueWeeks(p, v, r.Again)[w] {
					c = again[k]
				}
				if c > 0 {
					sum = append(sum, fmt.Sprintf("+ %d %s", weights[k]*c, name(i, v)))
				}
			}
		}
		m.row(sum, "<=", -weights[k]*there[k])
	}
}

// solveWith has a general solver find the optimum: GLPK or CBC, both packages of Debian.
func solveWith(t testing.TB, tool, model string) (peak int, feasible bool) {
	in, out := filepath.Join(t.TempDir(), "in.lp"), filepath.Join(t.TempDir(), "out")
	if err := os.WriteFile(in, []byte(model), 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{in, "ratioGap", "0", "allowableGap", "0.9", "solve", "solution", out}
	if tool == "glpsol" {
		args = []string{"--lp", in, "--cuts", "-w", out}
	}
	said, err := exec.CommandContext(context.Background(), tool, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, said)
	}
	text, err := os.ReadFile(out)
	if err != nil && !strings.Contains(string(said), "NO PRIMAL FEASIBLE") {
		t.Fatalf("%s: %v\n%s", tool, err, said)
	}
	return readAnswer(string(text))
}

// readAnswer reads "Optimal - objective value 17.0" of CBC or the line "s mip rows columns o 17" of GLPK.
func readAnswer(text string) (peak int, feasible bool) {
	for line := range strings.Lines(text) {
		var rows, columns int
		var state string
		var v float64
		if n, _ := fmt.Sscanf(line, "Optimal - objective value %g", &v); n == 1 {
			return int(v + 0.5), true
		}
		if n, _ := fmt.Sscanf(line, "s mip %d %d %s %g", &rows, &columns, &state, &v); n == 4 {
			return int(v + 0.5), state == "o"
		}
	}
	return 0, false
}

// Invented terms with every extra against general solvers.
func TestPeakAgainstGeneralSolvers(t *testing.T) {
	for _, tool := range []string{"glpsol", "cbc"} {
		t.Run(tool, func(t *testing.T) {
			if _, err := exec.LookPath(tool); err != nil {
				t.Skip(tool + " is not installed")
			}
			plans, impossible := 0, 0
			for seed := range uint64(24) {
				p := term(500+seed, 6+int(seed%3), 8+int(seed%4))
				want, feasible := solveWith(t, tool, linear(p))
				plan, err := Solve(context.Background(), p, Options{Time: time.Minute})
				var no *Infeasible
				switch {
				case !feasible:
					impossible++
					if !errors.As(err, &no) {
						t.Errorf("seed %d: %v, and there is no plan", seed, err)
					}
				case err != nil || plan.Peak != want || !plan.Optimal:
					t.Errorf("seed %d: peak %d, bound %d, %v; want %d", seed, plan.Peak, plan.Bound, err, want)
				default:
					plans++
				}
			}
			if plans < 5 || impossible < 2 {
				t.Errorf("%d terms with a plan and %d without: the sample is lopsided", plans, impossible)
			}
		})
	}
}
