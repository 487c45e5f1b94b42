// Package demo is the invented studio that the demonstration shows: its people, term, classes, and a history of marks that follows
// from a seed and the day. Nothing in it is real.
package demo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"time"

	"rungbook/db"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// The studio of the demonstration.
const (
	StudioName = "Tidebell Dance Studio"
	TimeZone   = "Europe/London"
)

// SignIn is an account of the demonstration that can be tried.
type SignIn struct {
	Role, Email, Passphrase string
}

// Load brings the invented studio into an empty database, as of now; where it is already, it stays as it is. Either way the first
// class meets tonight: unless a lesson of it is on now, from 15 minutes before to 15 after, today's is moved to start in about ten
// minutes, and made where the class has none today; it gets a plan unless it has one. The sign-ins come back, also of accounts that have changed since.
func Load(ctx context.Context, use *app.App, now time.Time) ([]SignIn, error) {
	h := &house{use: use, now: now, today: dayOf(now)}
	there, err := h.find(ctx)
	if err != nil {
		return nil, err
	}
	if !there {
		if err := h.found(ctx); err != nil {
			return nil, err
		}
	}
	if err := h.meetTonight(ctx, !there); err != nil {
		return nil, fmt.Errorf("let a class meet tonight: %w", err)
	}
	return signIns(), nil
}

// find looks whether the studio is there, and finds the class that meets tonight: the first one of the newest term, whatever it is called by now.
func (h *house) find(ctx context.Context) (bool, error) {
	people, err := h.use.People(ctx, studio.ProgramActor())
	if err != nil || len(people.Accounts) == 0 {
		return false, err
	}
	classes, err := h.use.ClassRecords(ctx, studio.ProgramActor())
	if err != nil {
		return false, err
	}
	slices.SortStableFunc(classes, func(a, b app.ClassRecord) int {
		return cmp.Or(rank(a)-rank(b), b.Term.StartsOn.Compare(a.Term.StartsOn))
	})
	ours := slices.ContainsFunc(people.Accounts, func(a studio.Account) bool { return a.Email == ownerEmail })
	for _, c := range classes {
		h.tonight, err = h.use.ClassRecord(ctx, studio.ProgramActor(), c.ID)
		if err != nil || ours && hasPast(h.tonight) {
			return err == nil, err
		}
	}
	return false, errors.New("the database holds something else than the whole invented studio: give the demonstration an empty one, or another folder with -dir")
}

func rank(c app.ClassRecord) int {
	if c.Name == courses()[0].name {
		return 0
	}
	return 1
}

// hasPast reports whether anything was noted of a class: the history is the last part of a load.
func hasPast(c app.ClassRecord) bool {
	for _, l := range c.Lessons {
		if l.Touched {
			return true
		}
	}
	return false
}

// found makes the studio, part by part. Each part stands on those before it.
func (h *house) found(ctx context.Context) error {
	for _, part := range []struct {
		name string
		make func(context.Context) error
	}{
		{"library", h.addLibrary}, {"equipment", h.addEquipment}, {"staff", h.addStaff}, {"children", h.addChildren},
		{"accounts", h.addAccounts}, {"term", h.addTerm}, {"classes", h.addClasses}, {"term before", h.addEarlierTerm}, {"sign-offs", h.addSignOffs},
		{"care limits", h.addCare}, {"home drills", h.addHomeDrills}, {"history", h.addHistory}, {"notes about children", h.addChildNotes}, {"effort", h.addEffort}, {"forecasts of past weeks", h.keepForecasts}, {"weeks of the term", h.layOutTerm}, {"pieces", h.addPieces}, {"plan of last week", h.planLastWeek}, {"notes from the hall", h.addHall}, {"notes to parents", h.addParentNotes}, {"families", h.addFamilies}, {"consents", h.addSay}, {"exceptions for home", h.addExceptions},
	} {
		if err := part.make(ctx); err != nil {
			return fmt.Errorf("make the %s: %w", part.name, err)
		}
	}
	return nil
}

func (h *house) addLibrary(ctx context.Context) error {
	library, err := library()
	if err != nil {
		return err
	}
	h.skills = newSkills(library)
	return h.use.ImportLibrary(ctx, studio.ProgramActor(), library)
}

// library is the starter library that ships with the program.
func library() (studio.Library, error) {
	dir, err := fs.Sub(db.Library, "library")
	if err != nil {
		return studio.Library{}, err
	}
	return app.ReadLibrary(dir)
}

// signIns are the accounts to try, one of each role first.
func signIns() []SignIn {
	var first, more []SignIn
	for _, h := range staff() {
		if h.passphrase == "" {
			continue
		}
		in := SignIn{Role: string(h.roles[0]), Email: h.email, Passphrase: h.passphrase}
		if h.email == ownerEmail || h.email == zoeEmail || h.email == lucjaEmail {
			first = append(first, in)
		} else {
			more = append(more, in)
		}
	}
	for _, p := range parents() {
		if p.passphrase == "" {
			continue
		}
		in := SignIn{Role: string(studio.ParentRole), Email: p.email, Passphrase: p.passphrase}
		if p.email == elspethEmail {
			first = append(first, in)
		} else {
			more = append(more, in)
		}
	}
	return append(first, more...)
}
