package app

import (
	"path"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func guardedOn(s *studio.Settings) { s.Guarded = true }

// withPasskey gives an account a passkey, as far as the database is concerned.
func (d *desk) withPasskey(t *testing.T, who studio.Actor) {
	t.Helper()
	err := d.db.InTx(t.Context(), who, func(tx *postgres.Tx) error {
		return tx.AddPasskey(t.Context(), postgres.Passkey{AccountID: who.ID, CredentialID: who.ID[:], Name: "Key", Credential: []byte("{}")})
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestStudioAsksForACodeOrAPasskey(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	wantCode(t, "switched on by an owner who has neither", d.ChangeSettings(ctx, d.owner, guardedOn), studio.Invalid)
	d.guard(t, d.owner)
	if err := d.ChangeSettings(ctx, d.owner, guardedOn); err != nil {
		t.Fatal(err)
	}
	for end, want := range map[string]bool{"ac01": false, "ac02": true, "ac03": true, "ac04": false, "ac06": false} {
		if got := d.actor(t, end); got.Unguarded != want {
			t.Errorf("%s: unguarded %v, want %v", end, got.Unguarded, want)
		}
	}
	_, who, err := d.db.SessionOf(ctx, d.session(t, "teacher's", d.teacher.ID, "Firefox on Linux"))
	if err != nil || !who.Unguarded {
		t.Fatalf("the session does not know: %+v, %v", who, err)
	}
	// Nothing but setting one up, whatever is asked for.
	for _, g := range d.Policy() {
		if allowed := d.Policy().Offers(who, g.Action); g.Relation != Anyone && allowed != (g.Action == studio.GuardAccount) {
			t.Errorf("%q: offered %v", g.Action, allowed)
		}
	}
	_, err = d.People(ctx, d.owner)
	if err != nil {
		t.Errorf("the owner, who has one: %v", err)
	}
	_, err = d.OwnNotes(ctx, who)
	wantCode(t, "the own account", err, studio.NotFound)
	_, err = d.Library(ctx, who)
	wantCode(t, "the library", err, studio.NotFound)
	d.guard(t, who)
	if now := d.actor(t, "ac02"); now.Unguarded {
		t.Error("a code does not let in")
	}
	// The last one stays.
	teacher := d.actor(t, "ac02")
	wantCode(t, "the last one switched off", d.EndAuthenticator(ctx, teacher, ownWords), studio.Conflict)
	d.withPasskey(t, teacher)
	if err := d.EndAuthenticator(ctx, teacher, ownWords); err != nil {
		t.Errorf("with a passkey beside it: %v", err)
	}
	keys, err := d.OwnPasskeys(ctx, teacher)
	if err != nil || len(keys) != 1 {
		t.Fatal(keys, err)
	}
	wantCode(t, "the last passkey removed", d.RemovePasskey(ctx, teacher, keys[0].ID), studio.Conflict)
	// The passphrase alone does not let in who has a passkey; a link of the studio's does.
	_, err = d.NeedsCode(ctx, d.teacher.ID)
	wantCode(t, "the passphrase alone", err, studio.Invalid)
	link, err := d.ResetLink(ctx, d.owner, d.teacher.ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.JoinBy(ctx, path.Base(link.URL), ownWords); err != nil {
		t.Fatal(err)
	}
	if pending, err := d.NeedsCode(ctx, d.teacher.ID); pending != "" || err != nil {
		t.Errorf("after the studio's link: %q, %v", pending, err)
	}
	if now := d.actor(t, "ac02"); !now.Unguarded {
		t.Error("is not led to set one up again")
	}
}

func TestOwnerIsLetInAgain(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	d.guard(t, d.owner)
	d.withPasskey(t, d.owner)
	session := d.session(t, "owner's", d.owner.ID, "Firefox on Linux")
	for _, email := range []string{"nobody@sample.example", d.teacher.Email, "lockedmail@sample.example"} {
		_, err := d.RescueOwner(ctx, email)
		wantCode(t, email, err, studio.NotFound)
	}
	link, err := d.RescueOwner(ctx, d.owner.Email)
	if err != nil {
		t.Fatal(err)
	}
	if pending, err := d.NeedsCode(ctx, d.owner.ID); pending != "" || err != nil {
		t.Errorf("a code is still asked for: %q, %v", pending, err)
	}
	if keys, err := d.OwnPasskeys(ctx, d.owner); len(keys) != 0 || err != nil {
		t.Errorf("%d passkeys are left, %v", len(keys), err)
	}
	if _, _, err := d.OpenSession(ctx, session); studio.CodeOf(err) != studio.NotFound {
		t.Errorf("a session goes on: %v", err)
	}
	if id, err := d.JoinBy(ctx, path.Base(link.URL), "seven herons over wet sand"); err != nil || id != d.owner.ID {
		t.Error(id, err)
	}
	if kinds := d.notesOf(t, d.owner); !slices.Contains(kinds, studio.NoteRescued) {
		t.Errorf("the page says %v", kinds)
	}
}

// Guardians are told of guardians, on their pages and by letter; no letter names the child.
func TestGuardiansAreTold(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	sent := d.letters()
	aunt, child := d.actor(t, "ac08"), testkit.SampleID("c1a1")
	other := d.actor(t, "ac07")
	steps := []struct {
		what string
		do   func() error
		told map[string]studio.NoteKind
	}{
		{"made one by the studio", func() error { return d.AddGuardian(ctx, d.owner, other.ID, child, "") },
			map[string]studio.NoteKind{"ac07": studio.NoteMadeGuardian, "ac06": studio.NoteGuardian, "ac08": studio.NoteGuardian}},
		{"other rights", func() error { return d.SetGuardianRights(ctx, d.owner, other.ID, child, nil) }, map[string]studio.NoteKind{"ac07": studio.NoteRights}},
		{"taken away by the studio", func() error { return d.RemoveGuardian(ctx, d.owner, other.ID, child) },
			map[string]studio.NoteKind{"ac07": studio.NoteNoGuardian, "ac06": studio.NoteGuardianGone, "ac08": studio.NoteGuardianGone}},
		{"taken away by a guardian", func() error { return d.EndGuardian(ctx, d.parent, child, aunt.ID) },
			map[string]studio.NoteKind{"ac08": studio.NoteNoGuardian, "ac06": studio.NoteGuardianGone}},
		{"let in by a guardian", func() error {
			link, err := d.InviteGuardian(ctx, d.parent, child, "Piet", other.Email, nil)
			if err != nil {
				return err
			}
			d.Finish()
			*sent = (*sent)[:0]
			return d.AcceptLink(ctx, other, path.Base(link.URL))
		}, map[string]studio.NoteKind{"ac07": studio.NoteMadeGuardian, "ac06": studio.NoteGuardian}},
		{"roles", func() error { return d.SetRoles(ctx, d.owner, d.teacher.ID, []studio.Role{studio.AssistantRole}) }, map[string]studio.NoteKind{"ac02": studio.NoteRoles}},
	}
	for _, s := range steps {
		*sent = (*sent)[:0]
		d.now = d.now.Add(time.Second)
		if err := s.do(); err != nil {
			t.Fatalf("%s: %v", s.what, err)
		}
		d.Finish()
		if len(*sent) != len(s.told) {
			t.Errorf("%s: %d letters, want %d", s.what, len(*sent), len(s.told))
		}
		for end, kind := range s.told {
			who := d.actor(t, end)
			if kinds := d.notesOf(t, who); len(kinds) == 0 || kinds[0] != kind {
				t.Errorf("%s: the page of %s says %v, want %s first", s.what, end, kinds, kind)
			}
			if !slices.ContainsFunc(*sent, func(l Letter) bool { return l.To == who.Email }) {
				t.Errorf("%s: no letter to %s", s.what, who.Email)
			}
		}
		for _, l := range *sent {
			for _, name := range []string{"Aliquot", "Alderleak"} {
				if strings.Contains(l.Subject+l.Text, name) {
					t.Errorf("%s: a letter names the child: %s", s.what, l.Text)
				}
			}
		}
	}
}

// Every kind has words of its own.
func TestNotesHaveWords(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, kind := range studio.NoteKinds() {
		words := NoteInWords(nil, studio.AccountNote{Kind: kind, About: "it"})
		if seen[words] || words == "note."+string(kind) {
			t.Errorf("%s has no words of its own", kind)
		}
		seen[words] = true
	}
}
