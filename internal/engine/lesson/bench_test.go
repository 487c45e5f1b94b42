package lesson

import (
	"context"
	"fmt"
	"testing"
)

// BenchmarkPropose reports the gap that is proven when Propose answers, on invented evenings of three sizes.
func BenchmarkPropose(b *testing.B) {
	for _, size := range [][3]int{{12, 3, 3}, {24, 5, 4}, {30, 6, 5}} {
		b.Run(fmt.Sprintf("%dx%dx%d", size[0], size[1], size[2]), func(b *testing.B) {
			gap, optimal := 0.0, 0
			for i := 0; b.Loop(); i++ {
				res, err := Propose(context.Background(), evening(uint64(i%10), size[0], size[1], size[2]))
				if err != nil {
					b.Fatal(err)
				}
				gap += res.Gap
				if res.Optimal {
					optimal++
				}
			}
			b.ReportMetric(100*gap/float64(b.N), "gap-%")
			b.ReportMetric(100*float64(optimal)/float64(b.N), "optimal-%")
		})
	}
}
