package app

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// desk is the sample studio with its people, at its moment or later.
type desk struct {
	*App
	now                               time.Time
	owner, teacher, assistant, parent studio.Actor
}

func openDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{now: testkit.SampleNow()}
	db, err := postgres.Open(t.Context(), testkit.Fill(t).App, func() time.Time { return d.now }, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	hasher, err := auth.NewHasher(auth.DefaultParams(), 1)
	if err != nil {
		t.Fatal(err)
	}
	d.App = New(db, StudioPolicy(), hasher, Settings{StudioName: "Sample", BaseURL: "https://studio.example", TimeZone: "UTC", Sealer: sealer(t, 1)})
	d.owner, d.teacher, d.assistant, d.parent = d.actor(t, "ac01"), d.actor(t, "ac02"), d.actor(t, "ac04"), d.actor(t, "ac06")
	return d
}

func (d *desk) actor(t *testing.T, end string) studio.Actor {
	t.Helper()
	var actor studio.Actor
	err := d.db.InTx(t.Context(), studio.ProgramActor(), func(tx *postgres.Tx) error {
		var err error
		actor, err = tx.ActorOf(t.Context(), testkit.SampleID(end))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return actor
}

func wantCode(t *testing.T, what string, err error, code studio.Code) {
	t.Helper()
	if err == nil || studio.CodeOf(err) != code {
		t.Errorf("%s: got %v, want an error of kind %d", what, err, code)
	}
}

func TestOnlyTheOwnerKeepsTheStudio(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	account, staff, child := testkit.SampleID("ac06"), testkit.SampleID("5f04"), testkit.SampleID("c1a1")
	class, term, link := testkit.SampleID("c0a0"), testkit.SampleID("7e01"), testkit.SampleID("1401")
	cases := map[string]func(studio.Actor) error{
		"read the overview": func(a studio.Actor) error { _, err := d.Overview(ctx, a); return err },
		"read the trail":    func(a studio.Actor) error { _, _, err := d.Trail(ctx, a, TrailPlace{}, 5); return err },
		"list people":       func(a studio.Actor) error { _, err := d.People(ctx, a); return err },
		"read an account":   func(a studio.Actor) error { _, err := d.Person(ctx, a, account); return err },
		"make themselves owner": func(a studio.Actor) error {
			return d.SetRoles(ctx, a, a.ID, []studio.Role{studio.OwnerRole})
		},
		"lock an account":     func(a studio.Actor) error { return d.DisableAccount(ctx, a, account) },
		"unlock an account":   func(a studio.Actor) error { return d.EnableAccount(ctx, a, testkit.SampleID("ac09")) },
		"link a staff record": func(a studio.Actor) error { return d.LinkStaff(ctx, a, account, staff) },
		"become a guardian":   func(a studio.Actor) error { return d.AddGuardian(ctx, a, a.ID, testkit.SampleID("c1b1"), "parent") },
		"remove a guardian":   func(a studio.Actor) error { return d.RemoveGuardian(ctx, a, account, child) },
		"invite an owner": func(a studio.Actor) error {
			_, err := d.Invite(ctx, a, studio.Invitation{Name: "X", Email: "x@sample.example", Roles: []studio.Role{studio.OwnerRole}})
			return err
		},
		"make a link into another account": func(a studio.Actor) error { _, err := d.ResetLink(ctx, a, testkit.SampleID("ac01")); return err },
		"withdraw a link":                  func(a studio.Actor) error { return d.WithdrawInvitation(ctx, a, link) },
		"read a birth date of staff":       func(a studio.Actor) error { _, err := d.StaffMember(ctx, a, staff); return err },
		"add staff": func(a studio.Actor) error {
			_, err := d.AddStaff(ctx, a, studio.StaffDetail{Staff: studio.Staff{Name: "X"}, BirthDate: date("1990-01-01")})
			return err
		},
		"change staff": func(a studio.Actor) error {
			return d.SaveStaff(ctx, a, studio.StaffDetail{Staff: studio.Staff{ID: staff, Name: "X"}, BirthDate: date("1990-01-01")})
		},
		"read a child's record": func(a studio.Actor) error { _, err := d.ChildRecord(ctx, a, child); return err },
		"add a child":           func(a studio.Actor) error { _, err := d.AddChild(ctx, a, aChild("X", "Y")); return err },
		"change a child": func(a studio.Actor) error {
			c := aChild("X", "Y")
			c.ID = child
			return d.SaveChild(ctx, a, c)
		},
		"list terms": func(a studio.Actor) error { _, err := d.Terms(ctx, a); return err },
		"add a term": func(a studio.Actor) error {
			_, err := d.AddTerm(ctx, a, studio.Term{Name: "T", StartsOn: date("2026-09-01"), EndsOn: date("2026-12-01")}, nil)
			return err
		},
		"change a term": func(a studio.Actor) error {
			return d.SaveTerm(ctx, a, studio.Term{ID: term, Name: "T", StartsOn: date("2026-09-01"), EndsOn: date("2026-12-01")}, nil)
		},
		"remove a term":                      func(a studio.Actor) error { return d.DeleteTerm(ctx, a, testkit.SampleID("7e02")) },
		"list class records":                 func(a studio.Actor) error { _, err := d.ClassRecords(ctx, a); return err },
		"read the record of their own class": func(a studio.Actor) error { _, err := d.ClassRecord(ctx, a, class); return err },
		"add a class":                        func(a studio.Actor) error { _, err := d.AddClass(ctx, a, d.aClass()); return err },
		"change their own class": func(a studio.Actor) error {
			c := d.aClass()
			c.ID = class
			return d.SaveClass(ctx, a, c)
		},
		"put themselves on a class": func(a studio.Actor) error {
			return d.Roster(ctx, a, studio.ClassStaff{ClassID: testkit.SampleID("c0b0"), StaffID: staff, Duty: studio.TeacherDuty, FromOn: date("2026-03-04")})
		},
		"take somebody off a class": func(a studio.Actor) error {
			return d.Unroster(ctx, a, studio.ClassStaff{ClassID: class, StaffID: staff, Duty: studio.AssistantDuty, FromOn: date("2026-01-05")})
		},
		"enrol a child": func(a studio.Actor) error {
			return d.Enrol(ctx, a, class, date("2026-03-04"), testkit.SampleID("c1b1"))
		},
		"end an enrolment":   func(a studio.Actor) error { return d.Unenrol(ctx, a, class, child) },
		"make lessons":       func(a studio.Actor) error { _, err := d.MakeLessons(ctx, a, class); return err },
		"read the equipment": func(a studio.Actor) error { _, err := d.Equipment(ctx, a); return err },
		"change the equipment": func(a studio.Actor) error {
			return d.SaveEquipment(ctx, a, studio.Equipment{Key: "wall", Name: "W", Stock: 1})
		},
		"add equipment": func(a studio.Actor) error {
			return d.AddEquipment(ctx, a, studio.Equipment{Key: "x", Name: "X", Stock: 1})
		},
		"remove equipment": func(a studio.Actor) error { return d.DeleteEquipment(ctx, a, "panel-mat") },
		"import a roster": func(a studio.Actor) error {
			_, err := d.ImportRoster(ctx, a, strings.NewReader(sampleRoster), false)
			return err
		},
		"try a roster without import": func(a studio.Actor) error {
			_, err := d.ImportRoster(ctx, a, strings.NewReader(sampleRoster), true)
			return err
		},
	}
	for name, try := range cases {
		for who, actor := range map[string]studio.Actor{"teacher": d.teacher, "assistant": d.assistant, "parent": d.parent, "nobody": {}} {
			wantCode(t, who+" cannot "+name, try(actor), studio.NotFound)
		}
	}
	for name, try := range map[string]func(studio.Actor) error{
		"read sign-offs":    func(a studio.Actor) error { _, err := d.SignOffs(ctx, a); return err },
		"sign somebody off": func(a studio.Actor) error { _, err := d.GrantSignOff(ctx, a, d.aGrant()); return err },
	} {
		for who, actor := range map[string]studio.Actor{"assistant": d.assistant, "parent": d.parent, "nobody": {}} {
			wantCode(t, who+" cannot "+name, try(actor), studio.NotFound)
		}
		for who, actor := range map[string]studio.Actor{"owner": d.owner, "teacher": d.teacher} {
			if err := try(actor); err != nil {
				t.Errorf("%s may %s: %v", who, name, err)
			}
		}
	}
	wantCode(t, "assistant cannot revoke a sign-off", d.RevokeSignOff(ctx, d.assistant, testkit.SampleID("500a")), studio.NotFound)
	if err := d.RevokeSignOff(ctx, d.teacher, testkit.SampleID("500a")); err != nil {
		t.Errorf("teacher may revoke a sign-off: %v", err)
	}
}

func date(text string) time.Time {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return day
}

func aChild(given, family string) studio.ChildDetail {
	return studio.ChildDetail{Child: studio.Child{GivenName: given, JoinedOn: date("2025-09-01")}, FamilyName: family, BirthDate: date("2015-01-01")}
}

func (d *desk) aClass() studio.Class {
	c := d.NewClass()
	c.TermID, c.Name, c.Weekday, c.StartsAt = testkit.SampleID("7e01"), "Coralclass", time.Thursday, "17:00"
	return c
}

func (d *desk) aGrant() SignOffGrant {
	return SignOffGrant{StaffID: testkit.SampleID("5f04"), Rungs: []string{"hs-hold", "hs-return"}, Until: date("2027-03-04")}
}

func TestOwnerIsNeverLost(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	wantCode(t, "last owner cannot give the role up", d.SetRoles(ctx, d.owner, d.owner.ID, []studio.Role{studio.TeacherRole}), studio.Conflict)
	wantCode(t, "owner cannot lock their own account", d.DisableAccount(ctx, d.owner, d.owner.ID), studio.Conflict)
	if err := d.SetRoles(ctx, d.owner, d.teacher.ID, []studio.Role{studio.TeacherRole, studio.OwnerRole}); err != nil {
		t.Fatal(err)
	}
	if err := d.SetRoles(ctx, d.owner, d.owner.ID, nil); err != nil {
		t.Errorf("with a second owner the first may go: %v", err)
	}
	if actor := d.actor(t, "ac01"); actor.Is(studio.OwnerRole) {
		t.Error("the role is still there")
	}
}

func TestInvitationMakesAnAccountOnce(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	staff, err := d.AddStaff(ctx, d.owner, studio.StaffDetail{Staff: studio.Staff{Name: "Nia Fell", CanLead: true}, BirthDate: date("1990-02-03")})
	if err != nil {
		t.Fatal(err)
	}
	link, err := d.Invite(ctx, d.owner, studio.Invitation{Name: "Nia Fell", Email: " Nia.Fell@Sample.Example ", Roles: []studio.Role{studio.TeacherRole},
		StaffID: &staff, ChildIDs: []uuid.UUID{testkit.SampleID("c1a2")}})
	if err != nil {
		t.Fatal(err)
	}
	token, ok := strings.CutPrefix(link.URL, "https://studio.example/join/")
	if !ok {
		t.Fatalf("the link is %q", link.URL)
	}
	if _, err := d.JoinBy(ctx, token, "short"); studio.CodeOf(err) != studio.Invalid {
		t.Errorf("a short passphrase: %v", err)
	}
	account, err := d.JoinBy(ctx, token, "seven herons over wet sand")
	if err != nil {
		t.Fatal(err)
	}
	person, err := d.Person(ctx, d.owner, account)
	if err != nil {
		t.Fatal(err)
	}
	if person.Email != "nia.fell@sample.example" || len(person.Roles) != 1 || person.Roles[0] != studio.TeacherRole || person.JoinedAt == nil ||
		person.Staff == nil || person.Staff.ID != staff || len(person.Children) != 1 {
		t.Errorf("joined as %+v", person)
	}
	if id, err := d.SignIn(ctx, "nia.fell@sample.example", "seven herons over wet sand"); err != nil || id != account {
		t.Errorf("sign in after joining: %v", err)
	}
	_, err = d.JoinBy(ctx, token, "another good long passphrase")
	wantCode(t, "a used link", err, studio.NotFound)
	_, err = d.Invitation(ctx, token)
	wantCode(t, "opening a used link", err, studio.NotFound)
	_, err = d.Invite(ctx, d.owner, studio.Invitation{Name: "Nia", Email: "nia.fell@sample.example", Roles: []studio.Role{studio.OwnerRole}})
	wantCode(t, "inviting an address with an account", err, studio.Invalid)
}

func TestLinksRunOutAndReplaceEachOther(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	invite := func() string {
		link, err := d.Invite(ctx, d.owner, studio.Invitation{Name: "P", Email: "p@sample.example", ChildIDs: []uuid.UUID{testkit.SampleID("c1a1")}})
		if err != nil {
			t.Fatal(err)
		}
		return strings.TrimPrefix(link.URL, "https://studio.example/join/")
	}
	first, second := invite(), invite()
	_, err := d.Invitation(ctx, first)
	wantCode(t, "a replaced link", err, studio.NotFound)
	d.now = d.now.Add(7*24*time.Hour - time.Minute)
	if i, err := d.Invitation(ctx, second); err != nil || len(i.ChildNames) != 1 {
		t.Errorf("on the seventh day: %+v, %v", i, err)
	}
	d.now = d.now.Add(time.Minute)
	_, err = d.JoinBy(ctx, second, "seven herons over wet sand")
	wantCode(t, "a link after seven days", err, studio.NotFound)
	_, err = d.Invitation(ctx, "made-up")
	wantCode(t, "a made-up link", err, studio.NotFound)
}

func TestLinkIsSentWhereThereIsAMailServer(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	var sent []Letter
	var broken error
	d.settings.Send = func(_ context.Context, l Letter) error {
		sent = append(sent, l)
		return broken
	}
	link, err := d.Invite(ctx, d.owner, studio.Invitation{Name: "P", Email: "p@sample.example", Roles: []studio.Role{studio.AssistantRole}})
	if err != nil || !link.Sent || len(sent) != 1 || sent[0].To != "p@sample.example" || !strings.Contains(sent[0].Text, link.URL) {
		t.Errorf("sent %+v, %v", sent, err)
	}
	broken = errors.New("the mail server does not answer")
	link, err = d.ResetLink(ctx, d.owner, d.parent.ID)
	if err != nil || link.Sent || link.SendError == nil || link.URL == "" {
		t.Errorf("without the mail server there is still a link: %+v, %v", link, err)
	}
	_, err = d.Invite(ctx, d.teacher, studio.Invitation{Name: "P", Email: "q@sample.example", Roles: []studio.Role{studio.OwnerRole}})
	if wantCode(t, "teacher cannot invite", err, studio.NotFound); len(sent) != 2 {
		t.Error("a refused invitation was sent")
	}
}

func TestResetLink(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	_, err := d.ResetLink(ctx, d.owner, testkit.SampleID("ac09"))
	wantCode(t, "a link for a locked account", err, studio.Conflict)
	link, err := d.ResetLink(ctx, d.owner, d.parent.ID)
	if err != nil {
		t.Fatal(err)
	}
	token := strings.TrimPrefix(link.URL, "https://studio.example/join/")
	if err := d.DisableAccount(ctx, d.owner, d.parent.ID); err != nil {
		t.Fatal(err)
	}
	_, err = d.JoinBy(ctx, token, "nine herons over wet sand")
	wantCode(t, "a link into an account locked meanwhile", err, studio.NotFound)
	if err := d.EnableAccount(ctx, d.owner, d.parent.ID); err != nil {
		t.Fatal(err)
	}
	if id, err := d.JoinBy(ctx, token, "nine herons over wet sand"); err != nil || id != d.parent.ID {
		t.Fatalf("reset: %v", err)
	}
	if _, err := d.SignIn(ctx, d.parent.Email, "nine herons over wet sand"); err != nil {
		t.Errorf("sign in with the new passphrase: %v", err)
	}
}

func TestRemovedGuardianSeesNothing(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	if err := d.RemoveGuardian(ctx, d.owner, d.parent.ID, testkit.SampleID("c1a1")); err != nil {
		t.Fatal(err)
	}
	if actor := d.actor(t, "ac06"); actor.Is(studio.ParentRole) {
		t.Error("still a parent")
	}
	wantCode(t, "removing twice", d.RemoveGuardian(ctx, d.owner, d.parent.ID, testkit.SampleID("c1a1")), studio.NotFound)
}

func TestSignOffRules(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	add := func(s studio.StaffDetail) uuid.UUID {
		id, err := d.AddStaff(ctx, d.owner, s)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	trainee := add(studio.StaffDetail{Staff: studio.Staff{Name: "Tr Ainee", Trainee: true}, BirthDate: date("2000-01-01")})
	young := add(studio.StaffDetail{Staff: studio.Staff{Name: "Yo Ung"}, BirthDate: date("2010-03-05")}) // 16 tomorrow
	grant := func(staff uuid.UUID, until string, rungs ...string) error {
		_, err := d.GrantSignOff(ctx, d.owner, SignOffGrant{StaffID: staff, Rungs: rungs, Until: date(until)})
		return err
	}
	wantCode(t, "trainee cannot be signed off", grant(trainee, "2026-12-01", "hs-hold"), studio.Invalid)
	wantCode(t, "under sixteen cannot be signed off", grant(young, "2026-12-01", "hs-hold"), studio.Invalid)
	wantCode(t, "no sign-off for ever", grant(testkit.SampleID("5f04"), "2036-01-01", "hs-hold"), studio.Invalid)
	wantCode(t, "no sign-off for nothing", grant(testkit.SampleID("5f04"), "2026-12-01"), studio.Invalid)
	wantCode(t, "no sign-off for an unknown rung", grant(testkit.SampleID("5f04"), "2026-12-01", "no-such"), studio.Conflict)
	d.now = d.now.Add(24 * time.Hour)
	if err := grant(young, "2026-03-20", "hs-hold"); err != nil {
		t.Errorf("sixteen today: %v", err)
	}
	o, err := d.Overview(ctx, d.owner)
	if err != nil || len(o.Soon) != 1 || o.Soon[0].Staff != "Yo Ung" {
		t.Errorf("expiring soon: %+v, %v", o.Soon, err)
	}
	d.now = d.now.Add(30 * 24 * time.Hour)
	if o, err = d.Overview(ctx, d.owner); err != nil || len(o.Expired) != 1 {
		t.Errorf("expired: %+v, %v", o.Expired, err)
	}
}

func TestOverviewSaysWhatNeedsSomebody(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	if _, err := d.AddClass(ctx, d.owner, d.aClass()); err != nil {
		t.Fatal(err)
	}
	o, err := d.Overview(ctx, d.owner)
	if err != nil {
		t.Fatal(err)
	}
	if o.Children != 3 || o.Enrolled != 3 || len(o.Classes) != 3 || o.Term == nil || o.Term.Name != "Spring" {
		t.Errorf("counts: %d children, %d enrolled, %d classes, term %v", o.Children, o.Enrolled, len(o.Classes), o.Term)
	}
	if len(o.Teacherless) != 1 || o.Teacherless[0].Name != "Coralclass" || len(o.Lessonless) != 1 {
		t.Errorf("without a teacher %v, without lessons %v", o.Teacherless, o.Lessonless)
	}
	if len(o.Links) != 3 || len(o.Unjoined) != 1 {
		t.Errorf("links %d, without a passphrase %d", len(o.Links), len(o.Unjoined))
	}
	if len(o.Trail) == 0 || o.Trail[0].Name != "Coralclass" || o.Trail[0].ActorName != d.owner.Name {
		t.Errorf("trail: %+v", o.Trail)
	}
}

const sampleRoster = "ref,given_name,family_name,birth_date,class,guardian_email\nR-1,Ada,Quill,2016-02-29,Amberclass,q@sample.example\n"
