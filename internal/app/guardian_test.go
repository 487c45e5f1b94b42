package app

import (
	"context"
	"path"
	"testing"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func (d *desk) hurt(who studio.Actor, child string) error {
	day := testkit.SampleNow().Truncate(24 * 3600e9)
	_, err := d.ReportSoreness(context.Background(), who, NewSoreness{Child: testkit.SampleID(child), Place: "Wrist or hand", HowMuch: 3, Doing: "A plank", Since: day})
	return err
}

func TestSecondGuardianHasRightsOfTheirOwn(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx, child := t.Context(), testkit.SampleID("c1a1")
	link, err := d.InviteGuardian(ctx, d.parent, child, "Una Alder", "una@sample.example", []studio.GuardianRight{studio.RightToRead, studio.RightToInvite})
	if err != nil {
		t.Fatal(err)
	}
	id, err := d.JoinBy(ctx, path.Base(link.URL), "seven herons over wet sand")
	if err != nil {
		t.Fatal(err)
	}
	var una studio.Actor
	if err := d.db.InTx(ctx, studio.ProgramActor(), func(tx *postgres.Tx) error { una, err = tx.ActorOf(ctx, id); return err }); err != nil {
		t.Fatal(err)
	}
	if _, err := d.FamilyChildOf(ctx, una, child); err != nil {
		t.Errorf("the second guardian sees the child: %v", err)
	}
	wantCode(t, "reporting without the right", d.hurt(una, "c1a1"), studio.NotFound)
	if _, err := d.ReleasedReport(ctx, una, testkit.SampleID("c0a0"), child); err != nil {
		t.Errorf("reading a report with the right: %v", err)
	}
	_, err = d.GuardiansOf(ctx, una, child)
	wantCode(t, "a right to invite is never handed on", err, studio.NotFound)
	_, err = d.InviteGuardian(ctx, una, child, "Third", "third@sample.example", nil)
	wantCode(t, "inviting without the right", err, studio.NotFound)
	wantCode(t, "removing whom one did not let in", d.EndGuardian(ctx, una, child, d.parent.ID), studio.NotFound)
	wantCode(t, "the second removes nobody", d.ChangeGuardian(ctx, una, child, id, []studio.GuardianRight{studio.RightToReport}), studio.NotFound)

	if err := d.ChangeGuardian(ctx, d.parent, child, id, []studio.GuardianRight{studio.RightToReport}); err != nil {
		t.Fatal(err)
	}
	if err := d.hurt(una, "c1a1"); err != nil {
		t.Errorf("reporting with the right: %v", err)
	}
	_, err = d.ReleasedReport(ctx, una, testkit.SampleID("c0a0"), child)
	wantCode(t, "reading a report without the right", err, studio.NotFound)
	if view, err := d.FamilyChildOf(ctx, una, child); err != nil || len(view.Released) != 0 {
		t.Errorf("reports are listed without the right: %v, %v", view.Released, err)
	}
	if err := d.EndGuardian(ctx, d.parent, child, id); err != nil {
		t.Fatal(err)
	}
	_, err = d.FamilyChildOf(ctx, una, child)
	wantCode(t, "the very next request of a removed guardian", err, studio.NotFound)
}

func TestGuardiansAreLetInByWhoMay(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx, child := t.Context(), testkit.SampleID("c1a1")
	other := d.actor(t, "ac07")
	for name, who := range map[string]studio.Actor{"nobody": {}, "an assistant": d.assistant, "the teacher": d.teacher, "another parent": other} {
		_, err := d.GuardiansOf(ctx, who, child)
		wantCode(t, name+" reads", err, studio.NotFound)
		_, err = d.InviteGuardian(ctx, who, child, "Third", "third@sample.example", nil)
		wantCode(t, name+" invites", err, studio.NotFound)
		wantCode(t, name+" removes", d.EndGuardian(ctx, who, child, d.parent.ID), studio.NotFound)
		wantCode(t, name+" withdraws", d.WithdrawGuardian(ctx, who, child, testkit.SampleID("1406")), studio.NotFound)
	}
	wantCode(t, "oneself", d.EndGuardian(ctx, d.parent, child, d.parent.ID), studio.NotFound)
	wantCode(t, "another's link", d.WithdrawGuardian(ctx, d.parent, child, testkit.SampleID("1407")), studio.NotFound)
	if err := d.AddGuardian(ctx, d.owner, other.ID, child, "uncle"); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "whom the studio let in", d.EndGuardian(ctx, d.parent, child, other.ID), studio.NotFound)
	beside, err := d.GuardiansOf(ctx, d.parent, child)
	if err != nil || len(beside.Guardians) != 3 || len(beside.Open) != 1 {
		t.Fatalf("got %+v, %v", beside, err)
	}
	for _, g := range beside.Guardians {
		if g.Email != "" {
			t.Errorf("an address is shown: %+v", g)
		}
		if g.AccountID == other.ID && (g.May(studio.RightToInvite) || !g.May(studio.RightToReport)) {
			t.Errorf("a further guardian has the rights %v", g.Rights)
		}
	}
	if err := d.WithdrawGuardian(ctx, d.parent, child, testkit.SampleID("1406")); err != nil {
		t.Error(err)
	}
}

// A parent of another child accepts with the account that there is: one account for several children.
func TestOneAccountForSeveralChildren(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx, other := t.Context(), d.actor(t, "ac07")
	link, err := d.InviteGuardian(ctx, d.parent, testkit.SampleID("c1a1"), "Piet", other.Email, []studio.GuardianRight{studio.RightToReport})
	if err != nil {
		t.Fatal(err)
	}
	token := path.Base(link.URL)
	if has, err := d.LinkHasAccount(ctx, token); err != nil || !has {
		t.Fatalf("got %v, %v", has, err)
	}
	_, err = d.JoinBy(ctx, token, "seven herons over wet sand")
	wantCode(t, "a second account of the address", err, studio.Conflict)
	wantCode(t, "nobody accepts", d.AcceptLink(ctx, studio.Actor{}, token), studio.Conflict)
	wantCode(t, "another account accepts", d.AcceptLink(ctx, d.teacher, token), studio.Conflict)
	if err := d.AcceptLink(ctx, other, token); err != nil {
		t.Fatal(err)
	}
	family, err := d.Family(ctx, d.actor(t, "ac07"))
	if err != nil || len(family) != 2 {
		t.Errorf("got %+v, %v", family, err)
	}
	wantCode(t, "the link twice", d.AcceptLink(ctx, other, token), studio.NotFound)
}
