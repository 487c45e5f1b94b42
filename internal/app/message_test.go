package app

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func gotNotes(view FamilyMessages) []string {
	var notes []string
	for _, m := range view.Messages {
		notes = append(notes, m.Note)
	}
	return notes
}

func TestMessagesGoOneWayToTheRightFamilies(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	child, class := To{Child: testkit.SampleID("c1a1")}, To{Class: testkit.SampleID("c0a0")}
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.actor(t, "ac03"), "assistant of the class": d.assistant, "the parent": d.parent, "nobody": {}} {
		for _, to := range []To{child, class} {
			wantCode(t, name, d.WriteFamilies(ctx, actor, to, "hello"), studio.NotFound)
			_, err := d.MessagesTo(ctx, actor, to)
			wantCode(t, name+" looks", err, studio.NotFound)
			wantCode(t, name+" takes back", d.TakeBackMessage(ctx, actor, to, testkit.SampleID("e0a1")), studio.NotFound)
		}
	}
	wantCode(t, "a class that is not there", d.WriteFamilies(ctx, d.owner, To{Class: uuid.New()}, "hello"), studio.NotFound)
	wantCode(t, "a child that is not there", d.WriteFamilies(ctx, d.owner, To{Child: uuid.New()}, "hello"), studio.NotFound)
	wantCode(t, "no words", d.WriteFamilies(ctx, d.teacher, child, " \n "), studio.Invalid)
	wantCode(t, "too many words", d.WriteFamilies(ctx, d.teacher, child, strings.Repeat("a", 2001)), studio.Invalid)
	if err := d.WriteFamilies(ctx, d.teacher, child, "to the child"); err != nil {
		t.Fatal(err)
	}
	if err := d.WriteFamilies(ctx, d.teacher, class, "to the class"); err != nil {
		t.Fatal(err)
	}
	if action, subject, _ := lastAudit(t, d.App); action != "wrote to families" || !strings.HasSuffix(subject, "c0a0") {
		t.Errorf("the trail says %q of %q", action, subject)
	}
	view, err := d.ReadMessages(ctx, d.parent, child.Child)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"to the child", "to the class", "messageleak-ca", "messageleak-a1"}
	if got := gotNotes(view); len(got) != len(want) || slices.ContainsFunc(want, func(w string) bool { return !slices.Contains(got, w) }) {
		t.Errorf("the parent reads %q, want %q: nothing taken back, nothing from before the child was in the class", got, want)
	}
	other, err := d.ReadMessages(ctx, d.actor(t, "ac07"), testkit.SampleID("c1b1"))
	if err != nil || len(other.Messages) != 2 {
		t.Errorf("another family reads %q, %v", gotNotes(other), err)
	}
	_, err = d.ReadMessages(ctx, d.actor(t, "ac07"), child.Child)
	wantCode(t, "another family", err, studio.NotFound)
}

func TestOpeningAMessageIsKeptOnce(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	child, class := testkit.SampleID("c1a1"), To{Class: testkit.SampleID("c0a0")}
	before, err := d.FamilyChildOf(ctx, d.parent, child)
	if err != nil || before.Fresh != 1 {
		t.Fatalf("%d new messages, %v, want the one to the class", before.Fresh, err)
	}
	for range 2 {
		if _, err := d.ReadMessages(ctx, d.parent, child); err != nil {
			t.Fatal(err)
		}
	}
	sent, err := d.MessagesTo(ctx, d.teacher, class)
	i := slices.IndexFunc(sent.Messages, func(m postgres.SentMessage) bool { return m.Note == "messageleak-ca" })
	if err != nil || i < 0 || sent.Messages[i].Read != 1 {
		t.Errorf("the teacher sees %+v, %v, want it opened by one", sent.Messages, err)
	}
	if after, err := d.FamilyChildOf(ctx, d.parent, child); err != nil || after.Fresh != 0 {
		t.Errorf("%d new messages, %v, want none", after.Fresh, err)
	}
}

func TestAMessageTakenBackIsGone(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	to, message := To{Child: testkit.SampleID("c1a1")}, testkit.SampleID("e0a1")
	wantCode(t, "a message of another child", d.TakeBackMessage(ctx, d.owner, to, testkit.SampleID("e0b1")), studio.NotFound)
	if err := d.TakeBackMessage(ctx, d.teacher, to, message); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "taken back twice", d.TakeBackMessage(ctx, d.teacher, to, message), studio.NotFound)
	view, err := d.ReadMessages(ctx, d.parent, to.Child)
	if err != nil || slices.Contains(gotNotes(view), "messageleak-a1") {
		t.Errorf("the parent reads %q, %v", gotNotes(view), err)
	}
}
