package app

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// aClassSend sends the dish hold to children of class A.
func aClassSend(children ...string) ClassSend {
	n := ClassSend{Class: testkit.SampleID("c0a0"), Drill: "d-dish", Dose: studio.Dose{Sets: 2, Repeats: 5}, From: date("2026-03-04"), Until: date("2026-03-17")}
	for _, c := range children {
		n.Children = append(n.Children, testkit.SampleID(c))
	}
	return n
}

func (d *desk) classHome(t *testing.T, drill string) ClassHomeView {
	t.Helper()
	view, err := d.HomeOfClass(t.Context(), d.teacher, testkit.SampleID("c0a0"), uuid.Nil, drill)
	if err != nil {
		t.Fatal(err)
	}
	return view
}

func TestDrillsOfAClassAnswerItsChildren(t *testing.T) {
	d := openDesk(t)
	ownerExec(t, `update home_assignment set withdrawn_at = now()`)
	view := d.classHome(t, "")
	if len(view.Drills) == 0 || view.Drills[0].Key != "d-press" || !slices.Contains(view.Drills[0].Answers, "“Arms bend” on Small kick and return (1 child)") {
		t.Errorf("the first is %+v, want what answers the fault that was seen", view.Drills)
	}
	for _, drill := range view.Drills {
		if drill.Key == "d-kick" {
			t.Error("a drill that is not safe alone is offered to a class")
		}
	}
}

// An exception is for one child on that child's page: sending to a class knows none.
func TestNoExceptionCountsForAClass(t *testing.T) {
	d := wellAgain(t)
	d.liveException(t)
	for _, c := range d.classHome(t, "d-kick").Children {
		if c.May || !strings.Contains(c.Reason, "not for home") {
			t.Errorf("%s: %+v", c.Name, c)
		}
	}
	n := aClassSend("c1a1", "c1a2")
	n.Drill = "d-kick"
	_, err := d.SendClass(t.Context(), d.teacher, n)
	wantCode(t, "sent to the class", err, studio.Invalid)
	_, err = d.SendHomes(t.Context(), d.teacher, testkit.SampleID("1ea0"), []HomePick{{testkit.SampleID("c1a1"), "d-kick"}})
	wantCode(t, "sent after class", err, studio.Invalid)
}

func TestEachChildOfAClassIsJudgedByItself(t *testing.T) {
	d := openDesk(t)
	ownerExec(t, `update drill set load_wrists = 1 where key = 'd-dish'`) // Aliquot's wrists are to be spared
	for _, c := range d.classHome(t, "d-dish").Children {
		if c.May != (c.Name != "Aliquot Alderleak") || c.Reason == "" {
			t.Errorf("%+v", c)
		}
	}
	sent, err := d.SendClass(t.Context(), d.teacher, aClassSend("c1a1", "c1a2"))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(sent.Sent, []string{"Azimuth Cedarleak"}) || len(sent.Not) != 1 || sent.Not[0].Name != "Aliquot Alderleak" || !strings.Contains(sent.Not[0].Reason, "care limit") {
		t.Errorf("got %+v", sent)
	}
	if words := sent.Words(); !strings.HasPrefix(words, "Sent home with Azimuth Cedarleak. Not with Aliquot Alderleak: Dish hold loads the wrists") {
		t.Errorf("in words: %s", words)
	}
	for _, c := range d.classHome(t, "d-dish").Children {
		if c.May {
			t.Errorf("it may go once more: %+v", c)
		}
	}
	_, err = d.SendClass(t.Context(), d.teacher, aClassSend("c1a1", "c1a2"))
	wantCode(t, "sent twice", err, studio.Invalid)
	_, err = d.SendClass(t.Context(), d.teacher, aClassSend())
	wantCode(t, "nobody ticked", err, studio.Invalid)
	_, err = d.SendClass(t.Context(), d.teacher, aClassSend("c1a2", "c1b1"))
	wantCode(t, "a child of another class", err, studio.NotFound)
	long := aClassSend("c1a2")
	long.Until = date("2026-08-01")
	if _, err = d.SendClass(t.Context(), d.teacher, long); problem(err, "until") == "" {
		t.Errorf("for five months: %v", err)
	}
}

func TestAfterClassOnlyThoseWhoWereHere(t *testing.T) {
	d := openDesk(t)
	ownerExec(t, `update attendance set present = false where child_id = $1 and lesson_id = $2`, testkit.SampleID("c1a2"), testkit.SampleID("1ea0"))
	view, err := d.HomeOfClass(t.Context(), d.teacher, testkit.SampleID("c0a0"), testkit.SampleID("1ea0"), "d-dish")
	if err != nil || len(view.Children) != 1 || view.Children[0].Name != "Aliquot Alderleak" {
		t.Errorf("got %+v, %v", view.Children, err)
	}
	_, err = d.HomeOfClass(t.Context(), d.owner, testkit.SampleID("c0b0"), testkit.SampleID("1ea0"), "")
	wantCode(t, "a lesson of another class", err, studio.NotFound)
}

// A second drill for the same child in one go meets what the first has left of the week.
func TestOneGoStaysWithinTheWeek(t *testing.T) {
	d := wellAgain(t)
	child := testkit.SampleID("c1a2")
	ownerExec(t, `update drill set load_back = 3 where key in ('d-dish', 'd-cool')`)
	ownerExec(t, `update drill set sets = 2, repeats = 2 where key in ('d-dish', 'd-cool')`)
	ownerExec(t, `update lesson_block set drills = '{}'`) // where the second would load the week as well
	sent, err := d.SendHomes(t.Context(), d.teacher, testkit.SampleID("1ea0"), []HomePick{{child, "d-dish"}, {child, "d-cool"}})
	if err != nil || len(sent.Sent) != 1 || len(sent.Not) != 1 || sent.Sent[0] != "Azimuth Cedarleak (Dish hold)" || !strings.Contains(sent.Not[0].Reason, "week") {
		t.Errorf("got %+v, %v", sent, err)
	}
}
