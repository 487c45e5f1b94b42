package app

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func cinderclass() uuid.UUID { return testkit.SampleID("c0c0") }

// reportStudio is the sample studio with Cinderclass, at a moment.
func reportStudio(t *testing.T, now time.Time) *App {
	t.Helper()
	db := testkit.Fill(t)
	more, err := os.ReadFile("testdata/report.sql")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := ownerConn(t).Exec(t.Context(), string(more)); err != nil {
		t.Fatal(err)
	}
	opened, err := postgres.Open(t.Context(), db.App, func() time.Time { return now }, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(opened.Close)
	return New(opened, StudioPolicy(), nil, Settings{StudioName: "Sample studio", TimeZone: "UTC"})
}

func sampleActor(end string, roles ...studio.Role) studio.Actor {
	return studio.Actor{ID: testkit.SampleID(end), Name: "Tester", Roles: roles}
}

func cinderTeacher() studio.Actor { return sampleActor("ac02", studio.TeacherRole) }

func readTermReport(t *testing.T, a *App, actor studio.Actor) report.TermReport {
	t.Helper()
	var r classReport
	err := a.db.InTx(t.Context(), actor, func(tx *postgres.Tx) error {
		var err error
		r, err = a.readReport(t.Context(), tx, cinderclass(), uuid.Nil)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return r.TermReport
}

func on(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// What Cinderclass's marks say on 4 March, worked out by hand from the rule (4 of the last 5 clean, in 2 lessons) and the memory
// (half-life of 21 days, grown by 1.7 with a clean mark 3 days or more after the last; recheck below one half):
//
//	Ada, low wheel: C C x | C C, so the rule is first met by the last mark of 13 January, with 4 of 5 clean in 2 lessons. The two
//	  clean marks of 3 March would say 5 of 5 from 13 January on; the report tells what it was on the day.
//	Ada, wheel on a line: x C | C s | C, the last one corrected from missed: 3 of 5, not secure. Two clean marks of 7 April lie ahead.
//	  Wilson with z = 1.959964: (0.6 + z²/10 ± z sqrt(0.24/5 + z²/100)) / (1 + z²/5) = (0.984146 ± 0.576158) / 1.768292.
//	Ada, wheel to a lunge: waits for the wheel on a line alone, which is in work.
//	Ada, rocking ball: secure on 9 December, half-life then 21 x 1.7 = 35.7 days; 85 days unseen leave 2^(-85/35.7) = 0.19.
//	Ada came to 5 of 6 lessons: 3 February was cancelled, 10 March is to come.
//	Ben, low wheel: one clean turn with a fault that can hurt, which does not count as clean, and one without: 1 of 2. Wilson:
//	  (0.5 + z²/4 ± z sqrt(0.25/2 + z²/16)) / (1 + z²/2) = (1.460365 ± 1.184098) / 2.920729.
//	  His care limit keeps the wheel on a line from being named as next and the lean on the hands from being sent home.
//	Ben has 4 lessons since he came, of which 2 were noted. Cleo left before the term, Eli after one lesson, Dee was never marked.
func TestReportSaysWhatTheMarksSay(t *testing.T) {
	r := readTermReport(t, reportStudio(t, testkit.SampleNow()), cinderTeacher())
	if r.Studio != "Sample studio" || r.Class != "Cinderclass" || r.Term != "Spring" || !r.From.Equal(on(2026, 1, 5)) || !r.To.Equal(on(2026, 4, 3)) || !r.Prepared.Equal(on(2026, 3, 4)) {
		t.Errorf("heading: %+v", r)
	}
	var names []string
	for _, c := range r.Children {
		names = append(names, c.Name)
	}
	if want := []string{"Ada Cinder", "Ben Cinder", "Dee Cinder", "Eli Cinder"}; !slices.Equal(names, want) {
		t.Fatalf("children %q, want %q", names, want)
	}
	ada, ben, dee, eli := r.Children[0], r.Children[1], r.Children[2], r.Children[3]
	equal(t, "Ada secured", ada.Secured, []report.Secured{{Ladder: "Wheel", Rung: "Low wheel", On: on(2026, 1, 13), Evidence: "4 of the last 5 clean, in 2 lessons."}})
	working(t, ada, 3, 5, (0.984146-0.576158)/1.768292, (0.984146+0.576158)/1.768292)
	equal(t, "Ada recheck", ada.Recheck, []report.Recheck{{Ladder: "Rock", Rung: "Rocking ball", LastSeen: on(2025, 12, 9),
		Why: "Secure then; long unseen."}})
	equal(t, "Ada next", ada.Next, []report.Next{{Ladder: "Wheel", Rung: "Wheel to a lunge", Why: "Opens once “Wheel on a line” is secure."}})
	equal(t, "Ada ladders", ada.Ladders, []report.Ladder{{Name: "Wheel", Rungs: []report.Rung{{Name: "Low wheel", State: "secure", Clean: 6, Marks: 7},
		{Name: "Wheel on a line", State: "working", Clean: 3, Marks: 5}, {Name: "Wheel to a lunge", State: "waiting"}}}})
	equal(t, "Ada at home", ada.HomeDrills, []report.HomeDrill{{Name: "Lean on the hands", Dose: "2 times 8", Figure: []string{}}})
	attendanceIs(t, ada, 5, 6, 0)

	working(t, ben, 1, 2, (1.460365-1.184098)/2.920729, (1.460365+1.184098)/2.920729)
	equal(t, "Ben next", ben.Next, nil)
	equal(t, "Ben at home", ben.HomeDrills, []report.HomeDrill{{Name: "Long-legged sit", Dose: "3 times 20 seconds", Caution: "Only with an adult in the room. Stop if it hurts.", Figure: []string{}}})
	attendanceIs(t, ben, 1, 2, 2)

	equal(t, "Dee next", dee.Next, []report.Next{{Ladder: "Wheel", Rung: "Low wheel", Why: "May start: it needs no other rung first."}})
	attendanceIs(t, dee, 0, 0, 1)
	attendanceIs(t, eli, 1, 1, 1)
	for _, c := range []report.Child{dee, eli} {
		if len(c.Secured)+len(c.Working)+len(c.Recheck) > 0 || c.Turns() != 0 {
			t.Errorf("%s was never marked: %+v", c.Name, c)
		}
	}
}

// A term that is over is told as it ended, whenever the report is made: the two clean marks of 7 April would make the wheel on a line
// secure (the last five would be C s C C C).
func TestReportOfATermThatIsOver(t *testing.T) {
	r := readTermReport(t, reportStudio(t, time.Date(2026, 4, 10, 9, 0, 0, 0, time.UTC)), cinderTeacher())
	if !r.Prepared.Equal(on(2026, 4, 10)) {
		t.Errorf("prepared on %v", r.Prepared)
	}
	working(t, r.Children[0], 3, 5, 0.2307, 0.8824)
}

func equal[T any](t *testing.T, what string, got, want T) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s:\n got %+v\nwant %+v", what, got, want)
	}
}

func working(t *testing.T, c report.Child, clean, marks int, low, high float64) {
	t.Helper()
	const printed = 1e-4
	if len(c.Working) != 1 || c.Working[0].Clean != clean || c.Working[0].Marks != marks ||
		math.Abs(c.Working[0].Low-low) > printed || math.Abs(c.Working[0].High-high) > printed {
		t.Errorf("%s works on %+v, want %d of %d, between %.4f and %.4f", c.Name, c.Working, clean, marks, low, high)
	}
}

func attendanceIs(t *testing.T, c report.Child, attended, noted, unnoted int) {
	t.Helper()
	if c.Attended != attended || c.Lessons != noted || c.Unnoted != unnoted {
		t.Errorf("%s came to %d of %d, %d not noted; want %d of %d, %d", c.Name, c.Attended, c.Lessons, c.Unnoted, attended, noted, unnoted)
	}
}

func TestReportPreview(t *testing.T) {
	v, err := reportStudio(t, testkit.SampleNow()).ReportOf(t.Context(), cinderTeacher(), cinderclass())
	if err != nil {
		t.Fatal(err)
	}
	if !v.AsOf.Equal(on(2026, 3, 4)) || len(v.Children) != 4 {
		t.Fatalf("%+v", v)
	}
	left := on(2026, 1, 15)
	equal(t, "Ada", v.Children[0], ReportChild{ID: testkit.SampleID("c1c1"), Name: "Ada Cinder", Attended: 5, Noted: 6, Turns: 12, Secured: []string{"Low wheel"},
		Working: []string{"Wheel on a line"}, Recheck: []string{"Rocking ball"}, Coming: []string{"Wheel to a lunge"}, AtHome: 1})
	equal(t, "Ben", v.Children[1], ReportChild{ID: testkit.SampleID("c1c2"), Name: "Ben Cinder", Attended: 1, Noted: 2, Unnoted: 2, Turns: 2, Few: true,
		Working: []string{"Low wheel"}, AtHome: 1})
	if eli := v.Children[3]; !eli.Few || eli.LeftOn == nil || !eli.LeftOn.Equal(left) {
		t.Errorf("Eli left on 15 January: %+v", eli)
	}
}

func TestReportsListsOwnClassesByTerm(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	for who, c := range map[string]struct {
		actor studio.Actor
		want  []string
	}{
		"the owner sees all classes":         {sampleActor("ac01", studio.OwnerRole), []string{"Cinderclass", "Amberclass", "Berylclass"}},
		"a teacher sees own classes":         {cinderTeacher(), []string{"Cinderclass", "Amberclass"}},
		"another teacher sees other classes": {sampleActor("ac03", studio.TeacherRole), []string{"Berylclass"}},
	} {
		terms, err := a.Reports(t.Context(), c.actor)
		if err != nil || len(terms) != 1 {
			t.Errorf("%s: %d terms, %v", who, len(terms), err)
			continue
		}
		var names []string
		for _, class := range terms[0].Classes {
			names = append(names, class.Name)
		}
		if !slices.Equal(names, c.want) {
			t.Errorf("%s: %q, want %q", who, names, c.want)
		}
	}
	terms, err := a.Reports(t.Context(), cinderTeacher())
	if err != nil {
		t.Fatal(err)
	}
	// 4 children were there in the term; 6 lessons were held; in them 12 turns of Ada's and 2 of Ben's.
	equal(t, "Cinderclass", terms[0].Classes[0], ReportClass{ID: cinderclass(), Name: "Cinderclass", When: "Tuesday 16:00", Children: 4, Lessons: 6, Turns: 14})
}

func TestWhoMayNotSeeOrExportAReport(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	ada := testkit.SampleID("c1c1")
	uses := map[string]func(studio.Actor, uuid.UUID) error{
		"see": func(who studio.Actor, class uuid.UUID) error {
			_, err := a.ReportOf(t.Context(), who, class)
			return err
		},
		"PDF": func(who studio.Actor, class uuid.UUID) error {
			_, err := a.ReportPDF(t.Context(), who, class)
			return err
		},
		"CSV": func(who studio.Actor, class uuid.UUID) error {
			_, err := a.ReportCSV(t.Context(), who, class)
			return err
		},
		"PDF of a child": func(who studio.Actor, class uuid.UUID) error {
			_, err := a.ChildReportPDF(t.Context(), who, class, ada)
			return err
		},
	}
	owner := sampleActor("ac01", studio.OwnerRole)
	for name, c := range map[string]struct {
		actor studio.Actor
		class uuid.UUID
	}{
		"a teacher of another class":           {sampleActor("ac03", studio.TeacherRole), cinderclass()},
		"the assistant of the class":           {sampleActor("ac04", studio.AssistantRole), cinderclass()},
		"a parent of a child in the class":     {sampleActor("ac06", studio.ParentRole), cinderclass()},
		"a locked owner whose session goes on": {sampleActor("ac09", studio.TeacherRole), cinderclass()},
		"nobody":                               {studio.Actor{}, cinderclass()},
		"the owner, of a class that is not":    {owner, testkit.SampleID("c0ff")},
	} {
		for use, try := range uses {
			if err := try(c.actor, c.class); studio.CodeOf(err) != studio.NotFound {
				t.Errorf("%s, %s: %v, want that nothing is there", name, use, err)
			}
		}
	}
	for name, child := range map[string]uuid.UUID{"a child of another class": testkit.SampleID("c1b1"), "a child that left before": testkit.SampleID("c1c3"), "no child": uuid.Nil} {
		if _, err := a.ChildReportPDF(t.Context(), owner, cinderclass(), child); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%s: %v, want that nothing is there", name, err)
		}
	}
	for _, who := range []studio.Actor{sampleActor("ac04", studio.AssistantRole), sampleActor("ac06", studio.ParentRole), {}} {
		if _, err := a.Reports(t.Context(), who); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%v lists reports: %v", who.Roles, err)
		}
	}
	if n := exports(t); n != 0 {
		t.Errorf("%d exports in the trail, want none", n)
	}
}

// Row-level security holds alone: the same queries, without the policy table, give another class's teacher nothing.
func TestReportRowsOfAnotherClassAreNotToBeRead(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	err := a.db.InTx(t.Context(), sampleActor("ac03", studio.TeacherRole), func(tx *postgres.Tx) error {
		counts, err := tx.AttendanceOfClass(t.Context(), cinderclass())
		if err != nil || len(counts) != 0 {
			t.Errorf("attendance: %v, %v", counts, err)
		}
		drills, err := tx.HomeDrillsOn(t.Context(), []uuid.UUID{testkit.SampleID("c1c1")}, tx.Today)
		if err != nil || len(drills) != 0 {
			t.Errorf("home drills: %v, %v", drills, err)
		}
		_, err = a.readReport(t.Context(), tx, cinderclass(), uuid.Nil)
		return err
	})
	if studio.CodeOf(err) != studio.NotFound {
		t.Errorf("report: %v", err)
	}
}

func exports(t *testing.T) int {
	t.Helper()
	var n int
	if err := ownerConn(t).QueryRow(t.Context(), `select count(*) from audit where action = 'exported a term report'`).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestEveryExportIsInTheTrail(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	pdf, err := a.ReportPDF(t.Context(), cinderTeacher(), cinderclass())
	if err != nil {
		t.Fatal(err)
	}
	if pdf.Name != "term-report-cinderclass-spring.pdf" || pdf.Kind != "application/pdf" || !bytes.HasPrefix(pdf.Body, []byte("%PDF-")) {
		t.Errorf("%s, %s, %.8q", pdf.Name, pdf.Kind, pdf.Body)
	}
	if n := exports(t); n != 1 {
		t.Errorf("%d exports in the trail after one", n)
	}
	one, err := a.ChildReportPDF(t.Context(), cinderTeacher(), cinderclass(), testkit.SampleID("c1c2"))
	if err != nil {
		t.Fatal(err)
	}
	if one.Name != "term-report-ben-cinder-spring.pdf" || len(one.Body) >= len(pdf.Body) {
		t.Errorf("%s of %d bytes, the class's has %d", one.Name, len(one.Body), len(pdf.Body))
	}
	var actor, subject, child string
	err = ownerConn(t).QueryRow(t.Context(), `select actor::text, subject, detail->>'child' from audit where action = 'exported a term report' and detail ? 'child'`).Scan(&actor, &subject, &child)
	if err != nil || actor != cinderTeacher().ID.String() || subject != "class "+cinderclass().String() || child != testkit.SampleID("c1c2").String() {
		t.Errorf("trail: %s, %s, %s, %v", actor, subject, child, err)
	}
	if n := exports(t); n != 2 {
		t.Errorf("%d exports in the trail after two", n)
	}
}

// A preview is no export: a GET leaves no mark.
func TestPreviewLeavesNoTrail(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	if _, err := a.ReportOf(t.Context(), cinderTeacher(), cinderclass()); err != nil {
		t.Fatal(err)
	}
	if n := exports(t); n != 0 {
		t.Errorf("%d exports in the trail after a look", n)
	}
}

// Read by encoding/csv, a reader that knows nothing of the report.
func TestReportCSVReadsBack(t *testing.T) {
	file, err := reportStudio(t, testkit.SampleNow()).ReportCSV(t.Context(), cinderTeacher(), cinderclass())
	if err != nil {
		t.Fatal(err)
	}
	if file.Name != "term-report-cinderclass-spring.csv" || file.Kind != "text/csv; charset=utf-8" {
		t.Errorf("%s, %s", file.Name, file.Kind)
	}
	rows, err := csv.NewReader(bytes.NewReader(file.Body)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	find := func(child, rung string) map[string]string {
		for _, row := range rows[1:] {
			cells := map[string]string{}
			for i, column := range rows[0] {
				cells[column] = row[i]
			}
			if cells["child"] == child && cells["rung"] == rung {
				return cells
			}
		}
		t.Fatalf("no row of %s, %s", child, rung)
		return nil
	}
	for _, c := range []struct {
		child, rung string
		want        map[string]string
	}{
		{"Ada Cinder", "Low wheel", map[string]string{"class": "Cinderclass", "term": "Spring", "attended": "5", "lessons": "6", "state": "secure", "position": "1",
			"clean": "6", "marks": "7", "secured_on": "2026-01-13", "evidence": "4 of the last 5 clean, in 2 lessons."}},
		{"Ada Cinder", "Wheel on a line", map[string]string{"state": "working", "clean": "3", "marks": "5", "rate_low": "0.2307", "rate_high": "0.8824"}},
		{"Ada Cinder", "Rocking ball", map[string]string{"state": "recheck", "last_seen": "2025-12-09", "position": ""}},
		{"Ben Cinder", "Low wheel", map[string]string{"state": "working", "clean": "1", "marks": "2", "attended": "1", "lessons": "2"}},
		{"Dee Cinder", "Low wheel", map[string]string{"state": "open", "marks": "0", "why": "May start: it needs no other rung first."}},
	} {
		row := find(c.child, c.rung)
		for column, want := range c.want {
			if row[column] != want {
				t.Errorf("%s, %s: %s is %q, want %q", c.child, c.rung, column, row[column], want)
			}
		}
	}
}

// Names that reserved characters of common systems, paths, or a long text could spoil (common practice, no source).
func TestFileNamesAreSafe(t *testing.T) {
	for _, c := range []struct{ class, want string }{
		{"Terns", "term-report-terns-spring"},
		{"../../etc/passwd", "term-report-etc-passwd-spring"},
		{`a\b:c*d?e"f<g>h|i`, "term-report-a-b-c-d-e-f-g-h-i-spring"},
		{"…\r\n\x00", "term-report-spring"},
		{"Ængle & Ørn\u202e", "term-report-ængle-ørn-spring"},
		{"Ngo\u0323c A\u0301nh", "term-report-ngo\u0323c-a\u0301nh-spring"},
		{strings.Repeat("a", 59) + " b", "term-report-" + strings.Repeat("a", 59) + "-spring"},
	} {
		if got := fileName("term report", c.class, "Spring"); got != c.want {
			t.Errorf("%q: %q, want %q", c.class, got, c.want)
		}
	}
}
