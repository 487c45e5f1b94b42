package lesson

import (
	"context"
	"testing"
)

func TestProposeKeepsEveryRule(t *testing.T) {
	for _, size := range [][3]int{{6, 2, 2}, {12, 3, 3}, {24, 5, 4}, {30, 6, 5}} {
		in := evening(3, size[0], size[1], size[2])
		res, err := Propose(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range Check(in, res.Plan) {
			t.Errorf("%v: %s: %s", size, b.Rule, b.Sentence)
		}
		t.Logf("%v worth %.2f bound %.2f gap %.2f%% short %d optimal %v complete %v", size, res.Plan.Worth, res.Bound, 100*res.Gap, res.Plan.Short, res.Optimal, res.Complete)
	}
}
