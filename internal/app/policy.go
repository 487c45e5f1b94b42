package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Relation is how an actor stands to the record that an action is about.
type Relation int

// The relations.
const (
	Anyone      Relation = iota // nobody needs to be signed in
	Anywhere                    // holding the role is enough
	OwnClass                    // takes the class today, or cover of a day; for a child: a class that the child is in
	RosteredNow                 // helps at the lesson, from 15 minutes before to 15 after
	OwnChild                    // a guardian of the child
	ReportsFor                  // a guardian of the child who may report that something hurts
	ReadsFor                    // a guardian of the child who may read released reports
	InvitesTo                   // a guardian of the child who may let others in
)

// Grant lets a role do an action on records to which it stands in the relation.
type Grant struct {
	Action   studio.Action
	Role     studio.Role
	Relation Relation
}

// Policy is the whole of who may do what: what no grant allows is refused.
type Policy []Grant

// StudioPolicy is the policy table. It is the only place where the program decides about permission; row-level security in the
// database is the second line and holds alone.
func StudioPolicy() Policy {
	const (
		owner     = studio.OwnerRole
		teacher   = studio.TeacherRole
		assistant = studio.AssistantRole
		parent    = studio.ParentRole
	)
	return Policy{
		{studio.SignIn, "", Anyone},
		{studio.Join, "", Anyone},

		{studio.SeeToday, owner, Anywhere}, {studio.SeeToday, teacher, Anywhere}, {studio.SeeToday, assistant, Anywhere}, {studio.SeeToday, parent, Anywhere},
		{studio.OwnAccount, owner, Anywhere}, {studio.OwnAccount, teacher, Anywhere}, {studio.OwnAccount, assistant, Anywhere}, {studio.OwnAccount, parent, Anywhere},

		{studio.GuardAccount, owner, Anywhere}, {studio.GuardAccount, teacher, Anywhere}, {studio.GuardAccount, assistant, Anywhere}, {studio.GuardAccount, parent, Anywhere},

		{studio.SeeStudio, owner, Anywhere},
		{studio.KeepPeople, owner, Anywhere},
		{studio.KeepClasses, owner, Anywhere},
		{studio.KeepEquipment, owner, Anywhere},
		{studio.KeepSignOffs, owner, Anywhere}, {studio.KeepSignOffs, teacher, Anywhere},
		{studio.SeeCover, owner, Anywhere}, {studio.SeeCover, teacher, OwnClass},
		{studio.KeepSettings, owner, Anywhere},
		{studio.ImportRoster, owner, Anywhere},
		{studio.KeepConsents, owner, Anywhere},
		{studio.EraseChild, owner, Anywhere},

		{studio.ReadLibrary, owner, Anywhere}, {studio.ReadLibrary, teacher, Anywhere}, {studio.ReadLibrary, assistant, Anywhere},
		{studio.EditLibrary, owner, Anywhere}, {studio.EditLibrary, teacher, Anywhere},

		{studio.SeeClass, owner, Anywhere}, {studio.SeeClass, teacher, OwnClass},
		{studio.KeepPacing, owner, Anywhere}, {studio.KeepPacing, teacher, OwnClass},
		{studio.SeeChild, owner, Anywhere}, {studio.SeeChild, teacher, OwnClass},
		{studio.KeepNotes, owner, Anywhere}, {studio.KeepNotes, teacher, OwnClass},
		{studio.SeeHistory, owner, Anywhere}, {studio.SeeHistory, teacher, OwnClass},
		{studio.MarkChild, owner, Anywhere}, {studio.MarkChild, teacher, OwnClass}, {studio.MarkChild, assistant, RosteredNow},
		{studio.LimitChild, owner, Anywhere}, {studio.LimitChild, teacher, OwnClass},
		{studio.AssignHome, owner, Anywhere}, {studio.AssignHome, teacher, OwnClass},
		{studio.SeeLesson, owner, Anywhere}, {studio.SeeLesson, teacher, OwnClass},
		{studio.KeepLesson, owner, Anywhere}, {studio.KeepLesson, teacher, OwnClass},
		{studio.PlanLesson, owner, Anywhere}, {studio.PlanLesson, teacher, OwnClass},
		{studio.SeeStations, owner, Anywhere}, {studio.SeeStations, teacher, OwnClass}, {studio.SeeStations, assistant, RosteredNow},
		{studio.RunSheet, owner, Anywhere}, {studio.RunSheet, teacher, OwnClass}, {studio.RunSheet, assistant, RosteredNow},
		{studio.SendMarks, owner, Anywhere}, {studio.SendMarks, teacher, Anywhere}, {studio.SendMarks, assistant, Anywhere},
		{studio.KeepIncident, owner, Anywhere}, {studio.KeepIncident, teacher, OwnClass},
		{studio.AskSignOff, owner, Anywhere}, {studio.AskSignOff, teacher, Anywhere}, {studio.AskSignOff, assistant, Anywhere},
		{studio.SeeReports, owner, Anywhere}, {studio.SeeReports, teacher, OwnClass},
		{studio.ExportReport, owner, Anywhere}, {studio.ExportReport, teacher, OwnClass},
		{studio.WriteReport, owner, Anywhere}, {studio.WriteReport, teacher, OwnClass},
		{studio.BundleReports, owner, Anywhere},

		{studio.ReadForecasts, owner, Anywhere}, {studio.ReadForecasts, teacher, Anywhere},
		{studio.FitForecasts, owner, Anywhere},
		{studio.JudgeForecasts, owner, Anywhere},
		{studio.SeeAgreement, owner, Anywhere}, {studio.SeeAgreement, teacher, Anywhere},

		{studio.SeeHome, parent, OwnChild},
		{studio.ReportSoreness, parent, ReportsFor},
		{studio.ReadOwnReport, parent, ReadsFor},
		{studio.KeepGuardians, parent, InvitesTo},
		{studio.NotePractice, parent, OwnChild},
		{studio.AnswerConsent, parent, OwnChild},
		{studio.OwnData, parent, OwnChild},
		{studio.KeepCalendar, parent, Anywhere},
		{studio.ReadCalendar, "", Anyone},
		{studio.WriteFamilies, owner, Anywhere}, {studio.WriteFamilies, teacher, OwnClass},
		{studio.ReleaseReport, owner, Anywhere}, {studio.ReleaseReport, teacher, OwnClass},
	}
}

// Open reports whether nobody needs to be signed in for the action.
func (p Policy) Open(action studio.Action) bool {
	return slices.ContainsFunc(p, func(g Grant) bool { return g.Action == action && g.Relation == Anyone })
}

// Offers reports whether any of the actor's roles has a grant for the action, on whatever record.
func (p Policy) Offers(actor studio.Actor, action studio.Action) bool {
	return slices.ContainsFunc(p, func(g Grant) bool {
		return g.Action == action && g.holds(actor)
	})
}

// holds reports whether the grant is for somebody of the actor's roles. Who must set a code or a passkey up first may do nothing else.
func (g Grant) holds(actor studio.Actor) bool {
	return g.Relation == Anyone || actor.Is(g.Role) && (!actor.Unguarded || g.Action == studio.GuardAccount)
}

// Target is the record that an action is about; the parts that are not concerned stay zero.
type Target struct {
	Class, Lesson, Child uuid.UUID
	Enrolled             []uuid.UUID // the classes of the child, where they have been read; nil where not
}

// may returns studio.Missing unless a grant of the actor covers the target. Whatever the target names must exist.
func (a *App) may(ctx context.Context, t *postgres.Tx, action studio.Action, on Target) error {
	for _, g := range a.policy {
		if g.Action != action || !g.holds(t.Actor) {
			continue
		}
		holds, err := relates(ctx, t, g.Relation, on)
		if err != nil || holds {
			return err
		}
	}
	return studio.Missing()
}

func relates(ctx context.Context, t *postgres.Tx, r Relation, on Target) (bool, error) {
	switch r {
	case Anyone, Anywhere:
		return true, nil
	case OwnClass:
		return takes(ctx, t, on)
	case RosteredNow:
		return t.Scope.HelpsAt(on.Lesson), nil
	case OwnChild:
		return t.Scope.Guides(on.Child), nil
	case ReportsFor:
		return t.Scope.Reports(on.Child), nil
	case ReadsFor:
		return t.Scope.Reads(on.Child), nil
	case InvitesTo:
		return t.Scope.Invites(on.Child), nil
	}
	return false, nil
}

func takes(ctx context.Context, t *postgres.Tx, on Target) (bool, error) {
	switch {
	case on.Class != uuid.Nil:
		return t.Scope.Takes(on.Class), nil
	case on.Lesson != uuid.Nil:
		class, err := t.ClassOfLesson(ctx, on.Lesson)
		return err == nil && t.Scope.Takes(class), err
	case on.Child != uuid.Nil:
		classes, err := on.Enrolled, error(nil)
		if classes == nil {
			classes, err = t.ClassesOfChild(ctx, on.Child)
		}
		return slices.ContainsFunc(classes, t.Scope.Takes), err
	}
	return len(t.Scope.Teaches) > 0, nil
}
