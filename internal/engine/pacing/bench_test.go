package pacing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"
)

// BenchmarkSolve solves every instance of testdata to a proven optimum.
func BenchmarkSolve(b *testing.B) {
	for _, c := range bacp {
		p := readBACP(b, c.name)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Solve(context.Background(), p, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkUnseen reports the median and the longest time over 100 invented problems of each kind, how often the
// optimum was proven or shown to be out of reach, and the widest gap.
func BenchmarkUnseen(b *testing.B) {
	for _, kind := range []struct {
		name string
		draw func(seed uint64) Problem
	}{
		{"50 courses, 10 periods", func(s uint64) Problem { return courses(s, 10, 50) }},
		{"66 courses, 12 periods", func(s uint64) Problem { return courses(s, 12, 66) }},
		{"16 rungs, 10 weeks, extras", func(s uint64) Problem { return term(s, 10, 16) }},
		{"24 rungs, 12 weeks, extras", func(s uint64) Problem { return term(s, 12, 24) }},
		{"36 rungs, 14 weeks, extras", func(s uint64) Problem { return term(s, 14, 36) }},
		{"90 rungs, 14 weeks, extras", func(s uint64) Problem { return term(s, 14, 90) }},
		{"24 rungs in ladders, 12 weeks", func(s uint64) Problem { return ladderTerm(s, 12, 24) }},
		{"60 rungs in ladders, 12 weeks", func(s uint64) Problem { return ladderTerm(s, 12, 60) }},
		{"90 rungs in ladders, 14 weeks", func(s uint64) Problem { return ladderTerm(s, 14, 90) }},
	} {
		b.Run(kind.name, func(b *testing.B) {
			var took []time.Duration
			proven, gap := 0, 0.0
			for b.Loop() {
				for seed := range uint64(100) {
					p := kind.draw(1000 + seed)
					start := time.Now()
					plan, err := Solve(context.Background(), p, Options{})
					took = append(took, time.Since(start))
					var no *Infeasible
					if err == nil && plan.Optimal || errors.As(err, &no) {
						proven++
					}
					gap = max(gap, plan.Gap)
				}
			}
			slices.Sort(took)
			b.ReportMetric(took[len(took)/2].Seconds()*1e3, "median-ms")
			b.ReportMetric(took[len(took)-1].Seconds()*1e3, "worst-ms")
			b.ReportMetric(100*float64(proven)/float64(len(took)), "proven-%")
			b.ReportMetric(100*gap, "widest-gap-%")
		})
	}
}

func ExampleSolve() {
	p := Problem{Weeks: 4, Holidays: []int{2}, Rungs: []Rung{
		{ID: "a", Load: Load{New: 2}},
		{ID: "b", Load: Load{New: 3}, Needs: []Need{{ID: "a"}}},
		{ID: "c", Load: Load{New: 1}, Needs: []Need{{ID: "b"}}},
	}}
	plan, err := Solve(context.Background(), p, Options{})
	fmt.Println(plan.Rungs, plan.Peak, plan.Optimal, err)
	// Output: [{a 1 []} {b 3 []} {c 4 []}] 3 true <nil>
}
