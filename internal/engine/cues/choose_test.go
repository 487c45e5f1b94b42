package cues

import (
	"strings"
	"testing"
)

func chosen(c Choice) string {
	var ids []string
	for _, cue := range c.Cues {
		ids = append(ids, cue.Cause)
	}
	return strings.Join(ids, " ")
}

// own gives each fault one cause of the same letter in upper case, with strength .9.
func own(faults ...Fault) Input {
	in := Input{Faults: faults}
	for _, f := range faults {
		id := strings.ToUpper(f.ID)
		in.Causes = append(in.Causes, Cause{ID: id})
		in.Links = append(in.Links, Link{Fault: f.ID, Cause: id, Strength: 0.9, Name: "Cause of " + f.ID, Cue: "Mind " + f.ID,
			Drills: []string{"d-" + f.ID, "d-all"}})
	}
	return in
}

// At most two cues to a child upside down: common practice, no source.
func TestAtMostTwoCues(t *testing.T) {
	in := own(Fault{ID: "p", Seen: 3, Turns: 6}, Fault{ID: "q", Seen: 5, Turns: 6}, Fault{ID: "r", Seen: 4, Turns: 6})
	if got := chosen(mustRead(t, in, Defaults()).Choose()); got != "Q R" {
		t.Errorf("chosen %q, want the two seen most, most first", got)
	}
	s := Defaults()
	s.Most = MaxCues
	if got := chosen(mustRead(t, in, s).Choose()); got != "Q R P" {
		t.Errorf("chosen %q of four allowed", got)
	}
}

func TestSafetyFaultsFirst(t *testing.T) {
	in := own(Fault{ID: "p", Seen: 6, Turns: 6}, Fault{ID: "q", Seen: 6, Turns: 6}, Fault{ID: "r", Seen: 1, Turns: 6, Safety: true})
	got := mustRead(t, in, Defaults()).Choose()
	if chosen(got) != "R P" {
		t.Errorf("chosen %q, want the fault that can hurt first, then the lower id of equals", chosen(got))
	}
	near(t, "trouble", got.Trouble, 12)
}

func TestRootBeforeItsEffects(t *testing.T) {
	in := own(Fault{ID: "p", Seen: 6, Turns: 6}, Fault{ID: "q", Seen: 5, Turns: 6}, Fault{ID: "r", Seen: 1, Turns: 6})
	in.Causes[2].Before = []string{"between"}
	in.Causes = append(in.Causes, Cause{ID: "between", Before: []string{"P"}})
	got := mustRead(t, in, Defaults()).Choose()
	if chosen(got) != "R P" {
		t.Errorf("chosen %q, want P only after its likely root", chosen(got))
	}
	if !strings.HasSuffix(got.Cues[0].Reason, "It comes first because it leads to another: cause of p.") {
		t.Error(got.Cues[0].Reason)
	}
	s := Defaults()
	s.Most = 1
	if got := chosen(mustRead(t, in, s).Choose()); got != "Q" {
		t.Errorf("chosen %q with one cue, want the best without a likely root", got)
	}
	s.Likely = 1
	if got := chosen(mustRead(t, in, s).Choose()); got != "P" {
		t.Errorf("chosen %q, want P when its root is not likely", got)
	}
}

func TestNeverTwoCuesForOneCause(t *testing.T) {
	in := Input{Faults: []Fault{{ID: "f", Name: "Back arches", Seen: 4, Turns: 6}, {ID: "g", Name: "Falls over", Safety: true, Seen: 2, Turns: 6}},
		Causes: []Cause{{ID: "a"}},
		Links: []Link{{Fault: "f", Cause: "a", Strength: 0.7, Name: "Shoulders not lifted", Cue: "Push tall", Drills: []string{"d-two", "d-one"}},
			{Fault: "g", Cause: "a", Strength: 0.6, Name: "Shoulders not lifted", Cue: "Hide your ears", Drills: []string{"d-one"}}}}
	got := mustRead(t, in, Defaults()).Choose()
	if len(got.Cues) != 1 || got.Cues[0].Words != "Hide your ears" {
		t.Fatalf("cues %+v, want one, in the words of the fault that can hurt", got.Cues)
	}
	// There: .2 * (1-.95*.3) * (1-.95*.4) = .2*.715*.62 = .08866. Not there: .8*.05*.05 = .002. P = .08866/.09066 = .9779.
	want := "Falls over, which can hurt: seen in 2 of the last 6 turns; back arches: seen in 4 of the last 6 turns; most likely " +
		"because shoulders not lifted (about 98 in 100)."
	if got.Cues[0].Reason != want {
		t.Error(got.Cues[0].Reason)
	}
	if len(got.Drills) != 2 || got.Drills[0].ID != "d-one" || got.Drills[1].ID != "d-two" {
		t.Errorf("drills %+v", got.Drills)
	}
}

func TestDrillsByLikelihood(t *testing.T) {
	in := own(Fault{ID: "p", Seen: 6, Turns: 6}, Fault{ID: "q", Seen: 5, Turns: 6})
	in.Causes[1].Prior = 0.6
	var ids []string
	for _, d := range mustRead(t, in, Defaults()).Choose().Drills {
		ids = append(ids, d.ID)
	}
	if got := strings.Join(ids, " "); got != "d-all d-q d-p" {
		t.Errorf("drills %q: want the likelier cause first, of equals the one that answers more", got)
	}
}

func TestWordsOfAnUnsureCause(t *testing.T) {
	in := two(Fault{})
	in.Faults[0].Name = "L shape is lost"
	s := Defaults()
	s.Likely = 0.6 // above both: leak .05 gives P(a) .40 and P(b) .53
	r := mustRead(t, in, s)
	for _, c := range r.Choose().Cues {
		if !strings.HasPrefix(c.Reason, "L shape is lost: seen in the last turn; perhaps because ") {
			t.Error(c.Reason)
		}
	}
	if got := r.Causes(); got[0].Cause != "b" || got[0].Name != "b" || got[0].Prior != 0.2 {
		t.Errorf("causes %+v", got)
	}
}
