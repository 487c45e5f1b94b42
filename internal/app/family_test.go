package app

import (
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestFamilySeesItsOwnChildOnly(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	for name, c := range map[string]struct {
		actor studio.Actor
		child uuid.UUID
	}{
		"parent of another child":             {d.actor(t, "ac07"), own},
		"guardian removed long ago":           {d.parent, testkit.SampleID("c1b1")},
		"another child of the same class":     {d.parent, testkit.SampleID("c1a2")},
		"a child that is not there":           {d.parent, uuid.New()},
		"teacher has no home page of a child": {d.teacher, own},
		"owner has no home page of a child":   {d.owner, own},
		"assistant has none either":           {d.assistant, own},
	} {
		_, err := d.FamilyChildOf(t.Context(), c.actor, c.child)
		wantCode(t, name, err, studio.NotFound)
	}
	family, err := d.Family(t.Context(), d.parent)
	if err != nil || len(family) != 1 || family[0].ID != own {
		t.Errorf("the family is %+v, %v, want the own child alone", family, err)
	}
}

func TestRemovedGuardianIsOutOnTheNextRequest(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	if _, err := d.FamilyChildOf(t.Context(), d.parent, own); err != nil {
		t.Fatal(err)
	}
	if _, err := ownerConn(t).Exec(t.Context(), `update guardian set removed_at = now() where account_id = $1`, d.parent.ID); err != nil {
		t.Fatal(err)
	}
	_, err := d.FamilyChildOf(t.Context(), d.parent, own) // the actor as it was known before
	wantCode(t, "removed guardian", err, studio.NotFound)
}

func TestALimitPutsDrillsOnHoldAtHome(t *testing.T) {
	d := openDesk(t)
	own := testkit.SampleID("c1a1")
	drill := func() HomeDrill {
		t.Helper()
		view, err := d.FamilyChildOf(t.Context(), d.parent, own)
		if err != nil {
			t.Fatal(err)
		}
		if len(view.Drills) != 1 {
			t.Fatalf("drills are %+v, want the one that is out", view.Drills)
		}
		for _, l := range view.Ladders {
			for _, r := range l.Rungs {
				if r.Reason != "" || r.Numbers != "" {
					t.Errorf("a parent reads the staff's reason: %q", r.Reason)
				}
			}
		}
		return view.Drills[0]
	}
	if got := drill(); got.OnHold.Text != "" || got.Why != "homewhy-a1" || got.Dose != "2 sets of 6, on 4 days a week" {
		t.Errorf("the drill is %+v", got)
	}
	if _, err := ownerConn(t).Exec(t.Context(), `update drill set load_wrists = 1 where key = 'd-press'`); err != nil {
		t.Fatal(err)
	}
	if got := drill(); got.OnHold != (HomeLimit{Text: "limitdo-a1", Own: true}) {
		t.Errorf("the drill is %+v, want it on hold by the limit", got)
	}
}
