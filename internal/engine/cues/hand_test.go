package cues

import (
	"errors"
	"math"
	"reflect"
	"testing"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s is %.7f, want %.7f", what, got, want)
	}
}

func mustRead(t interface {
	Helper()
	Fatal(...any)
}, in Input, s Settings) *Reading {
	t.Helper()
	r, err := Read(in, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func (r *Reading) of(id string) *cause {
	for i := range r.causes {
		if r.causes[i].id == id {
			return &r.causes[i]
		}
	}
	return nil
}

// two causes of one fault, and a second fault that only the first shows as.
func two(second Fault) Input {
	second.ID = "g"
	return Input{
		Faults: []Fault{{ID: "f", Seen: 1, Turns: 1}, second},
		Causes: []Cause{{ID: "a", Prior: 0.1}, {ID: "b", Prior: 0.2}},
		Links: []Link{{Fault: "f", Cause: "a", Strength: 0.8}, {Fault: "f", Cause: "b", Strength: 0.5},
			{Fault: "g", Cause: "a", Strength: 0.5}},
	}
}

func withLeak(leak float64) Settings {
	s := Defaults()
	s.Leak = leak
	return s
}

// The rule: P(fault | causes) = 1 - (1-leak) * product of (1-strength) over the causes that are there. Source: Pearl 1988,
// Probabilistic Reasoning in Intelligent Systems, section 4.3 (noisy-OR), from memory; the numbers are worked by hand.
func TestPosteriorByHand(t *testing.T) {
	// No leak. a alone .1*.8 * .8 = .064; b alone .9*.2 * .5 = .09; both .1*.2 * (1-.2*.5) = .018; none 0. Sum .172.
	// P(a) = (.064+.018)/.172 = .4767442; P(b) = (.09+.018)/.172 = .6279070.
	r := mustRead(t, two(Fault{}), withLeak(0))
	near(t, "a", r.of("a").posterior, 0.4767442)
	near(t, "b", r.of("b").posterior, 0.6279070)
	// a shows as f in all of "a alone" and in .8 of "both" before dividing: (.064 + .02*.8)/.172 = .4651163. b: (.09 +
	// .02*.5)/.172 = .5813953. Together they explain all, there being no leak.
	near(t, "explained by a", r.of("a").solo, 0.4651163)
	near(t, "explained by b", r.of("b").solo, 0.5813953)
	near(t, "explained by both", r.Choose().Explained, 1)

	// Leak .1. none .9*.8 * .1 = .072; a alone .08 * (1-.9*.2) = .0656; b alone .18 * (1-.9*.5) = .099; both .02 *
	// (1-.9*.1) = .0182. Sum .2548. P(a) = .0838/.2548 = .3288854; P(b) = .1172/.2548 = .4599686.
	r = mustRead(t, two(Fault{}), withLeak(0.1))
	near(t, "a with leak", r.of("a").posterior, 0.3288854)
	near(t, "b with leak", r.of("b").posterior, 0.4599686)

	// g looked for three times, never seen: halves "a alone" and "both". .032 + .09 + .009 = .131.
	// P(a) = .041/.131 = .3129771; P(b) = .099/.131 = .7557252. The leak counts alike everywhere and cancels.
	r = mustRead(t, two(Fault{Turns: 3}), withLeak(0))
	near(t, "a without g", r.of("a").posterior, 0.3129771)
	near(t, "b without g", r.of("b").posterior, 0.7557252)

	// Two turns are too few by the setting: as if nobody looked.
	r = mustRead(t, two(Fault{Turns: 2}), withLeak(0))
	near(t, "a, two turns", r.of("a").posterior, 0.4767442)

	// g seen, leak 0: a must be there. .08*.8*.5 = .032; both .02*.9*.5 = .009. P(b) = .009/.041 = .2195122, near its prior
	// again: the first cause explains the second away.
	r = mustRead(t, two(Fault{Seen: 1, Turns: 2}), withLeak(0))
	near(t, "a with g", r.of("a").posterior, 1)
	near(t, "b explained away", r.of("b").posterior, 0.2195122)
}

// Priors .5, strengths 1, no leak: "only a", "only b", "both" are 1/3 each. The observation is seen with 3/4 from a and 1/4
// from b alone. Given just one, the question is worth 1 bit; seen (half of the time) it stands 3 to 1, and not seen 1 to 3,
// so .811278 bits are left: the drop is 2/3 * .188722 = .1258147.
// Seen in all: (3/4 + 1/4 + (1 - 1/4*3/4))/3 = 29/48. P(a | seen) = (12+13)/29; P(a | not seen) = (4+3)/(4+12+3).
func TestCheckByHand(t *testing.T) {
	in := Input{Faults: []Fault{{ID: "f", Seen: 2, Turns: 2}},
		Causes: []Cause{{ID: "a", Prior: 0.5}, {ID: "b", Prior: 0.5}},
		Links: []Link{{Fault: "f", Cause: "a", Strength: 1, Name: "Shoulders sink"},
			{Fault: "f", Cause: "b", Strength: 1, Name: "Ribs open"}}}
	r := mustRead(t, in, withLeak(0))
	alike := Observation{ID: "alike", Chances: []Chance{{"a", 0.9}, {"b", 0.9}}}
	apart := Observation{ID: "apart", Name: "Arms bend when held up lying down", Chances: []Chance{{"a", 0.75}, {"b", 0.25}}}
	c, ok, err := r.Check([]Observation{alike, apart})
	if err != nil || !ok || c.Observation != "apart" {
		t.Fatal(c, ok, err)
	}
	near(t, "bits", c.Bits, 0.1258147)
	near(t, "seen", c.Seen, 29./48)
	near(t, "a seen", c.First.Seen, 25./29)
	near(t, "a not seen", c.First.NotSeen, 7./19)
	near(t, "b seen", c.Second.Seen, 17./29)
	near(t, "b not seen", c.Second.NotSeen, 15./19)
	want := "Check next: Arms bend when held up lying down. It best tells two causes apart: shoulders sink (now about 67 in 100; " +
		"if seen, about 86 in 100; if not, about 37 in 100); or ribs open (now about 67 in 100; if seen, about 59 in 100; if " +
		"not, about 79 in 100)."
	if c.Reason != want {
		t.Error(c.Reason)
	}
	// An observation that settles it leaves no entropy: 2/3 of a bit. One that is alike from both says nothing of which.
	sure := Observation{ID: "sure", Chances: []Chance{{"a", 1}}}
	if c, _, _ = r.Check([]Observation{apart, sure, alike}); c.Observation != "sure" {
		t.Error(c.Observation)
	}
	near(t, "bits when sure", c.Bits, 2./3)
	if _, ok, _ = r.Check([]Observation{alike, {ID: "f", Chances: sure.Chances}}); ok {
		t.Error("a check was given that tells nothing, or a fault that is known already")
	}
}

func TestInputErrors(t *testing.T) {
	for field, spoil := range map[string]func(*Input, *Settings){
		"Settings.Most":         func(_ *Input, s *Settings) { s.Most = 5 },
		"Settings.Leak":         func(_ *Input, s *Settings) { s.Leak = math.NaN() },
		"Settings.Prior":        func(_ *Input, s *Settings) { s.Prior = 1 },
		"Settings.Least":        func(_ *Input, s *Settings) { s.Least = -1 },
		"Settings.Likely":       func(_ *Input, s *Settings) { s.Likely = 2 },
		"Settings.SafetyWeight": func(_ *Input, s *Settings) { s.SafetyWeight = 0 },
		"Settings.AbsentAfter":  func(_ *Input, s *Settings) { s.AbsentAfter = 0 },
		"Faults[1].ID":          func(in *Input, _ *Settings) { in.Faults[1].ID = "f" },
		"Faults[0].Seen":        func(in *Input, _ *Settings) { in.Faults[0].Seen = 2 },
		"Faults[0].Turns":       func(in *Input, _ *Settings) { in.Faults[0].Turns = -1 },
		"Causes[0].ID":          func(in *Input, _ *Settings) { in.Causes[0].ID = "" },
		"Causes[1].Prior":       func(in *Input, _ *Settings) { in.Causes[1].Prior = 1.5 },
		"Causes[0].Before": func(in *Input, _ *Settings) {
			in.Causes[0].Before, in.Causes[1].Before = []string{"b"}, []string{"a"}
		},
		"Links[0].Fault":    func(in *Input, _ *Settings) { in.Links[0].Fault = "x" },
		"Links[2].Cause":    func(in *Input, _ *Settings) { in.Links[2].Cause = "x" },
		"Links[1]":          func(in *Input, _ *Settings) { in.Links[1] = in.Links[0] },
		"Links[1].Strength": func(in *Input, _ *Settings) { in.Links[1].Strength = 1.2 },
		"Causes": func(in *Input, _ *Settings) {
			for i := range MaxLinked {
				id := string(rune('A' + i))
				in.Causes = append(in.Causes, Cause{ID: id})
				in.Links = append(in.Links, Link{Fault: "f", Cause: id, Strength: 0.5})
			}
		},
	} {
		in, s := two(Fault{}), Defaults()
		spoil(&in, &s)
		_, err := Read(in, s)
		var bad *InputError
		if !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("%s: got %v", field, err)
		}
	}
	r := mustRead(t, two(Fault{}), Defaults())
	_, _, err := r.Check([]Observation{{ID: "o", Chances: []Chance{{"a", 0.5}, {"b", 7}}}})
	if want := "cues: Observations[0].Chances[1].Chance is 7, want 0 to 1"; err == nil || err.Error() != want {
		t.Error(err)
	}
}

func TestWhatCouldNotHappen(t *testing.T) {
	in := Input{Faults: []Fault{{ID: "f", Seen: 1, Turns: 1}}, Causes: []Cause{{ID: "a"}}}
	var bad *InputError
	if _, err := Read(in, withLeak(0)); !errors.As(err, &bad) || bad.Field != "Settings.Leak" {
		t.Error(err)
	}
	got := mustRead(t, in, Defaults()).Choose()
	if want := (Choice{Trouble: 1}); !reflect.DeepEqual(got, want) {
		t.Errorf("a fault without causes gives %+v", got)
	}
	if got := mustRead(t, Input{}, Defaults()).Choose(); !reflect.DeepEqual(got, Choice{}) {
		t.Errorf("nothing seen gives %+v", got)
	}
}
