package studio

import (
	"slices"
	"strings"
	"testing"
)

func TestUnknownPosesAreRefused(t *testing.T) {
	problem := func(poses ...string) string {
		e := Error{Fields: Rung{Key: "r", Name: "R", TurnSeconds: 20, Spotting: Spotting{Manner: NoSpotting}, Home: HomeSafety{Reason: "No."}, Figure: poses}.Validate()}
		drill := Error{Fields: Drill{Key: "d", Name: "D", Kind: WarmUp, Steps: []string{"Go."}, TurnSeconds: 20, Spotting: Spotting{Manner: NoSpotting},
			Dose: Dose{Sets: 1, Repeats: 1}, Home: HomeSafety{Reason: "No."}, Figure: poses}.Validate()}
		if e.Problem("figure") != drill.Problem("figure") {
			t.Errorf("%v: a rung says %q, a drill %q", poses, e.Problem("figure"), drill.Problem("figure"))
		}
		return e.Problem("figure")
	}
	if got := problem(); got != "" {
		t.Errorf("no figure is refused: %s", got)
	}
	if got := problem("tall-lunge", "handstand", "tall-lunge-turned"); got != "" {
		t.Errorf("known poses are refused: %s", got)
	}
	if got := problem("handstand", "floating-carpet"); !strings.Contains(got, "floating-carpet") {
		t.Errorf("an unknown pose says %q", got)
	}
	if got := problem(slices.Repeat([]string{"handstand"}, 5)...); !strings.Contains(got, "at most 4") {
		t.Errorf("five poses say %q", got)
	}
}
