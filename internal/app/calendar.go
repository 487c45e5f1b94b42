package app

import (
	"bytes"
	"context"
	"encoding/hex"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// calendarBehind is how many days of past lessons a calendar holds.
const calendarBehind = 31

// CalendarPage is a guardian's link for calendar programs. Link is nil without one. URL is shown once, when the link was made: the
// program keeps only a hash of its secret.
type CalendarPage struct {
	Link *studio.CalendarLink
	URL  string
	Day  Day
}

// CalendarLink says whether the actor has a link.
func (a *App) CalendarLink(ctx context.Context, actor studio.Actor) (CalendarPage, error) {
	var page CalendarPage
	err := a.within(ctx, actor, studio.KeepCalendar, func(t *postgres.Tx) error {
		page.Day = t.Day()
		link, err := t.CalendarLink(ctx)
		switch {
		case err == nil:
			page.Link = &link
		case studio.CodeOf(err) == studio.NotFound:
			err = nil
		}
		return err
	})
	return page, err
}

// MakeCalendarLink makes a link; an earlier one stops working.
func (a *App) MakeCalendarLink(ctx context.Context, actor studio.Actor) (CalendarPage, error) {
	secret := auth.NewSecret()
	page := CalendarPage{URL: a.settings.BaseURL + "/calendar/" + secret.Text() + ".ics"}
	err := a.within(ctx, actor, studio.KeepCalendar, func(t *postgres.Tx) error {
		if err := t.SetCalendarLink(ctx, secret.Hash()); err != nil {
			return err
		}
		page.Day, page.Link = t.Day(), &studio.CalendarLink{MadeAt: t.Now}
		return t.Audit(ctx, "made a calendar link", "account "+actor.ID.String(), nil)
	})
	return page, err
}

// EndCalendarLink makes the actor's link stop working.
func (a *App) EndCalendarLink(ctx context.Context, actor studio.Actor) error {
	return a.within(ctx, actor, studio.KeepCalendar, func(t *postgres.Tx) error {
		if err := t.EndCalendarLink(ctx); err != nil {
			return err
		}
		return t.Audit(ctx, "ended a calendar link", "account "+actor.ID.String(), nil)
	})
}

// Calendar is the calendar of the guardian who made the link, of which token is the secret part: the lessons of the children of whom
// they are a guardian now. studio.Missing for a link that was ended or never made, and for an account that is locked.
func (a *App) Calendar(ctx context.Context, token string) ([]byte, error) {
	holder, err := a.calendarHolder(ctx, token)
	if err != nil {
		return nil, err
	}
	var file bytes.Buffer
	err = a.db.InTx(ctx, holder, func(t *postgres.Tx) error {
		events, err := a.familyEvents(words.With(ctx, words.Of(ctx).In(holder.Language)), t)
		if err != nil {
			return err
		}
		if err := report.WriteICS(&file, report.Calendar{Name: a.settings.StudioName, Made: t.Now, Events: events}); err != nil {
			return err
		}
		return t.NoteCalendarRead(ctx)
	})
	return file.Bytes(), err
}

// calendarHolder is whose link it is, with the roles of now.
func (a *App) calendarHolder(ctx context.Context, token string) (studio.Actor, error) {
	secret, ok := auth.ParseSecret(token)
	if !ok {
		return studio.Actor{}, studio.Missing()
	}
	var holder studio.Actor
	err := a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(secret.Hash()), func(t *postgres.Tx) error {
		account, err := t.CalendarHolder(ctx, secret.Hash())
		if err != nil {
			return err
		}
		holder, err = t.ActorOf(ctx, account)
		return err
	})
	return holder, err
}

func (a *App) familyEvents(ctx context.Context, t *postgres.Tx) ([]report.Event, error) {
	lessons, err := t.FamilyLessons(ctx, t.Scope.Guards, t.Today.AddDate(0, 0, -calendarBehind))
	if err != nil {
		return nil, err
	}
	var events []report.Event
	for _, together := range byLesson(lessons) {
		events = append(events, a.lessonEvent(words.Of(ctx), together))
	}
	terms, holidays, err := t.FamilyTerms(ctx, t.Scope.Guards)
	for _, d := range familyDays(words.Of(ctx), terms, holidays, t.Today) {
		events = append(events, report.Event{UID: d.UID, Title: d.Name, AllDay: true, Starts: d.From, Ends: d.To})
	}
	return events, err
}

// byLesson puts the siblings of one lesson together.
func byLesson(lessons []postgres.FamilyLesson) [][]postgres.FamilyLesson {
	var groups [][]postgres.FamilyLesson
	for _, l := range lessons {
		i := slices.IndexFunc(groups, func(g []postgres.FamilyLesson) bool { return g[0].ID == l.ID })
		if i < 0 {
			groups = append(groups, []postgres.FamilyLesson{l})
		} else {
			groups[i] = append(groups[i], l)
		}
	}
	return groups
}

// lessonEvent says who has a lesson where and when, and nothing about health: calendar programs pass on what they hold.
func (a *App) lessonEvent(b *words.Book, siblings []postgres.FamilyLesson) report.Event {
	l := siblings[0]
	var names []string
	for _, s := range siblings {
		names = append(names, s.Child)
	}
	title := l.Class + ": " + b.List(names)
	if l.CancelledAt != nil { // also where a calendar program does not show the status
		title = b.Say("calendar.called-off", "Lesson", title)
	}
	start := inZone(l.StartsAt, l.TimeZone)
	return report.Event{UID: l.ID.String(), Title: title, Where: a.settings.StudioName, Starts: start,
		Ends: start.Add(time.Duration(l.Minutes) * time.Minute), Sequence: l.Revision, ChangedAt: l.ChangedAt, CalledOff: l.CancelledAt != nil}
}

// CalendarDay is a showcase, or days without lessons.
type CalendarDay struct {
	UID, Name string
	From, To  time.Time
}

// familyDays are the showcases and holidays that lie ahead, in order.
func familyDays(b *words.Book, terms []studio.Term, holidays []studio.Holiday, today time.Time) []CalendarDay {
	var days []CalendarDay
	for _, term := range terms {
		if s := term.ShowcaseOn; s != nil && !s.Before(today) {
			days = append(days, CalendarDay{term.ID.String() + "-showcase", b.Say("calendar.showcase"), *s, *s})
		}
	}
	for _, h := range holidays {
		days = append(days, CalendarDay{h.ID.String(), b.Say("calendar.no-lessons", "Name", h.Name), h.StartsOn, h.EndsOn})
	}
	slices.SortStableFunc(days, func(x, y CalendarDay) int { return x.From.Compare(y.From) })
	return days
}

// CallOff cancels a lesson that has not begun. Families see it on their page and in their calendars.
func (a *App) CallOff(ctx context.Context, actor studio.Actor, lesson uuid.UUID) error {
	return a.changeCalendar(ctx, actor, lesson, "called off a lesson", (*postgres.Tx).CallOffLesson)
}

// PutBack undoes CallOff.
func (a *App) PutBack(ctx context.Context, actor studio.Actor, lesson uuid.UUID) error {
	return a.changeCalendar(ctx, actor, lesson, "put back a lesson", (*postgres.Tx).PutBackLesson)
}

func (a *App) changeCalendar(ctx context.Context, actor studio.Actor, lesson uuid.UUID, action string, change func(*postgres.Tx, context.Context, uuid.UUID) error) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: lesson}); err != nil {
			return err
		}
		if _, err := t.Lesson(ctx, lesson); err != nil {
			return err
		}
		err := change(t, ctx, lesson)
		if studio.CodeOf(err) == studio.NotFound {
			return &studio.Error{Code: studio.Conflict, Text: "The lesson has begun, or somebody changed this already. Nothing was changed."}
		}
		if err != nil {
			return err
		}
		return t.Audit(ctx, action, "lesson "+lesson.String(), nil)
	})
}

// WebcalURL is a link that calendar programs open by themselves.
func (p CalendarPage) WebcalURL() string {
	_, rest, _ := strings.Cut(p.URL, "://")
	return "webcal://" + rest
}
