package pacing

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"
)

// patience is how long another solver may take for one instance, in seconds.
const patience = 20

// BenchmarkAgainstGeneralSolvers solves every instance of testdata by Solve, by CBC and by Gecode, one after the other in
// one run; each time is the least of three runs, since other work on the machine only adds to it. Of the others only the
// time counts that they say they spent solving, not reading or flattening a model; of ours what it takes to prove the
// peak, with building the model, and not the evening out, which the others do not do. What was not proven within the patience counts as that long. A tool that is not
// installed is left out.
func BenchmarkAgainstGeneralSolvers(b *testing.B) {
	for _, c := range bacp {
		p := readBACP(b, c.name)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				b.ReportMetric(1e3*leastOfThree(func() float64 { return timeOurs(b, p, c.peak) }), "ours-ms")
				if _, err := exec.LookPath("cbc"); err == nil {
					b.ReportMetric(1e3*leastOfThree(func() float64 { return timeCBC(b, p) }), "cbc-ms")
				}
				if _, err := exec.LookPath("minizinc"); err == nil {
					b.ReportMetric(1e3*leastOfThree(func() float64 { return timeGecode(b, p) }), "gecode-ms")
				}
			}
		})
	}
}

func leastOfThree(run func() float64) float64 { return min(run(), run(), run()) }

func timeOurs(b *testing.B, p Problem, peak int) float64 {
	start := time.Now()
	s := &solver{ctx: b.Context(), p: p, m: newModel(p, keepAll)}
	s.raiseLow()
	if s.start() {
		s.prove()
	}
	took := time.Since(start)
	if s.low != peak || s.peak != peak {
		b.Fatal(s.low, s.peak)
	}
	return took.Seconds()
}

func timeCBC(b *testing.B, p Problem) float64 {
	in := filepath.Join(b.TempDir(), "in.lp")
	if err := os.WriteFile(in, []byte(linear(p)), 0o600); err != nil {
		b.Fatal(err)
	}
	said, err := exec.CommandContext(b.Context(), "cbc", in, "sec", fmt.Sprint(patience), "allowableGap", "0.9", "solve", "quit").CombinedOutput()
	if err != nil {
		b.Fatalf("cbc: %v\n%s", err, said)
	}
	return seconds(b, said, `Total time \(CPU seconds\):\s+([0-9.]+)`)
}

func timeGecode(b *testing.B, p Problem) float64 {
	in := filepath.Join(b.TempDir(), "in.mzn")
	if err := os.WriteFile(in, []byte(constraints(p)), 0o600); err != nil {
		b.Fatal(err)
	}
	said, err := exec.CommandContext(b.Context(), "minizinc", "--solver", "gecode", "-s", "--time-limit", fmt.Sprint(1000*patience), in).CombinedOutput()
	if err != nil {
		b.Fatalf("minizinc: %v\n%s", err, said)
	}
	if !bytes.Contains(said, []byte("==========")) {
		return patience
	}
	return seconds(b, said, `solveTime=([0-9.e-]+)`)
}

func seconds(b *testing.B, said []byte, pattern string) float64 {
	found := regexp.MustCompile(pattern).FindSubmatch(said)
	if found == nil {
		b.Fatalf("no time in:\n%s", said)
	}
	v, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		b.Fatal(err)
	}
	return math.Min(v, patience)
}

// constraints writes a problem without extras in the MiniZinc language: a period for every course, bin packing for the
// loads, counting for the numbers, and a search by the fewest periods left.
func constraints(p Problem) string {
	var m bytes.Buffer
	at, loads, total := map[string]int{}, []int{}, 0
	for i, r := range p.Rungs {
		at[r.ID] = i + 1
		loads, total = append(loads, r.Load.New), total+r.Load.New
	}
	fmt.Fprintf(&m, "include \"bin_packing_load.mzn\";\ninclude \"global_cardinality_low_up.mzn\";\narray[1..%d] of var 1..%d: week;\n", len(p.Rungs), p.Weeks)
	fmt.Fprintf(&m, "array[1..%d] of int: weigh = [", len(loads))
	for _, v := range loads {
		fmt.Fprintf(&m, "%d,", v)
	}
	fmt.Fprintf(&m, "];\narray[1..%d] of var %d..%d: load;\n", p.Weeks, p.Limits.MinLoad.New, p.Limits.MaxLoad.New)
	fmt.Fprintf(&m, "var %d..%d: peak = max(load);\n", (total+p.Weeks-1)/p.Weeks, p.Limits.MaxLoad.New)
	fmt.Fprintln(&m, "constraint bin_packing_load(load, week, weigh);")
	fmt.Fprintf(&m, "constraint sum(load) = %d;\n", total)
	fmt.Fprintf(&m, "constraint global_cardinality_low_up(week, [w | w in 1..%d], [%d | w in 1..%d], [%d | w in 1..%d]);\n",
		p.Weeks, p.Limits.MinNew, p.Weeks, p.Limits.MaxNew, p.Weeks)
	for _, r := range p.Rungs {
		for _, n := range r.Needs {
			fmt.Fprintf(&m, "constraint week[%d] < week[%d];\n", at[n.ID], at[r.ID])
		}
	}
	fmt.Fprintln(&m, "solve :: int_search(week, first_fail, indomain_min) minimize peak;")
	return m.String()
}
