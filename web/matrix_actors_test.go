package web_test

import (
	"slices"
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// who is an actor of the matrix; sample.sql has their accounts.
type who struct {
	name    string
	account string // the end of the account's id; "" is nobody
	role    studio.Role
}

var (
	nobody      = who{"anonymous", "", ""}
	locked      = who{"disabled account", "ac09", ""} // once an owner and the teacher of class A
	owner       = who{"owner", "ac01", studio.OwnerRole}
	teacherA    = who{"teacher of A", "ac02", studio.TeacherRole}
	teacherB    = who{"teacher of B", "ac03", studio.TeacherRole}
	helperNow   = who{"assistant in window", "ac04", studio.AssistantRole}      // at lesson A, which is on
	helperLater = who{"assistant outside window", "ac05", studio.AssistantRole} // at lesson B, in three hours
	parentA     = who{"parent of A", "ac06", studio.ParentRole}                 // once also a guardian of child B: removed
	parentB     = who{"parent of B", "ac07", studio.ParentRole}
)

var actors = []who{nobody, locked, owner, teacherA, teacherB, helperNow, helperLater, parentA, parentB}

func (w who) signedIn() bool { return w != nobody && w != locked }

// record is what a page is about.
type record string

const (
	wholeStudio record = "studio"
	aClass      record = "class"
	aLesson     record = "lesson"
	aChild      record = "child"
)

// variant says whose record the path of a request names.
type variant string

const (
	plain     variant = "no record"
	ofA       variant = "of A"
	ofB       variant = "of B"
	mateOfA   variant = "classmate of child A"
	pastOfA   variant = "last week's lesson of A"
	mixed     variant = "record of A, part of B"
	mixedNone variant = "record of A, part that does not exist"
	absent    variant = "nonexistent"
	malformed variant = "malformed"
	broken    variant = "malformed, of an id's length"
)

func (v variant) exists() bool {
	return v == plain || v == ofA || v == ofB || v == mateOfA || v == pastOfA
}

// reach is how far a grant goes.
type reach string

const (
	everywhere reach = "everywhere"
	ownClass   reach = "own class"
	helping    reach = "helping now"
	ownChild   reach = "own child"
	reporting  reach = "own child, with the right to report"
	reading    reach = "own child, with the right to read reports"
	inviting   reach = "own child, with the right to invite"
)

type grants map[studio.Role]reach

// wanted is who may do what, as the studio was promised it: written by hand from the description of the trust model, never derived
// from internal/app. What is not here is refused.
var wanted = map[studio.Action]grants{
	studio.SeeToday:   {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere, studio.AssistantRole: everywhere, studio.ParentRole: everywhere},
	studio.OwnAccount: {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere, studio.AssistantRole: everywhere, studio.ParentRole: everywhere},

	studio.GuardAccount: {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere, studio.AssistantRole: everywhere, studio.ParentRole: everywhere},

	studio.SeeStudio:     {studio.OwnerRole: everywhere},
	studio.KeepPeople:    {studio.OwnerRole: everywhere},
	studio.KeepClasses:   {studio.OwnerRole: everywhere},
	studio.KeepEquipment: {studio.OwnerRole: everywhere},
	studio.KeepSettings:  {studio.OwnerRole: everywhere},
	studio.ImportRoster:  {studio.OwnerRole: everywhere},
	studio.KeepConsents:  {studio.OwnerRole: everywhere},
	studio.EraseChild:    {studio.OwnerRole: everywhere},
	studio.KeepSignOffs:  {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere},
	studio.SeeCover:      {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},

	studio.ReadLibrary: {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere, studio.AssistantRole: everywhere},
	studio.EditLibrary: {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere},

	studio.SeeClass:     {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.KeepPacing:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.SeeChild:     {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.KeepNotes:    {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.SeeHistory:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.MarkChild:    {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass, studio.AssistantRole: helping},
	studio.LimitChild:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.AssignHome:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.SeeLesson:    {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.KeepLesson:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.PlanLesson:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.SeeStations:  {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass, studio.AssistantRole: helping},
	studio.RunSheet:     {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass, studio.AssistantRole: helping},
	studio.SendMarks:    {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere, studio.AssistantRole: everywhere},
	studio.KeepIncident: {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.AskSignOff:   {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere, studio.AssistantRole: everywhere},
	studio.SeeReports:   {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.ExportReport: {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.WriteReport:  {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},

	studio.BundleReports: {studio.OwnerRole: everywhere}, // each their own

	studio.ReadForecasts:  {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere},
	studio.FitForecasts:   {studio.OwnerRole: everywhere},
	studio.JudgeForecasts: {studio.OwnerRole: everywhere},
	studio.SeeAgreement:   {studio.OwnerRole: everywhere, studio.TeacherRole: everywhere},

	studio.SeeHome:        {studio.ParentRole: ownChild},
	studio.ReportSoreness: {studio.ParentRole: reporting},
	studio.ReadOwnReport:  {studio.ParentRole: reading},
	studio.KeepGuardians:  {studio.ParentRole: inviting},
	studio.NotePractice:   {studio.ParentRole: ownChild},
	studio.AnswerConsent:  {studio.ParentRole: ownChild},
	studio.OwnData:        {studio.ParentRole: ownChild},
	studio.KeepCalendar:   {studio.ParentRole: everywhere},
	studio.WriteFamilies:  {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
	studio.ReleaseReport:  {studio.OwnerRole: everywhere, studio.TeacherRole: ownClass},
}

// open are the actions that nobody needs to be signed in for.
var open = []studio.Action{studio.SignIn, studio.Join, studio.ReadCalendar}

// stands reports whether the actor stands to the records of a variant in the way that the reach asks for.
func stands(w who, to reach, on record, v variant) bool {
	switch to {
	case everywhere:
		return true
	case ownClass:
		return w == teacherA && (v == plain || v == ofA || v == mateOfA || v == pastOfA) || w == teacherB && (v == plain || v == ofB)
	case helping:
		return w == helperNow && (v == ofA || v == mateOfA) && on != aClass
	case ownChild, reporting, reading, inviting: // both parents have all rights
		return w == parentA && (v == plain || v == ofA) || w == parentB && (v == plain || v == ofB)
	}
	return false
}

// may reports whether the actor may do the action on the record of the variant, by the table above.
func may(w who, action studio.Action, on record, v variant) bool {
	if slices.Contains(open, action) {
		return v.exists()
	}
	to, granted := wanted[action][w.role]
	return w.signedIn() && granted && v.exists() && stands(w, to, on, v)
}

// Each cell of action x role x reach in the program's policy is the one promised: a grant that is added, dropped or widened shows.
func TestPolicyIsTheOnePromised(t *testing.T) {
	relations := map[reach]app.Relation{everywhere: app.Anywhere, ownClass: app.OwnClass, helping: app.RosteredNow, ownChild: app.OwnChild, reporting: app.ReportsFor, reading: app.ReadsFor, inviting: app.InvitesTo}
	actions := slices.Clone(open)
	for _, g := range app.StudioPolicy() {
		actions = append(actions, g.Action)
	}
	for a := range wanted {
		actions = append(actions, a)
	}
	slices.Sort(actions)
	cells := 0
	for _, action := range slices.Compact(actions) {
		for _, role := range []studio.Role{"", studio.OwnerRole, studio.TeacherRole, studio.AssistantRole, studio.ParentRole} {
			for _, relation := range []app.Relation{app.Anyone, app.Anywhere, app.OwnClass, app.RosteredNow, app.OwnChild, app.ReportsFor, app.ReadsFor, app.InvitesTo} {
				cells++
				promised := role == "" && relation == app.Anyone && slices.Contains(open, action)
				if to, ok := wanted[action][role]; ok {
					promised = relations[to] == relation
				}
				if granted := slices.Contains(app.StudioPolicy(), app.Grant{Action: action, Role: role, Relation: relation}); granted != promised {
					t.Errorf("%q, role %q, relation %d: granted %v, promised %v", action, role, relation, granted, promised)
				}
			}
		}
	}
	t.Logf("%d cells of action x role x relation", cells)
}
