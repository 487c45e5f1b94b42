package app

import (
	"slices"
	"strings"
	"testing"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Heels that lift in a bridge: tight calves or tight hip flexors, or both (common practice, no source), equally likely. Of what the
// library has a teacher look for, the one chosen tells the two apart; the answers move them in opposite directions.
func TestTheCheckTellsTwoCausesApart(t *testing.T) {
	l, err := newLadders(starter(t))
	if err != nil {
		t.Fatal(err)
	}
	got, err := l.corrections("br-shoulders", heels(4, l.rungs["br-shoulders"]))
	if err != nil || len(got) == 0 || got[0].Try == nil {
		t.Fatalf("%+v, %v, want something to look for first", got, err)
	}
	try := got[0].Try
	if !strings.Contains(try.Look, "heels come off") && !strings.Contains(try.Look, "hip does not come forward") {
		t.Errorf("look for %q", try.Look)
	}
	calves, hips := "“Calves are tight”", "“Front of the hips is tight”"
	first := func(text string) string {
		if strings.Index(text, calves) < strings.Index(text, hips) {
			return calves
		}
		return hips
	}
	if !strings.Contains(try.Yes, calves) || !strings.Contains(try.No, hips) || first(try.Yes) == first(try.No) {
		t.Errorf("the answers mean %q and %q", try.Yes, try.No)
	}
	if got[len(got)-1].Try != nil && len(got) > 1 {
		t.Error("the check is said twice")
	}
}

// heels are turns at a rung that all show the fault "heels lift".
func heels(turns int, r studio.Rung) []postgres.SeenMark {
	marks := make([]postgres.SeenMark, turns)
	for i := range marks {
		marks[i] = postgres.SeenMark{Mark: studio.Mark{RungKey: r.Key, Faults: []string{"heels-lift"}}}
	}
	return marks
}

// Causes of the starter library lead to others only where such a cause is, and never in a circle; what to look for is a look, not a
// turn upside down.
func TestStarterCausesHangTogether(t *testing.T) {
	looks, leads := 0, 0
	for _, ladder := range starter(t).Ladders {
		for _, r := range ladder.Rungs {
			if wrong := append(r.Validate(), causeCircle(r)...); len(wrong) > 0 {
				t.Errorf("%s: %v", r.Key, wrong)
			}
			for _, c := range causesOf(r) {
				if c.LookFor != "" {
					looks++
				}
				leads += len(c.LeadsTo)
				for _, word := range []string{"handstand", "backwards and", "spot"} {
					if strings.Contains(strings.ToLower(c.LookFor), word) {
						t.Errorf("%s: %q asks for more than a look", r.Key, c.LookFor)
					}
				}
			}
		}
	}
	if looks < 100 || leads < 5 {
		t.Errorf("%d causes say how to tell them, %d lead to others", looks, leads)
	}
}

func TestCausesInACircleAreRefused(t *testing.T) {
	l, err := newLadders(starter(t))
	if err != nil {
		t.Fatal(err)
	}
	r := l.rungs["hs-return"]
	r.Faults = slices.Clone(r.Faults)
	r.Faults[0].Causes = slices.Clone(r.Faults[0].Causes)
	one, other := &r.Faults[0].Causes[0], &r.Faults[0].Causes[1]
	one.LeadsTo, other.LeadsTo = []string{other.Key}, []string{one.Key}
	if err := checkRung(l, "handstand", r); studio.CodeOf(err) != studio.Invalid || !strings.Contains(problemsIn(err), "circle") {
		t.Errorf("a circle: %v", err)
	}
	other.LeadsTo = nil
	if err := checkRung(l, "handstand", r); err != nil {
		t.Errorf("one leads to the other: %v", err)
	}
	one.LeadsTo = []string{"nowhere"}
	if err := checkRung(l, "handstand", r); !strings.Contains(problemsIn(err), "no cause nowhere") {
		t.Errorf("leads nowhere: %v", err)
	}
}

func problemsIn(err error) string {
	e, ok := err.(*studio.Error)
	if !ok {
		return ""
	}
	text := ""
	for _, f := range e.Fields {
		text += f.Field + ": " + f.Problem + "\n"
	}
	return text
}

// The root is said before what it brings about, even where that explains as much: arithmetic of the engine, see its own tests.
func TestTheRootIsSaidFirst(t *testing.T) {
	l := &ladders{settings: studio.DefaultSettings(), rungs: map[string]studio.Rung{"r": {Key: "r", Faults: []studio.Fault{
		{Key: "f", Name: "Falls", Causes: []studio.Cause{{Key: "effect", Name: "Effect", Strength: 0.7, Cue: "second"}}},
		{Key: "g", Name: "Gives", Causes: []studio.Cause{{Key: "root", Name: "Root", Strength: 0.6, Cue: "first", LeadsTo: []string{"effect"}}}},
	}}}}
	marks := []postgres.SeenMark{{Mark: studio.Mark{RungKey: "r", Faults: []string{"f", "g"}}}}
	got, err := l.corrections("r", marks)
	if err != nil || len(got) != 2 || got[0].Cue != "first" {
		t.Fatalf("%+v, %v", got, err)
	}
	l.settings.Cues = 1
	if got, err = l.corrections("r", marks); err != nil || len(got) != 1 || got[0].Cue != "first" {
		t.Errorf("with one correction at most: %+v, %v", got, err)
	}
}

// Worked by hand with the engine's defaults (prior 0.2, leak 0.05): causes a (strength 0.8) and b (0.4) of one fault seen.
// none .64*.05 = .032; a alone .16*(1-.95*.2) = .1296; b alone .16*(1-.95*.6) = .0688; both .04*(1-.95*.2*.6) = .03544; sum .26584.
// P(a) = .16504/.26584 = .6208; P(b) = .10424/.26584 = .3921. With b at 0.8 both are equal: none .032, each alone .1296, both
// .04*(1-.95*.04) = .03848; sum .32968; P = .16808/.32968 = .5098.
func TestTheExampleBesideTheNumbers(t *testing.T) {
	rung := studio.Rung{Key: "r", Name: "R"}
	fault := studio.Fault{Key: "f", Name: "F", Causes: []studio.Cause{{Key: "a", Name: "A", Cue: "say a", Strength: 0.8}, {Key: "b", Name: "B", Cue: "say b", Strength: 0.4}}}
	rung.Faults = []studio.Fault{fault}
	want := []CueShare{{"A", "about 62 in 100", "say a"}, {"B", "about 39 in 100", "say b"}}
	if got, ok := CueExample(rung, fault); !ok || !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	typed := fault
	typed.Causes = []studio.Cause{fault.Causes[0], {Key: "b", Name: "B", Cue: "say b", Strength: 0.8}}
	if got, _ := CueExample(rung, typed); len(got) != 2 || got[0].Chance != "about 51 in 100" || got[1].Chance != got[0].Chance {
		t.Errorf("%+v, want both at 51", got)
	}
	if rung.Faults[0].Causes[1].Strength != 0.4 {
		t.Error("looking changed the rung")
	}
}

// A cause that stands at two faults is one: what is said of it at one is said of it at the other, also after saving.
func TestACauseIsOneWhereverItStands(t *testing.T) {
	a, who := libraryStudio(t), studio.ProgramActor()
	save := func(f studio.Fault) string {
		t.Helper()
		key, err := a.SaveFault(t.Context(), who, "lo-one", "", f)
		if err != nil {
			t.Fatal(err)
		}
		return key
	}
	hurry := studio.Cause{Name: "Hurry", Cue: "Slow", Strength: 0.5, LookFor: "It is fast", LeadsTo: []string{"lazy"}}
	sways := save(studio.Fault{Name: "Sways", Causes: []studio.Cause{hurry}})
	save(studio.Fault{Name: "Drops", Causes: []studio.Cause{{Name: "Hurry", Cue: "Slowly", Strength: 0.4}}})
	everywhere := func(look string, prior float64, leads []string) {
		t.Helper()
		n := 0
		for _, f := range faultsOf(t, a) {
			for _, c := range f.Causes {
				if c.Key == "hurry" {
					n++
					if c.LookFor != look || c.Prior != prior || !slices.Equal(c.LeadsTo, leads) {
						t.Errorf("at %s it says %+v", f.Key, c)
					}
				}
			}
		}
		if n != 2 {
			t.Errorf("it stands at %d faults, want 2", n)
		}
	}
	everywhere("It is fast", 0, []string{"lazy"})
	hurry.Key, hurry.LookFor, hurry.Prior = "hurry", "Slower is better", 0.3
	save(studio.Fault{Key: sways, Name: "Sways", Causes: []studio.Cause{hurry}})
	everywhere("Slower is better", 0.3, []string{"lazy"})
	// What it leads to goes; so does the word of it.
	if err := a.RemoveFault(t.Context(), who, "lo-one", "bent"); err != nil {
		t.Fatal(err)
	}
	everywhere("Slower is better", 0.3, nil)
}

func faultsOf(t *testing.T, a *App) []studio.Fault {
	t.Helper()
	shelf, err := a.Library(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	r, _ := shelf.Rung("lo-one")
	return r.Faults
}
