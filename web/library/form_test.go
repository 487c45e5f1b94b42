package library

import (
	"encoding/json"
	"os"
	"slices"
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
)

func starterShelf(t *testing.T) app.Shelf {
	t.Helper()
	l, err := app.ReadLibrary(os.DirFS("../../db/library"))
	if err != nil {
		t.Fatal(err)
	}
	shelf := app.Shelf{Library: l}
	for _, key := range []string{"panel-mat", "landing-mat", "wedge", "block", "barrel", "bench", "wall", "line"} {
		shelf.Equipment = append(shelf.Equipment, studio.Equipment{Key: key, Name: key})
	}
	return shelf
}

func inJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A form that is sent back as it came changes nothing: every rung, fault and drill of the starter library goes through unharmed.
func TestFormsGiveBackWhatTheyShow(t *testing.T) {
	shelf := starterShelf(t)
	for _, l := range shelf.Ladders {
		for _, want := range l.Rungs {
			got, err := readRung(form{Values: writeRung(want), Shelf: shelf})
			if err != nil {
				t.Errorf("%s: %v", want.Key, err)
			}
			got.Key, got.Faults, got.Home.Adult = want.Key, want.Faults, want.Home.Adult
			if app.Seen(got) != app.Seen(want) {
				t.Errorf("rung %s came back as\n%s, was\n%s", want.Key, inJSON(t, got), inJSON(t, want))
			}
			for _, fault := range want.Faults {
				got, err := readFault(form{Values: writeFault(fault), Shelf: shelf})
				got.Key = fault.Key
				if err != nil || app.Seen(got) != app.Seen(fault) {
					t.Errorf("fault %s of %s came back as\n%s (%v), was\n%s", fault.Key, want.Key, inJSON(t, got), err, inJSON(t, fault))
				}
			}
		}
	}
	for _, want := range shelf.Drills {
		got, err := readDrill(form{Values: writeDrill(want), Shelf: shelf})
		got.Key = want.Key
		if err != nil || app.Seen(got) != app.Seen(want) {
			t.Errorf("drill %s came back as\n%s (%v), was\n%s", want.Key, inJSON(t, got), err, inJSON(t, want))
		}
	}
}

func TestStrengthInWords(t *testing.T) {
	for strength, want := range map[float64]string{
		0.2: "Now and then shows this way: about 2 in 10", 0.4: "Sometimes shows this way: about 4 in 10",
		0.6: "Often shows this way: about 6 in 10", 0.8: "Nearly always shows this way: about 8 in 10", 0.65: "Often shows this way: about 6.5 in 10",
	} {
		if got := strengthWords(strength); got != want {
			t.Errorf("%v: %q, want %q", strength, got, want)
		}
	}
}

func TestStepsUpAndDown(t *testing.T) {
	l := studio.Ladder{Rungs: []studio.Rung{{Key: "a"}, {Key: "b"}, {Key: "c"}}}
	for _, c := range []struct {
		key   string
		step  int
		above string
		ok    bool
	}{{"a", 1, "b", true}, {"b", 1, "c", true}, {"c", 1, "", false}, {"c", -1, "a", true}, {"b", -1, "", true}, {"a", -1, "", false}, {"x", 1, "", false}} {
		if above, ok := stepped(l, c.key, c.step); above != c.above || ok != c.ok {
			t.Errorf("%s by %d: above %q, %v; want %q, %v", c.key, c.step, above, ok, c.above, c.ok)
		}
	}
}

func TestDrillSearch(t *testing.T) {
	shelf := starterShelf(t)
	find := func(s drillSearch) []string {
		var keys []string
		for _, d := range shelf.Drills {
			if s.finds(shelf, d) {
				keys = append(keys, d.Key)
			}
		}
		return keys
	}
	if n := len(find(drillSearch{})); n != len(shelf.Drills) {
		t.Errorf("no search finds %d of %d", n, len(shelf.Drills))
	}
	for _, d := range shelf.Drills {
		if found := slices.Contains(find(drillSearch{Home: true}), d.Key); found != d.Home.Safe {
			t.Errorf("%s: found %v as safe at home", d.Key, found)
		}
	}
	if keys := find(drillSearch{Kind: "conditioning", Home: true, Text: "HOLLOW face"}); !slices.Contains(keys, "d-hollow-face-down") {
		t.Errorf("hollow, face: %v", keys)
	}
	if keys := find(drillSearch{Text: "nothing of the sort"}); keys != nil {
		t.Errorf("found %v", keys)
	}
}
