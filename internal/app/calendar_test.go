package app

import (
	"path"
	"strings"
	"testing"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// secretOf is the secret part of a calendar link.
func secretOf(page CalendarPage) string { return strings.TrimSuffix(path.Base(page.URL), ".ics") }

func TestACalendarLinkIsOnesOwnAndEnds(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	for name, actor := range map[string]studio.Actor{"teacher": d.teacher, "owner": d.owner, "assistant": d.assistant, "nobody": {}} {
		_, err := d.MakeCalendarLink(ctx, actor)
		wantCode(t, name, err, studio.NotFound)
	}
	first, err := d.MakeCalendarLink(ctx, d.parent)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(first.URL, "https://studio.example/calendar/") || !strings.HasPrefix(first.WebcalURL(), "webcal://studio.example/calendar/") {
		t.Errorf("the link is %s", first.URL)
	}
	file, err := d.Calendar(ctx, secretOf(first))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"SUMMARY:Amberclass: Aliquot", "DTSTART:20260304T163000Z", "SUMMARY:Showcase", "DTSTART;VALUE=DATE:20260328", "UID:" + testkit.SampleID("1ea0").String()} {
		if !strings.Contains(string(file), want) {
			t.Errorf("the calendar lacks %q", want)
		}
	}
	for _, secret := range []string{"Berylclass", "Bolide", "Azimuth", "Alderleak", "limitdo", "soreleak", "homewhy", "message"} {
		if strings.Contains(string(file), secret) {
			t.Errorf("the calendar holds %q", secret)
		}
	}
	if page, err := d.CalendarLink(ctx, d.parent); err != nil || page.Link == nil || page.Link.ReadAt == nil || page.URL != "" {
		t.Errorf("the page says %+v, %v, want when it was read, and no link again", page, err)
	}
	second, err := d.MakeCalendarLink(ctx, d.parent)
	if err != nil {
		t.Fatal(err)
	}
	_, err = d.Calendar(ctx, secretOf(first))
	wantCode(t, "a link that was replaced", err, studio.NotFound)
	if err := d.EndCalendarLink(ctx, d.parent); err != nil {
		t.Fatal(err)
	}
	_, err = d.Calendar(ctx, secretOf(second))
	wantCode(t, "a link that was ended", err, studio.NotFound)
	_, err = d.Calendar(ctx, "no secret at all")
	wantCode(t, "no link", err, studio.NotFound)
}

// The link shows what its maker may see now, not what it was made for.
func TestACalendarFollowsTheRightsOfNow(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	link, err := d.MakeCalendarLink(ctx, d.parent)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := ownerConn(t).Exec(ctx, `update guardian set removed_at = now() where account_id = $1`, d.parent.ID); err != nil {
		t.Fatal(err)
	}
	file, err := d.Calendar(ctx, secretOf(link))
	if err != nil || strings.Contains(string(file), "VEVENT") {
		t.Errorf("a removed guardian's calendar: %v\n%s", err, file)
	}
	if _, err := ownerConn(t).Exec(ctx, `update account set disabled_at = now() where id = $1`, d.parent.ID); err != nil {
		t.Fatal(err)
	}
	_, err = d.Calendar(ctx, secretOf(link))
	wantCode(t, "a locked account", err, studio.NotFound)
}

func TestALessonCalledOffIsCancelledInCalendars(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	later, now := testkit.SampleID("1eb0"), testkit.SampleID("1ea0")
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.teacher, "assistant": d.actor(t, "ac05"), "a parent": d.actor(t, "ac07")} {
		wantCode(t, name, d.CallOff(ctx, actor, later), studio.NotFound)
		wantCode(t, name+" puts back", d.PutBack(ctx, actor, later), studio.NotFound)
	}
	wantCode(t, "a lesson that is on", d.CallOff(ctx, d.teacher, now), studio.Conflict)
	link, err := d.MakeCalendarLink(ctx, d.actor(t, "ac07"))
	if err != nil {
		t.Fatal(err)
	}
	says := func(want ...string) {
		t.Helper()
		file, err := d.Calendar(ctx, secretOf(link))
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range want {
			if !strings.Contains(string(file), w) {
				t.Errorf("the calendar lacks %q:\n%s", w, file)
			}
		}
	}
	says("STATUS:CONFIRMED", "SEQUENCE:0")
	if err := d.CallOff(ctx, d.actor(t, "ac03"), later); err != nil {
		t.Fatal(err)
	}
	says("STATUS:CANCELLED", "SEQUENCE:1", "SUMMARY:Called off: Berylclass: Bolide", "UID:"+later.String())
	wantCode(t, "called off twice", d.CallOff(ctx, d.actor(t, "ac03"), later), studio.Conflict)
	view, err := d.FamilyChildOf(ctx, d.actor(t, "ac07"), testkit.SampleID("c1b1"))
	if err != nil || len(view.Lessons) != 1 || !view.Lessons[0].Cancelled {
		t.Errorf("the family sees %+v, %v", view.Lessons, err)
	}
	if err := d.PutBack(ctx, d.actor(t, "ac03"), later); err != nil {
		t.Fatal(err)
	}
	says("STATUS:CONFIRMED", "SEQUENCE:2")
}
