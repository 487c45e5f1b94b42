package cover

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func day(m time.Month, d int) time.Time { return time.Date(2030, m, d, 0, 0, 0, 0, time.UTC) }

func aged(n, age int) []int { return slices.Repeat([]int{age}, n) }

func TestAdultsNeeded(t *testing.T) {
	// Ratios: NSPCC Learning, Recommended adult to child ratios. Counts: arithmetic from that table.
	for _, c := range []struct {
		name string
		ages []int
		want int
	}{
		{"nobody", nil, 0},
		{"12 aged 4 to 8", aged(12, 6), 2},
		{"13 aged 4 to 8", aged(13, 6), 3},
		{"5 aged 9 to 12, the floor of two", aged(5, 10), 2},
		{"25 aged 9 to 12", aged(25, 12), 4},
		{"9 aged 3", aged(9, 3), 3},
		{"7 under 2", aged(7, 1), 3},
		{"21 aged 13", aged(21, 13), 3},
		// NSPCC does not define mixed groups: the youngest band for all is our cautious choice.
		{"6 aged 8 and 8 aged 9", append(aged(6, 8), aged(8, 9)...), 3},
	} {
		if got := AdultsNeeded(c.ages, Ratios{}); got != c.want {
			t.Errorf("%s: %d adults, want %d", c.name, got, c.want)
		}
	}
}

func TestOneMoreChildNeverNeedsFewerAdults(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ages := rapid.SliceOfN(rapid.IntRange(0, 18), 1, 40).Draw(t, "ages")
		more := append(slices.Clone(ages), rapid.IntRange(0, 18).Draw(t, "age"))
		if AdultsNeeded(more, NSPCC()) < AdultsNeeded(ages, NSPCC()) {
			t.Fatal("fewer adults for more children")
		}
	})
}

func TestCheckLeavesOutWhoSpots(t *testing.T) {
	// "A teacher that is spotting ... is not providing adequate supervision to the rest of the class":
	// Alberta guideline, mats and tumbling.
	v := Check(Room{Ages: aged(13, 7), Adults: 3, Spotting: 1}, NSPCC())
	if v.Enough || v.Needed != 3 || v.Free != 2 || v.Short != 1 {
		t.Errorf("got %+v", v)
	}
	want := "13 children, the youngest 7: 3 adults are needed who are not spotting, 2 are free. 1 adult is missing."
	if v.Reason != want {
		t.Errorf("reason %q, want %q", v.Reason, want)
	}
	if v := Check(Room{Ages: aged(13, 7), Adults: 3}, NSPCC()); !v.Enough {
		t.Errorf("three free adults: %+v", v)
	}
}

func TestRatiosValidate(t *testing.T) {
	if err := NSPCC().Validate(); err != nil {
		t.Error(err)
	}
	for name, r := range map[string]Ratios{
		"floor below nothing": {Floor: -1},
		"no child":            {Bands: []Band{{0, 0}}},
		"out of order":        {Bands: []Band{{4, 6}, {2, 8}}},
		"looser when younger": {Bands: []Band{{0, 6}, {4, 4}}},
	} {
		if r.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestSignOffStatus(t *testing.T) {
	s := SignOff{From: day(3, 1), Until: day(6, 30)}
	for _, c := range []struct {
		on   time.Time
		want Status
	}{
		{day(2, 28), NotYet}, {day(3, 1), Valid}, {day(6, 15), Valid}, {day(6, 16), Soon},
		{day(6, 30).Add(23 * time.Hour), Soon}, {day(7, 1), Expired},
	} {
		if got := s.On(c.on, 14); got != c.want {
			t.Errorf("on %v: %s, want %s", c.on, got, c.want)
		}
	}
	if got := (SignOff{}).On(day(1, 1), 14); got != Expired {
		t.Errorf("without an end: %s, want expired", got)
	}
}

func TestExpiringIgnoresWhatWasRenewed(t *testing.T) {
	got := Expiring([]SignOff{
		{Person: "ana", Rungs: []string{"wheel"}, Until: day(5, 1)},
		{Person: "ana", Rungs: []string{"wheel"}, Until: day(12, 1)},
		{Person: "bo", Rungs: []string{"wheel", "arch"}, Until: day(5, 1)},
		{Person: "cy", Rungs: []string{"arch"}, Until: day(6, 10)},
	}, day(6, 1), 14)
	if len(got) != 3 || got[0].Person != "bo" || got[0].Rung != "arch" || got[0].DaysLeft != -31 || got[2].Status != Soon {
		t.Errorf("got %+v", got)
	}
}

func night() (Night, []Rung) {
	n := Night{
		Date: day(6, 1),
		Ages: aged(12, 7),
		Present: []Person{
			{"ana", "Ana", 40}, {"bo", "Bo", 31}, {"cy", "Cy", 25}, {"di", "Di", 17}, {"ed", "Ed", 15},
		},
		SignOffs: []SignOff{
			{ID: "1", Person: "ana", Rungs: []string{"wheel", "arch"}, Until: day(12, 1)},
			{ID: "2", Person: "di", Rungs: []string{"wheel", "roll"}, Until: day(12, 1)},
			{ID: "3", Person: "bo", Rungs: []string{"flight", "arch"}, Until: day(5, 31)},
			{ID: "4", Person: "ed", Rungs: []string{"tuck"}, Until: day(12, 1)},
		},
	}
	return n, []Rung{
		{"wheel", "Wheel", 2}, {"arch", "Arch", 1}, {"flight", "Flight", 1}, {"roll", "Roll", 1},
		{"tuck", "Tuck", 1}, {"shape", "Shape", 0},
	}
}

func TestRunnable(t *testing.T) {
	n, rungs := night()
	want := map[string]bool{"wheel": true, "arch": true, "flight": false, "roll": true, "tuck": false, "shape": true}
	reasons := map[string]string{
		"wheel": "Ana, Di", "flight": "ended on 31 May 2030", "tuck": "Ed is under 16", "shape": "2 adults are needed",
	}
	for _, r := range n.Runnable(rungs) {
		if r.OK != want[r.Rung] {
			t.Errorf("%s: %v, want %v (%s)", r.Rung, r.OK, want[r.Rung], r.Reason)
		}
		if !strings.Contains(r.Reason, reasons[r.Rung]) {
			t.Errorf("%s: reason %q lacks %q", r.Rung, r.Reason, reasons[r.Rung])
		}
	}
}

func TestRunnableKeepsTheRoomWatched(t *testing.T) {
	n, rungs := night()
	n.Present = n.Present[:2] // two adults, both needed to watch: neither is free to spot
	for _, r := range n.Runnable(rungs) {
		if r.OK != (r.Rung == "shape") {
			t.Errorf("%s: %v (%s)", r.Rung, r.OK, r.Reason)
		}
	}
}

func TestAbsences(t *testing.T) {
	n, rungs := night()
	got := map[string][]string{}
	for _, a := range n.Absences(rungs) {
		got[a.Person] = a.Closes
	}
	// Without Di the wheel has one spotter only; without Bo or Cy two adults are left and none can spot the arch.
	for person, want := range map[string][]string{
		"ana": {"wheel", "arch"}, "bo": {"wheel", "arch"}, "cy": {"wheel", "arch"}, "di": {"wheel", "roll"}, "ed": nil,
	} {
		if !slices.Equal(got[person], want) {
			t.Errorf("without %s: closes %v, want %v", person, got[person], want)
		}
	}
}

func TestRenewals(t *testing.T) {
	n, rungs := night()
	n.SignOffs = append(n.SignOffs, SignOff{ID: "5", Person: "cy", Rungs: []string{"tuck"}, Until: day(1, 1)})
	wishes := []Wish{{"k1", "flight"}, {"k2", "tuck"}, {"k3", "tuck"}, {"k4", "arch"}}
	got := n.Renewals(rungs, wishes)
	if len(got) != 2 || got[0].SignOff != "5" || got[0].Wishes != 2 || got[1].SignOff != "3" || got[1].Wishes != 1 {
		t.Errorf("got %+v", got)
	}
}

func BenchmarkAbsences(b *testing.B) {
	n, rungs := night()
	for b.Loop() {
		n.Absences(rungs)
	}
}

// Counted by hand from the sample: Ana alone holds the arch now (Bo's has ended), Di the roll, Ed the tuck; the wheel has two, the
// flight nobody, and the shape needs none.
func TestSole(t *testing.T) {
	n, rungs := night()
	want := []Holder{{"arch", "ana", 1}, {"roll", "di", 1}, {"tuck", "ed", 1}}
	if got := Sole(n.SignOffs, rungs, n.Date); !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// Brute force: a rung runs when some choice of spotters, of all subsets of the people, is signed off, old enough and large enough, and
// leaves enough adults to watch.
func TestRunnableAgainstEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Night{Date: day(6, 1), Ages: rapid.SliceOfN(rapid.IntRange(3, 16), 1, 20).Draw(t, "ages")}
		for i := range rapid.IntRange(0, 6).Draw(t, "people") {
			p := Person{ID: string(rune('a' + i)), Name: string(rune('A' + i)), Age: rapid.IntRange(14, 20).Draw(t, "age")}
			n.Present = append(n.Present, p)
			if rapid.Bool().Draw(t, "signed off") {
				n.SignOffs = append(n.SignOffs, SignOff{ID: p.ID, Person: p.ID, Rungs: []string{"r"}, Until: day(5, 30).AddDate(0, 0, rapid.IntRange(0, 4).Draw(t, "days"))})
			}
		}
		rung := Rung{ID: "r", Name: "R", Spotters: rapid.IntRange(0, 2).Draw(t, "spotters")}
		want := false
		for set := range 1 << len(n.Present) {
			want = want || runsWith(n, rung, set)
		}
		if got := n.Runnable([]Rung{rung})[0]; got.OK != want {
			t.Fatalf("runnable is %v, want %v: %s", got.OK, want, got.Reason)
		}
	})
}

// runsWith judges one choice of spotters by the rules as they are written, without the package's own counting.
func runsWith(n Night, r Rung, set int) bool {
	spotting, watching := 0, 0
	for i, p := range n.Present {
		if set>>i&1 == 0 {
			if p.Age >= 18 {
				watching++
			}
			continue
		}
		spotting++
		holds := slices.ContainsFunc(n.SignOffs, func(s SignOff) bool { return s.Person == p.ID && !s.Until.Before(n.Date) })
		if p.Age < 16 || !holds {
			return false
		}
	}
	youngest, per := slices.Min(n.Ages), 10
	for _, line := range [][2]int{{13, 8}, {9, 6}, {4, 4}} {
		if youngest < line[0] {
			per = line[1]
		}
	}
	return spotting == r.Spotters && watching >= 2 && watching*per >= len(n.Ages)
}
