package app

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// about runs each use case that is about one child.
func (d *desk) about(t *testing.T, actor studio.Actor, child uuid.UUID) map[string]error {
	ctx, errs := t.Context(), map[string]error{}
	_, errs["where it stands"] = d.ChildOf(ctx, actor, child)
	_, errs["its marks"] = d.MarksOfChild(ctx, actor, child, "", uuid.Nil)
	_, errs["its care"] = d.CareOf(ctx, actor, child)
	_, errs["the reason of a limit"] = d.LimitReason(ctx, actor, child, testkit.SampleID("ca01"))
	_, errs["what it has at home"] = d.HomeworkOf(ctx, actor, child, "")
	errs["a new mark"] = d.WriteMark(ctx, actor, NewMark{Child: child, Rung: "hs-return", Side: studio.NoSide, Outcome: studio.Clean})
	review := date("2026-03-18")
	_, errs["what is ahead"] = d.AheadOf(ctx, actor, child)
	_, errs["its notes"] = d.NotesOf(ctx, actor, child)
	_, errs["its history"] = d.HistoryOf(ctx, actor, child)
	errs["a new note"] = d.WriteNote(ctx, actor, child, "Shown first, then tried.")
	errs["a mark taken back"] = d.StrikeMark(ctx, actor, child, testkit.SampleID("a0a1"))
	errs["a new limit"] = d.SetLimit(ctx, actor, NewLimit{CareLimit: studio.CareLimit{ChildID: child, AvoidBack: true, Action: "No back-bends", FromOn: date("2026-03-04"), ReviewOn: &review}})
	errs["a drill for home"] = d.SendHome(ctx, actor, NewHome{Child: child, Drill: "d-dish", Dose: studio.Dose{Sets: 1, Repeats: 1}, From: date("2026-03-04"), Until: date("2026-03-10")})
	errs["a drill taken back"] = d.TakeBack(ctx, actor, child, testkit.SampleID("40a1"))
	errs["a limit cleared"] = d.ClearLimit(ctx, actor, child, testkit.SampleID("ca01"), "seen by the doctor")
	return errs
}

func TestAChildIsForItsTeachersAndTheOwner(t *testing.T) {
	d := openDesk(t)
	child := testkit.SampleID("c1a1")
	for name, c := range map[string]struct {
		actor studio.Actor
		child uuid.UUID
	}{
		"teacher of another class cannot see the child": {d.actor(t, "ac03"), child},
		"assistant in the lesson cannot see the child":  {d.assistant, child},
		"parent cannot see the staff's pages":           {d.parent, child},
		"nobody sees a child that is not there":         {d.owner, uuid.New()},
		"teacher sees no child of another class":        {d.teacher, testkit.SampleID("c1b1")},
		"somebody signed out sees nothing":              {studio.Actor{}, child},
	} {
		for what, err := range d.about(t, c.actor, c.child) {
			wantCode(t, name+": "+what, err, studio.NotFound)
		}
	}
	for what, err := range d.about(t, d.teacher, child) {
		if err != nil {
			t.Errorf("teacher of the class: %s: %v", what, err)
		}
	}
	_, err := d.ChildOf(t.Context(), d.owner, child)
	if err != nil {
		t.Errorf("owner: %v", err)
	}
}

// The second line alone: the database shows a birth date to no assistant, whatever is asked of it.
func TestAssistantCannotReadABirthDate(t *testing.T) {
	d := openDesk(t)
	err := d.db.InTx(t.Context(), d.assistant, func(tx *postgres.Tx) error {
		_, err := tx.Pupil(t.Context(), testkit.SampleID("c1a1"))
		return err
	})
	wantCode(t, "assistant asks for a birth date", err, studio.NotFound)
}

func TestListsHoldOnlyOnesOwn(t *testing.T) {
	d := openDesk(t)
	for name, c := range map[string]struct {
		actor             studio.Actor
		classes, children []string
	}{
		"owner":                   {d.owner, []string{"Amberclass", "Berylclass"}, []string{"Aliquot Alderleak", "Azimuth Cedarleak", "Bolide Birchleak"}},
		"teacher of A":            {d.teacher, []string{"Amberclass"}, []string{"Aliquot Alderleak", "Azimuth Cedarleak"}},
		"teacher of B":            {d.actor(t, "ac03"), []string{"Berylclass"}, []string{"Bolide Birchleak"}},
		"assistant has no lists":  {d.assistant, nil, nil},
		"parent has no such list": {d.parent, nil, nil},
	} {
		classes, classErr := d.ClassesTaken(t.Context(), c.actor)
		children, childErr := d.ChildrenTaken(t.Context(), c.actor, "")
		if c.classes == nil {
			wantCode(t, name, classErr, studio.NotFound)
			wantCode(t, name, childErr, studio.NotFound)
			continue
		}
		var names []string
		for _, l := range classes {
			names = append(names, l.Name)
		}
		if !slices.Equal(names, c.classes) {
			t.Errorf("%s: classes %v, want %v", name, names, c.classes)
		}
		names = nil
		for _, l := range children {
			names = append(names, l.Name)
		}
		if !slices.Equal(names, c.children) {
			t.Errorf("%s: children %v, want %v", name, names, c.children)
		}
	}
	found, err := d.ChildrenTaken(t.Context(), d.owner, "CEDAR")
	if err != nil || len(found) != 1 || found[0].Name != "Azimuth Cedarleak" {
		t.Errorf("a search for part of a name found %v, %v", found, err)
	}
}

func TestClassShowsWhereEverybodyStands(t *testing.T) {
	d := openDesk(t)
	class := testkit.SampleID("c0a0")
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.actor(t, "ac03"), "assistant": d.assistant, "parent": d.parent} {
		_, err := d.ClassOf(t.Context(), actor, class, ClassAsk{})
		wantCode(t, name, err, studio.NotFound)
	}
	view, err := d.ClassOf(t.Context(), d.teacher, class, ClassAsk{Sort: ByReadiness})
	if err != nil {
		t.Fatal(err)
	}
	if len(view.Children) != 2 || len(view.Ladders) != 1 || view.Ladders[0].Key != "handstand" {
		t.Fatalf("%d children on ladders %v, want two on the ladder of the term", len(view.Children), view.Ladders)
	}
	if next := view.Children[0].Cells[0].Next; next != 0 {
		t.Errorf("next rung is number %d, want the lowest that is not secure", next)
	}
	if got := view.Ladders[0].Rungs; len(got) != 1 || len(got[0].Names) != 2 {
		t.Errorf("the spread is %v, want both children at the first rung", got)
	}
	if len(view.Past) != 1 || len(view.Next) != 1 {
		t.Errorf("%d past and %d next lessons, want one each: the lesson that is on is not past", len(view.Past), len(view.Next))
	}
	if got := view.Children[0].Limits; !slices.Contains(got, "limitdo-a1") {
		t.Errorf("limits are %v, want the action that holds today", got)
	}
}

func TestTheDayOfEachRole(t *testing.T) {
	d := openDesk(t)
	teacher, err := d.TodayOf(t.Context(), d.teacher)
	if err != nil {
		t.Fatal(err)
	}
	if teacher.Staff == nil || len(teacher.Staff.Lessons) != 1 || teacher.Staff.Lessons[0].Class != "Amberclass" {
		t.Fatalf("the teacher's day is %+v, want the own lesson alone", teacher.Staff)
	}
	if l := teacher.Staff.Lessons[0]; l.Children != 2 || l.Cover == "" || l.Short {
		t.Errorf("cover is %q (short %v) for %d children: two adults are there and two are needed (NSPCC floor)", l.Cover, l.Short, l.Children)
	}
	helper, err := d.TodayOf(t.Context(), d.assistant)
	if err != nil || helper.Staff != nil || helper.Assistant == nil || len(helper.Assistant.Now) != 1 {
		t.Errorf("the assistant's day is %+v, %v, want the lesson that is on", helper, err)
	}
	later, err := d.TodayOf(t.Context(), d.actor(t, "ac05"))
	if err != nil || later.Assistant == nil || len(later.Assistant.Now) != 0 || later.Assistant.Next == nil || later.Assistant.Next.Class != "Berylclass" {
		t.Errorf("the day of an assistant before the lesson is %+v, %v, want when it is", later.Assistant, err)
	}
	parent, err := d.TodayOf(t.Context(), d.parent)
	if err != nil || parent.Staff != nil || parent.Assistant != nil || len(parent.Family) != 1 {
		t.Errorf("a parent's day is %+v, %v, want the own child alone", parent, err)
	}
	owner, err := d.TodayOf(t.Context(), d.owner)
	if err != nil || owner.Staff == nil || len(owner.Staff.Lessons) != 2 {
		t.Errorf("the owner's day is %+v, %v, want both lessons", owner.Staff, err)
	}
	d.now = d.now.Add(30 * time.Hour)
	if _, err := d.TodayOf(t.Context(), d.teacher); err != nil {
		t.Errorf("a day without lessons: %v", err)
	}
}

func TestMarksAreCorrectedByNewOnes(t *testing.T) {
	d := openDesk(t)
	child, old := testkit.SampleID("c1a1"), testkit.SampleID("a0a1")
	write := func(m NewMark) error {
		m.Child, m.Side = child, studio.NoSide
		return d.WriteMark(t.Context(), d.teacher, m)
	}
	wantCode(t, "a fault of another rung", write(NewMark{Rung: "hs-hold", Outcome: studio.Missed, Faults: []string{"arms-bend"}}), studio.Invalid)
	wantCode(t, "no outcome", write(NewMark{Rung: "hs-return"}), studio.Invalid)
	wantCode(t, "no such rung", write(NewMark{Rung: "no-rung", Outcome: studio.Clean}), studio.Invalid)
	wantCode(t, "a lesson of another class", write(NewMark{Rung: "hs-return", Outcome: studio.Clean, Lesson: testkit.SampleID("1eb0")}), studio.Invalid)
	wantCode(t, "a mark of another child", write(NewMark{Outcome: studio.Clean, Replaces: testkit.SampleID("a0b1"), Why: "x"}), studio.Conflict)
	wantCode(t, "a correction that does not say why", write(NewMark{Outcome: studio.Clean, Replaces: old}), studio.Invalid)
	if err := write(NewMark{Outcome: studio.Clean, Replaces: old, Why: "Typed on the wrong row"}); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "a mark that was corrected", write(NewMark{Outcome: studio.Missed, Replaces: old, Why: "again"}), studio.Conflict)
	view, err := d.MarksOfChild(t.Context(), d.teacher, child, "", uuid.Nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(view.Marks) != 1 || view.Marks[0].Outcome != studio.Clean || !view.Marks[0].Corrects || view.Marks[0].LessonID != testkit.SampleID("1ea9") ||
		!view.Marks[0].SeenAt.Equal(time.Date(2026, 2, 25, 17, 0, 0, 0, time.UTC)) {
		t.Errorf("marks in force are %+v, want the correction alone, on the day and in the lesson of the first", view.Marks)
	}
	var kept int
	if err := ownerConn(t).QueryRow(t.Context(), `select count(*) from mark where child_id = $1`, child).Scan(&kept); err != nil || kept != 2 {
		t.Errorf("%d marks are kept, %v, want both", kept, err)
	}
}
