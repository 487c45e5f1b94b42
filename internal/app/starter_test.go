package app

import (
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rungbook/db"
	"rungbook/internal/studio"
)

func starter(t *testing.T) studio.Library {
	t.Helper()
	dir, err := fs.Sub(db.Library, "library")
	if err != nil {
		t.Fatal(err)
	}
	library, err := ReadLibrary(dir)
	if err != nil {
		t.Fatal(err)
	}
	return library
}

func starterRung(t *testing.T, l studio.Library, key string) studio.RungPlace {
	t.Helper()
	r, ok := l.Rung(key)
	if !ok {
		t.Fatalf("no rung %s", key)
	}
	return r
}

func TestStarterLibraryIsBigEnough(t *testing.T) {
	library := starter(t)
	rungs, faults := 0, 0
	for _, l := range library.Ladders {
		rungs += len(l.Rungs)
		for _, r := range l.Rungs {
			faults += len(r.Faults)
		}
	}
	kinds := map[studio.DrillKind]int{}
	home := 0
	for _, d := range library.Drills {
		kinds[d.Kind]++
		if d.Home.Safe {
			home++
		}
	}
	t.Logf("%d ladders, %d rungs, %d drills (%d safe at home), %d faults", len(library.Ladders), rungs, len(library.Drills), home, faults)
	if len(library.Ladders) < 14 || rungs < 90 || len(library.Drills) < 100 || faults < 150 {
		t.Errorf("too small: %d ladders, %d rungs, %d drills, %d faults", len(library.Ladders), rungs, len(library.Drills), faults)
	}
	if kinds[studio.WarmUp] < 10 || kinds[studio.Conditioning] < 15 || kinds[studio.CoolDown] < 10 || home < 45 {
		t.Errorf("too few of a kind: %v, %d safe at home", kinds, home)
	}
}

func TestStarterLibraryIsWhole(t *testing.T) {
	library := starter(t)
	for _, wrong := range slices.Concat(library.Validate(), strangers(library)) {
		t.Errorf("%s: %s", wrong.Field, wrong.Problem)
	}
	if _, err := newLadders(library); err != nil {
		t.Errorf("prerequisites: %v", err)
	}
	equipment := []string{"panel-mat", "landing-mat", "wedge", "block", "barrel", "bench", "wall", "line"}
	known := func(where string, needs []studio.EquipmentNeed) {
		for _, n := range needs {
			if !slices.Contains(equipment, n.Key) {
				t.Errorf("%s needs unknown equipment %s", where, n.Key)
			}
		}
	}
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			known(r.Key, r.Equipment)
			if len(r.Look) < 3 || len(r.Look) > 5 || r.Start == "" || r.Finish == "" || r.Home.Reason == "" || len(r.Faults) == 0 {
				t.Errorf("%s has %d look-for points, %d faults, start %q, finish %q, reason %q", r.Key, len(r.Look), len(r.Faults), r.Start, r.Finish, r.Home.Reason)
			}
			if r.Spotting.People > 0 && (r.Spotting.How == "" || r.Spotting.Until == "") {
				t.Errorf("%s is spotted and does not say how or until when", r.Key)
			}
			for _, f := range r.Faults {
				if len(f.Causes) == 0 {
					t.Errorf("%s: fault %s has no cause", r.Key, f.Key)
				}
				for _, c := range f.Causes {
					if len(c.Drills) == 0 {
						t.Errorf("%s: cause %s of %s has no drill", r.Key, c.Key, f.Key)
					}
				}
			}
		}
	}
	for _, d := range library.Drills {
		known(d.Key, d.Equipment)
		if len(d.Steps) == 0 || d.Space == "" || d.Caution == "" {
			t.Errorf("%s: %d steps, space %q, caution %q", d.Key, len(d.Steps), d.Space, d.Caution)
		}
		for _, n := range d.Equipment {
			if d.Home.Safe && n.Key != "wall" && n.Key != "line" {
				t.Errorf("%s goes home and needs %s", d.Key, n.Key)
			}
		}
	}
}

// The families read a pledge in the caution boxes: nothing upside down, bent back over the head, in flight, with a partner or spotted.
func TestStarterLibrarySendsNothingUnsafeHome(t *testing.T) {
	library := starter(t)
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			if r.Home.Safe && (r.Inverted || r.BackBend || r.Flight || r.Spotting.People > 0) {
				t.Errorf("%s goes home", r.Key)
			}
		}
	}
}

// The order of handstand rungs: return, light kick, L shape, one leg passing the other, straight. Common practice, no source.
// Every rung and drill is seen as a figure, and no figure of a drill for home shows what may not go there.
func TestStarterFigures(t *testing.T) {
	library := starter(t)
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			if len(r.Figure) == 0 {
				t.Errorf("rung %s has no figure", r.Key)
			}
		}
	}
	never := []string{"handstand", "headstand", "head-tuck", "head-half", "head-frog", "forearm-stand", "wheel", "bridge", "spring", "barrel", "donkey", "roll-"}
	for _, d := range library.Drills {
		if len(d.Figure) == 0 {
			t.Errorf("drill %s has no figure", d.Key)
		}
		for _, pose := range d.Figure {
			if d.Home.Safe && slices.ContainsFunc(never, func(begins string) bool { return strings.HasPrefix(pose, begins) }) {
				t.Errorf("drill %s goes home with the pose %s", d.Key, pose)
			}
		}
	}
}

func TestStarterHandstandOrder(t *testing.T) {
	l, _ := starter(t).Ladder("handstand")
	want := []string{"hs-return", "hs-light-kick", "hs-l-shape", "hs-pass", "hs-straight"}
	if got := rungKeys(l); !slices.Equal(got[:len(want)], want) {
		t.Errorf("handstand rungs %v", got)
	}
}

// What is said of positions, and what is said of it in the library. Each row is common practice, no source.
func TestStarterRungsSayWhatIsCommonPractice(t *testing.T) {
	library := starter(t)
	for _, c := range []struct{ fact, rung, says string }{
		{"hands under the shoulders, close together", "hs-return", `hands.* under the shoulders.*close together`},
		{"hands under the shoulders, close together", "hs-straight", `hands under the shoulders and close together`},
		{"head between the arms", "hs-straight", `head between the arms`},
		{"ribs drawn in", "hs-straight", `ribs drawn in`},
		{"shoulders lifted to the ears", "hs-hold", `shoulders lifted to the ears`},
		{"last up is first down", "hs-straight", `last leg up comes down first`},
		{"no change of legs at the top", "hs-straight", `without a change of legs`},
		{"at most two corrections for a child upside down", "hs-l-shape", `one correction, two at most, while upside down`},
		{"a cartwheel starts facing the line of travel", "cw-lunge", `starts facing the line`},
		{"a cartwheel passes through a side split facing out", "cw-open", `facing out`},
		{"weight carried over onto the landing leg", "cw-lunge", `weight carried over the landing leg`},
		{"a split of about 180 degrees", "cw-open", `about 180 degrees`},
		{"the first leg is fast", "cw-open", `fast first leg`},
		{"looking through the arms straightens the back", "cw-open", `looks through the arms, back straight`},
		{"the finish alone: hands on the floor up to standing, no wobble", "cw-finish", `hands resting on the floor.*standing tall.*without a wobble`},
		{"bridge from standing: feet hip-width and parallel", "sb-floor", `feet hip-width and parallel`},
		{"reach up and lengthen first", "sb-floor", `reach and lengthen first`},
		{"hips stay over the feet", "sb-floor", `hips over the feet`},
		{"legs straight until about half way", "sb-floor", `legs straight until half way`},
		{"hands land near the feet", "sb-floor", `hands land near the feet`},
		{"shoulders pushed open past the hands, feet stay", "br-shoulders", `past the hands.*feet where they were`},
		{"pushed up evenly from lying on the back", "br-straight", `lying on the back.*both arms straighten together`},
		{"coming down: tuck the head, lower to the shoulders", "br-lower", `chin tucked.*shoulders down first`},
		{"coming down from a handstand into a roll: tuck the head", "hs-roll-out", `chin tucked before the back touches`},
	} {
		r := starterRung(t, library, c.rung)
		text := strings.ToLower(strings.Join(append([]string{r.Start, r.Finish, r.Caution}, r.Look...), " "))
		if !regexp.MustCompile(c.says).MatchString(text) {
			t.Errorf("%s: %s does not say it: %s", c.fact, c.rung, text)
		}
	}
	bridge, _ := library.Ladder("bridge")
	if !strings.Contains(bridge.About, "Never twisted up over one arm") {
		t.Errorf("the bridge ladder says %q", bridge.About)
	}
}

// What goes wrong, why, and what helps. Each row is common practice, no source.
func TestStarterFaultsHaveTheCausesOfCommonPractice(t *testing.T) {
	library := starter(t)
	for _, c := range []struct {
		fact, fault, cause, drill string
		safety                    bool
	}{
		{"a soft middle is answered by hollow work lying face down", `banana`, `soft middle`, "d-hollow-face-down", false},
		{"heels lift in a bridge: tight calves", `^heels lift$`, `calves are tight`, "d-ankle-calf-stretch", false},
		{"heels lift in a bridge: tight hip flexors", `^heels lift$`, `front of the hips is tight`, "d-hip-lunge-stretch", false},
		{"sinking into the low back hurts: lengthen before leaning", `sinks into the low back`, `leans before reaching up`, "", true},
		{"twisting up over one arm is a safety fault", `twists up over one arm`, `one arm pushes before the other`, "", true},
		{"a narrow, closed cartwheel is a fault", `narrow, closed shape`, `side split`, "d-split-side", false},
		{"looking at the hands rounds the back", `back rounds`, `looking at the hands`, "", false},
		{"walking the feet away in a bridge is a fault", `walks the feet away`, `shoulders`, "", false},
		{"legs that change at the top: a habit from learning alone", `legs change over at the top`, `habit from learning alone`, "", false},
		{"the weaker side is planned, not left to chance", `wobbly end`, `weaker side`, "", true},
	} {
		if !hasCause(library, c.fault, c.cause, c.drill, c.safety) {
			t.Errorf("%s: no fault like %q with a cause like %q, drill %q, safety %v", c.fact, c.fault, c.cause, c.drill, c.safety)
		}
	}
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			for _, f := range r.Faults {
				name := strings.ToLower(f.Name)
				if dangerous := strings.Contains(name, "into the low back") || strings.Contains(name, "twists up over one arm"); dangerous && !f.Safety {
					t.Errorf("%s: %q is not a safety fault", r.Key, f.Name)
				}
			}
		}
	}
}

func hasCause(l studio.Library, fault, cause, drill string, safety bool) bool {
	isFault, isCause := regexp.MustCompile(fault), regexp.MustCompile(cause)
	for _, ladder := range l.Ladders {
		for _, r := range ladder.Rungs {
			for _, f := range r.Faults {
				for _, c := range f.Causes {
					if f.Safety == safety && isFault.MatchString(strings.ToLower(f.Name)) && isCause.MatchString(strings.ToLower(c.Name)) &&
						(drill == "" || slices.Contains(c.Drills, drill)) {
						return true
					}
				}
			}
		}
	}
	return false
}

// The named drill is hollow-shape work, lying face down, arms overhead, and safe at home. Common practice, no source.
func TestStarterHollowDrillLiesFaceDown(t *testing.T) {
	d, ok := starter(t).Drill("d-hollow-face-down")
	text := strings.ToLower(strings.Join(d.Steps, " "))
	if !ok || !strings.Contains(text, "face down") || !regexp.MustCompile(`overhead|beside the ears|by the ears|above the head`).MatchString(text) {
		t.Errorf("%s", text)
	}
}

// Flight comes late: each rung in flight off the hands or feet needs rungs of other ladders first, and the first try on the floor
// has two spotters hands on. Common practice, no source.
func TestStarterFlightHasGates(t *testing.T) {
	library := starter(t)
	l, err := newLadders(library)
	if err != nil {
		t.Fatal(err)
	}
	for _, ladder := range []string{"front-handspring", "back-handspring"} {
		on, _ := library.Ladder(ladder)
		two := 0
		for _, r := range on.Rungs {
			if r.Spotting.People == 2 && r.Spotting.Manner == studio.HandsOn {
				two++
			}
		}
		top := on.Rungs[len(on.Rungs)-1]
		others := map[string]bool{}
		for _, key := range l.graph.Before(top.Key) {
			others[l.of[key]] = true
		}
		if two == 0 || len(others) < 4 {
			t.Errorf("%s: %d rungs with two spotters hands on, prerequisites on %d ladders", ladder, two, len(others))
		}
	}
}

// A cue is one short line: the words for a child upside down are few. Common practice, no source.
func TestStarterCuesAreShort(t *testing.T) {
	for _, l := range starter(t).Ladders {
		for _, r := range l.Rungs {
			for _, f := range r.Faults {
				for _, c := range f.Causes {
					if words := len(strings.Fields(c.Cue)); words > 8 || strings.Contains(c.Cue, "!") {
						t.Errorf("%s: cue %q has %d words", r.Key, c.Cue, words)
					}
					if tenth := c.Strength * 10; math.Abs(tenth-math.Round(tenth*2)/2) > 1e-9 {
						t.Errorf("%s: strength %v is not a half or whole tenth, so no form can show it", r.Key, c.Strength)
					}
				}
			}
		}
	}
}
