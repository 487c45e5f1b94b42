package studio

import "testing"

func TestRuleOfATerm(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*PacingRule)
		field  string // refused; "" when it holds
	}{
		"as it comes":             {func(*PacingRule) {}, ""},
		"never seen again":        {func(r *PacingRule) { r.After = nil }, ""},
		"worth nothing":           {func(r *PacingRule) { r.New = 0 }, "pacing-new"},
		"sooner than before":      {func(r *PacingRule) { r.After = []int{3, 3} }, "pacing-after-1"},
		"seen again too often":    {func(r *PacingRule) { r.After = []int{1, 2, 3, 4} }, "pacing-after-0"},
		"a term that is quiet":    {func(r *PacingRule) { r.Quiet = 9 }, "pacing-quiet"},
		"again after half a year": {func(r *PacingRule) { r.After = []int{26} }, "pacing-after-0"},
	} {
		rule := DefaultPacing()
		c.change(&rule)
		wrong := rule.problems()
		if c.field == "" && len(wrong) > 0 || c.field != "" && (len(wrong) != 1 || wrong[0].Field != c.field) {
			t.Errorf("%s: %v", name, wrong)
		}
	}
}
