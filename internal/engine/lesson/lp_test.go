package lesson

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// lpModel is a linear model to minimise, in whole variables from 0 to their limit, as the CPLEX LP format writes it.
type lpModel struct {
	objective []lpTerm
	rows      []string
	binaries  []string
	generals  []string // 0 to limit
	limit     int
}

type lpTerm struct {
	factor float64
	name   string
}

func (m *lpModel) row(terms []lpTerm, sense string, right float64) {
	if len(terms) == 0 {
		terms = []lpTerm{{0, "nothing"}} // 0 against the right side: keeps a row that cannot hold
	}
	m.rows = append(m.rows, fmt.Sprintf(" c%d: %s %s %g", len(m.rows), lpSum(terms), sense, right))
}

func lpSum(terms []lpTerm) string {
	var b strings.Builder
	for i, t := range terms {
		fmt.Fprintf(&b, "%+.9f %s ", t.factor, t.name)
		if i%8 == 7 {
			b.WriteString("\n  ") // readers of the format limit the length of a line
		}
	}
	return b.String()
}

func (m *lpModel) write(t testing.TB, path string) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "Minimize\n obj: %s\nSubject To\n", lpSum(m.objective))
	for _, r := range m.rows {
		fmt.Fprintln(&b, r)
	}
	fmt.Fprint(&b, "Bounds\n 0 <= nothing <= 0\n")
	for _, name := range m.generals {
		fmt.Fprintf(&b, " 0 <= %s <= %d\n", name, m.limit)
	}
	fmt.Fprintln(&b, "Generals")
	for _, name := range m.generals {
		fmt.Fprintf(&b, " %s\n", name)
	}
	fmt.Fprintln(&b, "Binaries")
	for _, name := range m.binaries {
		fmt.Fprintf(&b, " %s\n", name)
	}
	fmt.Fprintln(&b, "End")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// lpTool is a general solver that is installed.
type lpTool struct {
	name  string
	solve func(t testing.TB, m *lpModel) (optimum float64, feasible bool)
}

// lpTools lists the general solvers that are here: GLPK and CBC, both packages of Debian.
func lpTools() []lpTool {
	var out []lpTool
	for _, tool := range []lpTool{{"glpsol", solveWithGLPK}, {"cbc", solveWithCBC}} {
		if _, err := exec.LookPath(tool.name); err == nil {
			out = append(out, tool)
		}
	}
	return out
}

func solveWithGLPK(t testing.TB, m *lpModel) (float64, bool) {
	dir := t.TempDir()
	in, answer := filepath.Join(dir, "in.lp"), filepath.Join(dir, "answer")
	m.write(t, in)
	said := runTool(t, "glpsol", "--lp", in, "--cuts", "-w", answer)
	if strings.Contains(said, "NO PRIMAL FEASIBLE") || strings.Contains(said, "NO INTEGER FEASIBLE") {
		return 0, false
	}
	// The line "s mip rows columns o objective" says that the optimum is proven (o) and what it is.
	f, err := os.Open(answer)
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var rows, columns int
		var state string
		var objective float64
		if n, _ := fmt.Sscanf(lines.Text(), "s mip %d %d %s %g", &rows, &columns, &state, &objective); n == 4 {
			return objective, state == "o"
		}
	}
	t.Fatalf("glpsol gave no answer:\n%s", said)
	return 0, false
}

func solveWithCBC(t testing.TB, m *lpModel) (float64, bool) {
	dir := t.TempDir()
	in, answer := filepath.Join(dir, "in.lp"), filepath.Join(dir, "answer")
	m.write(t, in)
	said := runTool(t, "cbc", in, "ratioGap", "0", "allowableGap", "0", "increment", "0.000001", "solve", "solution", answer)
	text, err := os.ReadFile(answer)
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	var objective float64
	first, _, _ := strings.Cut(string(text), "\n")
	if strings.HasPrefix(first, "Infeasible") || strings.HasPrefix(first, "Integer infeasible") {
		return 0, false
	}
	if n, _ := fmt.Sscanf(first, "Optimal - objective value %g", &objective); n != 1 {
		t.Fatalf("cbc proved no optimum: %s\n%s", first, said)
	}
	return objective, true
}

func runTool(t testing.TB, name string, args ...string) string {
	out, err := exec.CommandContext(context.Background(), name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// Worked by hand: with a and b of 0 or 1 and 2a + 2b <= 3, the most of 3a + 2b is 3; with a + b >= 3 there is nothing.
func TestToolsReadTheModel(t *testing.T) {
	tools := lpTools()
	if len(tools) == 0 {
		t.Skip("neither glpsol nor cbc is installed")
	}
	for _, tool := range tools {
		m := &lpModel{objective: []lpTerm{{-3, "a"}, {-2, "b"}}, binaries: []string{"a", "b"}, limit: 1}
		m.row([]lpTerm{{2, "a"}, {2, "b"}}, "<=", 3)
		if v, ok := tool.solve(t, m); !ok || math.Abs(v+3) > 1e-9 {
			t.Errorf("%s: %v %v, want -3", tool.name, v, ok)
		}
		m.row([]lpTerm{{1, "a"}, {1, "b"}}, ">=", 3)
		if v, ok := tool.solve(t, m); ok {
			t.Errorf("%s: %v where nothing is possible", tool.name, v)
		}
	}
}
