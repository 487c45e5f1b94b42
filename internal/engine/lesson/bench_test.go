package lesson

import (
	"context"
	"fmt"
	"os/exec"
	"testing"
	"time"
)

// BenchmarkPropose reports the gap that is proven when Propose answers and how often it is none, on ten invented evenings
// of each of three sizes, with the time to search that each size is meant to need.
func BenchmarkPropose(b *testing.B) {
	for _, size := range []struct {
		children, stations, rotations int
		budget                        time.Duration
	}{{12, 3, 3, DefaultBudget}, {24, 5, 4, time.Second}, {30, 6, 5, DefaultBudget}, {30, 6, 5, 2 * time.Second}} {
		b.Run(fmt.Sprintf("%dx%dx%d in %v", size.children, size.stations, size.rotations, size.budget), func(b *testing.B) {
			gap, worst, optimal := 0.0, 0.0, 0
			for i := 0; b.Loop(); i++ {
				in := evening(uint64(i%10), size.children, size.stations, size.rotations)
				in.Budget = size.budget
				res, err := Propose(context.Background(), in)
				if err != nil {
					b.Fatal(err)
				}
				gap, worst = gap+res.Gap, max(worst, res.Gap)
				optimal += one(res.Optimal)
			}
			b.ReportMetric(100*gap/float64(b.N), "gap-%")
			b.ReportMetric(100*worst, "worst-gap-%")
			b.ReportMetric(100*float64(optimal)/float64(b.N), "optimal-%")
		})
	}
}

// BenchmarkGrowth reports how time grows with children, stations (with rotations) and staff, from 12x3x3; the clock is out of the way.
func BenchmarkGrowth(b *testing.B) {
	for _, size := range []struct{ children, stations, rotations, more int }{
		{9, 3, 3, 0}, {12, 3, 3, 0}, {15, 3, 3, 0}, {18, 3, 3, 0}, // children
		{12, 2, 2, 0}, {12, 4, 3, 0}, {12, 4, 4, 0}, // stations and rotations
		{12, 3, 3, 1}, {12, 3, 3, 2}, {12, 3, 3, 4}, // staff
	} {
		b.Run(fmt.Sprintf("%dx%dx%d staff +%d", size.children, size.stations, size.rotations, size.more), func(b *testing.B) {
			optimal := 0
			for i := 0; b.Loop(); i++ {
				in := evening(uint64(i%10), size.children, size.stations, size.rotations)
				in.Budget = 5 * time.Second
				for n := range size.more {
					helper := in.Staff[n%len(in.Staff)]
					helper.ID = fmt.Sprintf("more %d", n)
					in.Staff = append(in.Staff, helper)
				}
				res, err := Propose(context.Background(), in)
				if err != nil {
					b.Fatal(err)
				}
				optimal += one(res.Optimal)
			}
			b.ReportMetric(100*float64(optimal)/float64(b.N), "optimal-%")
		})
	}
}

// BenchmarkAgainstCBC solves the same small lessons by Propose and by CBC, one after the other in one run. CBC's time is
// that of the whole process: it reads the model from a file as well; writing the model is not counted.
func BenchmarkAgainstCBC(b *testing.B) {
	if _, err := exec.LookPath("cbc"); err != nil {
		b.Skip("cbc is not installed")
	}
	for _, size := range [][4]int{{6, 2, 2, 3}, {6, 3, 2, 2}, {8, 2, 2, 2}, {9, 3, 3, 2}} {
		b.Run(fmt.Sprintf("%dx%dx%d", size[0], size[1], size[2]), func(b *testing.B) {
			var ours, theirs time.Duration
			optimal, count := 0, 0
			for seed := uint64(0); b.Loop(); seed++ {
				in := fair(seed%10+uint64(100*size[0]), size[0], size[1], size[2], size[3])
				start := time.Now()
				res, err := Propose(context.Background(), in)
				if err != nil {
					continue // no plan: nothing to compare
				}
				ours += time.Since(start)
				m := newMILP(in)
				start = time.Now()
				if _, ok := solveWithCBC(b, &m.model); !ok {
					b.Fatalf("seed %d: cbc finds no plan", in.Seed)
				}
				theirs += time.Since(start)
				optimal, count = optimal+one(res.Optimal), count+1
			}
			if count > 0 {
				b.ReportMetric(float64(ours.Milliseconds())/float64(count), "propose-ms")
				b.ReportMetric(float64(theirs.Milliseconds())/float64(count), "cbc-ms")
				b.ReportMetric(float64(theirs)/float64(ours), "times-faster")
				b.ReportMetric(100*float64(optimal)/float64(count), "optimal-%")
			}
		})
	}
}
