package app

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// RequestBook is the page of sign-off requests.
type RequestBook struct {
	Own      *studio.Staff    // nil for an account without a staff record
	Held     []studio.SignOff // own, not revoked, expired ones too
	Choices  []studio.Ladder  // ladders with rungs that are spotted
	Requests []RequestLine    // those that wait first
	Decides  bool             // the reader grants sign-offs
	Today    time.Time
}

// RequestLine is a request in words.
type RequestLine struct {
	studio.SignOffRequest
	Wish string   // "Hold (Handstand)", or "every spotted rung of Handstand"
	Keys []string // the rungs that a grant would name
	Own  bool     // the reader's own: somebody else decides
}

// SignOffRequests reads the requests: one's own, and all of them for those who grant sign-offs.
func (a *App) SignOffRequests(ctx context.Context, actor studio.Actor) (RequestBook, error) {
	var b RequestBook
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		b.Decides = a.may(ctx, t, studio.KeepSignOffs, Target{}) == nil
		if err := a.may(ctx, t, studio.AskSignOff, Target{}); err != nil && !b.Decides {
			return err
		}
		b.Today = t.Today
		own, err := t.OwnStaff(ctx)
		switch {
		case err == nil:
			b.Own = &own
			if b.Held, err = t.OwnSignOffs(ctx, own.ID); err != nil {
				return err
			}
		case studio.CodeOf(err) != studio.NotFound:
			return err
		}
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		b.Choices = l.spotted()
		whose := uuid.Nil
		if !b.Decides {
			if b.Own == nil {
				return nil
			}
			whose = b.Own.ID
		}
		requests, err := t.SignOffRequests(ctx, whose)
		for _, r := range requests {
			line := RequestLine{SignOffRequest: r, Keys: l.wished(r), Own: b.Own != nil && b.Own.ID == r.StaffID}
			if r.RungKey != "" {
				line.Wish = l.rungs[r.RungKey].Name + " (" + l.ladder[l.of[r.RungKey]].Name + ")"
			} else {
				line.Wish = "every spotted rung of " + l.ladder[r.LadderKey].Name
			}
			b.Requests = append(b.Requests, line)
		}
		return err
	})
	return b, err
}

// spotted lists the ladders that have rungs which are spotted, with those rungs only.
func (l *ladders) spotted() []studio.Ladder {
	var all []studio.Ladder
	for _, ladder := range l.Ladders {
		ladder.Rungs = slices.DeleteFunc(slices.Clone(ladder.Rungs), func(r studio.Rung) bool { return r.Spotting.People == 0 })
		if len(ladder.Rungs) > 0 {
			all = append(all, ladder)
		}
	}
	return all
}

// wished are the rungs that a request is about.
func (l *ladders) wished(r studio.SignOffRequest) []string {
	var keys []string
	for _, ladder := range l.spotted() {
		for _, rung := range ladder.Rungs {
			if rung.Key == r.RungKey || ladder.Key == r.LadderKey {
				keys = append(keys, rung.Key)
			}
		}
	}
	return keys
}

// AskSignOff asks to be seen spotting a rung, or every spotted rung of a ladder. A trainee may not ask yet: trainees never spot.
func (a *App) AskSignOff(ctx context.Context, actor studio.Actor, r studio.SignOffRequest) error {
	return a.within(ctx, actor, studio.AskSignOff, func(t *postgres.Tx) error {
		own, err := t.OwnStaff(ctx)
		if err != nil {
			return err
		}
		if own.Trainee {
			return studio.Refuse("Nothing was asked.", []studio.FieldError{{Field: "wish", Problem: "Trainees do not spot. Ask the studio when you are no trainee any more."}})
		}
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		var wrong []studio.FieldError
		if (r.LadderKey == "") == (r.RungKey == "") || len(l.wished(r)) == 0 {
			wrong = append(wrong, studio.FieldError{Field: "wish", Problem: "Choose a rung that is spotted, or a ladder with such rungs."})
		}
		if r.Words = strings.TrimSpace(r.Words); utf8.RuneCountInString(r.Words) > 400 {
			wrong = append(wrong, studio.FieldError{Field: "words", Problem: "At most 400 characters."})
		}
		if err := studio.Refuse("Nothing was asked.", wrong); err != nil {
			return err
		}
		r.StaffID = own.ID
		if err := t.Try(ctx, func() error { return t.AskSignOff(ctx, r) }); studio.CodeOf(err) == studio.Conflict {
			return studio.Refuse("Nothing was asked again.", []studio.FieldError{{Field: "wish", Problem: "You have asked for that already; it waits for a teacher."}})
		} else if err != nil {
			return err
		}
		return t.Audit(ctx, "asked for a sign-off", "staff "+own.ID.String(), map[string]any{"ladder": r.LadderKey, "rung": r.RungKey})
	})
}

// GrantRequest signs the person off for what was asked, from today until a day: the actor has seen it. A trainee is refused.
func (a *App) GrantRequest(ctx context.Context, actor studio.Actor, id uuid.UUID, until time.Time, answer string) error {
	return a.decide(ctx, actor, id, answer, true, func(t *postgres.Tx, r studio.SignOffRequest) error {
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		_, err = grant(ctx, t, SignOffGrant{StaffID: r.StaffID, Rungs: l.wished(r), Until: until})
		return err
	})
}

// DeclineRequest says no, with words.
func (a *App) DeclineRequest(ctx context.Context, actor studio.Actor, id uuid.UUID, answer string) error {
	return a.decide(ctx, actor, id, answer, false, func(t *postgres.Tx, r studio.SignOffRequest) error {
		if strings.TrimSpace(answer) == "" {
			return studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: "answer", Problem: "Say what is still missing, in a few words."}})
		}
		return nil
	})
}

func (a *App) decide(ctx context.Context, actor studio.Actor, id uuid.UUID, answer string, granted bool, then func(*postgres.Tx, studio.SignOffRequest) error) error {
	return a.within(ctx, actor, studio.KeepSignOffs, func(t *postgres.Tx) error {
		r, err := t.SignOffRequest(ctx, id)
		if err != nil {
			return err
		}
		if own, err := t.OwnStaff(ctx); err == nil && own.ID == r.StaffID {
			return &studio.Error{Code: studio.Conflict, Text: "Somebody else decides about your own request. Nothing was changed."}
		}
		if answer = strings.TrimSpace(answer); utf8.RuneCountInString(answer) > 400 {
			return studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: "answer", Problem: "At most 400 characters."}})
		}
		if err := then(t, r); err != nil {
			return err
		}
		if err := t.DecideSignOff(ctx, id, granted, answer); err != nil {
			return err
		}
		if granted {
			return nil // granting wrote to the trail
		}
		return t.Audit(ctx, "declined a sign-off", "staff "+r.StaffID.String(), map[string]any{"ladder": r.LadderKey, "rung": r.RungKey})
	})
}
