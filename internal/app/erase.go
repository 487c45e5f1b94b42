package app

import (
	"context"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// AskErasure asks the owner to erase what is kept about a child.
func (a *App) AskErasure(ctx context.Context, actor studio.Actor, child uuid.UUID, note string) error {
	note = strings.TrimSpace(note)
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.OwnData, Target{Child: child}); err != nil {
			return err
		}
		if utf8.RuneCountInString(note) > 1000 {
			return studio.Refuse(words.Of(ctx).Say("form.nothing-sent"), []studio.FieldError{{Field: "words", Problem: words.Of(ctx).Count("form.too-long", 1000)}})
		}
		open, err := t.ErasureRequests(ctx, &child)
		if err != nil {
			return err
		}
		if len(open) > 0 && open[0].DecidedAt == nil {
			return &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("data.asked-already")}
		}
		if err := t.AskErasure(ctx, child, note); err != nil {
			return err
		}
		return t.Audit(ctx, "asked to erase a child's data", "child "+child.String(), nil)
	})
}

// ErasureRequests lists what families asked, open ones first.
func (a *App) ErasureRequests(ctx context.Context, actor studio.Actor) ([]studio.ErasureRequest, Day, error) {
	var list []studio.ErasureRequest
	var day Day
	err := a.within(ctx, actor, studio.EraseChild, func(t *postgres.Tx) error {
		day = t.Day()
		var err error
		list, err = t.ErasureRequests(ctx, nil)
		return err
	})
	return list, day, err
}

// mostMentions bounds the words shown to an owner who is about to erase a child.
const mostMentions = 100

// ErasureView is a child that is about to be erased. Request is nil where nobody asked in the program; Until is the last day of the
// incident records that stay. Mentions are words filed elsewhere that hold a name of the child, the latest first; More says that there
// are others.
type ErasureView struct {
	ID        uuid.UUID
	Name      string
	Request   *studio.ErasureRequest
	Incidents int
	Until     time.Time
	Guardians []studio.Guardian
	Mentions  []studio.Mention
	More      bool
	Day       Day
}

// Erasure shows the owner what erasing a child means.
func (a *App) Erasure(ctx context.Context, actor studio.Actor, child uuid.UUID) (ErasureView, error) {
	view := ErasureView{ID: child}
	err := a.within(ctx, actor, studio.EraseChild, func(t *postgres.Tx) error {
		detail, err := unerased(ctx, t, child)
		if err != nil {
			return err
		}
		view.Name = detail.FullName()
		requests, err := t.ErasureRequests(ctx, &child)
		if err != nil {
			return err
		}
		if len(requests) > 0 && requests[0].DecidedAt == nil {
			view.Request = &requests[0]
		}
		if view.Incidents, view.Until, err = t.IncidentsKept(ctx, child); err != nil {
			return err
		}
		if view.Guardians, err = t.GuardiansOfChild(ctx, child); err != nil {
			return err
		}
		view.Day = t.Day()
		if view.Mentions, err = t.Mentions(ctx, child, mostMentions+1); len(view.Mentions) > mostMentions {
			view.Mentions, view.More = view.Mentions[:mostMentions], true
		}
		return err
	})
	return view, err
}

// unerased is the record of a child that was not erased.
func unerased(ctx context.Context, t *postgres.Tx, child uuid.UUID) (studio.ChildDetail, error) {
	detail, err := t.ChildDetail(ctx, child)
	if err == nil && detail.ErasedAt != nil {
		err = studio.Missing()
	}
	return detail, err
}

// EraseChild erases a child for good, and then the files of all reports that hold it, whoever asked for them; where that fails, the
// daily work does it. The owner types the child's full name, and the own passphrase once more.
func (a *App) EraseChild(ctx context.Context, actor studio.Actor, child uuid.UUID, name, passphrase string) error {
	err := a.within(ctx, actor, studio.EraseChild, func(t *postgres.Tx) error {
		detail, err := unerased(ctx, t, child)
		if err != nil {
			return err
		}
		if !strings.EqualFold(strings.Join(strings.Fields(name), " "), strings.Join(strings.Fields(detail.FullName()), " ")) {
			return studio.Refuse("Nothing was erased.", []studio.FieldError{{Field: "name", Problem: "Type the child's name as it stands above."}})
		}
		if err := a.again(ctx, t, passphrase, "Nothing was erased."); err != nil {
			return err
		}
		if err := t.OpenErasure(ctx, child); err != nil {
			return err
		}
		asked, err := t.DecideErasure(ctx, child, true, "")
		if err != nil {
			return err
		}
		if err := t.EraseChild(ctx, child); err != nil {
			return err
		}
		return t.Audit(ctx, "erased a child", "child "+child.String(), map[string]any{"asked": asked})
	})
	if err != nil {
		return err
	}
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error { return t.StopBundlesOfErased(ctx) })
}

// DeclineErasure tells a family why what it asked is not done.
func (a *App) DeclineErasure(ctx context.Context, actor studio.Actor, child uuid.UUID, answer string) error {
	answer = strings.TrimSpace(answer)
	return a.within(ctx, actor, studio.EraseChild, func(t *postgres.Tx) error {
		if n := utf8.RuneCountInString(answer); n == 0 || n > 1000 {
			return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "answer", Problem: "Say why not, and what the family can do, in at most 1000 characters."}})
		}
		asked, err := t.DecideErasure(ctx, child, false, answer)
		if err != nil {
			return err
		}
		if !asked {
			return studio.Missing()
		}
		return t.Audit(ctx, "declined to erase a child", "child "+child.String(), nil)
	})
}
