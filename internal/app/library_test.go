package app

import (
	"cmp"
	"context"
	"errors"
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/db"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// libraryStudio is a studio of the test's own with a small library.
func libraryStudio(t *testing.T) *App {
	t.Helper()
	db, err := postgres.Open(t.Context(), testkit.App(t), time.Now, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	hasher, err := auth.NewHasher(auth.DefaultParams(), 1)
	if err != nil {
		t.Fatal(err)
	}
	a := New(db, StudioPolicy(), hasher, Settings{StudioName: "Test studio", TimeZone: "UTC"})
	if err := a.ImportLibrary(t.Context(), studio.ProgramActor(), smallLibrary()); err != nil {
		t.Fatal(err)
	}
	return a
}

// actorOf adds an account with roles. A parent's role is not stored: it follows from being a guardian.
func actorOf(t *testing.T, a *App, roles ...studio.Role) studio.Actor {
	t.Helper()
	actor := studio.Actor{Name: "Tester", Email: uuid.NewString() + "@example.org", Roles: roles}
	err := a.db.InTx(t.Context(), studio.ProgramActor(), func(tx *postgres.Tx) error {
		var err error
		actor.ID, err = tx.AddAccount(t.Context(), actor.Email, actor.Name, slices.DeleteFunc(slices.Clone(roles), func(r studio.Role) bool { return r == studio.ParentRole }))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return actor
}

func smallLibrary() studio.Library {
	rung := func(key, name string, needs ...string) studio.Rung {
		return studio.Rung{Key: key, Name: name, Start: "Stand.", Finish: "Stand again.", Look: []string{"Tall"}, Needs: needs,
			Spotting: studio.Spotting{Manner: studio.NoSpotting}, TurnSeconds: 20, Home: studio.HomeSafety{Reason: "Try it in class first."}}
	}
	low := rung("lo-one", "Low one")
	low.Faults = []studio.Fault{{Key: "bent", Name: "Arms bent", Safety: true,
		Causes: []studio.Cause{{Key: "lazy", Name: "Shoulders low", Strength: 0.6, Cue: "Push", Drills: []string{"d-push"}}}}}
	return studio.Library{
		Ladders: []studio.Ladder{
			{Key: "low", Name: "Low", Family: studio.Shapes, About: "Near the floor.", Rungs: []studio.Rung{low, rung("lo-two", "Low two", "lo-one"), rung("lo-three", "Low three", "lo-two")}},
			{Key: "high", Name: "High", Family: studio.Shapes, Rungs: []studio.Rung{rung("hi-one", "High one", "lo-two")}},
		},
		Drills: []studio.Drill{{Key: "d-push", Name: "Push", Kind: studio.SkillDrill, Steps: []string{"Push."}, Prepares: []string{"lo-one"}, TurnSeconds: 20,
			Spotting: studio.Spotting{Manner: studio.NoSpotting}, Dose: studio.Dose{Sets: 1, Repeats: 5}, Home: studio.HomeSafety{Safe: true, Reason: "On the floor."}}},
	}
}

func readRung(t *testing.T, a *App, key string) studio.RungPlace {
	t.Helper()
	l, err := a.Library(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	r, ok := l.Rung(key)
	if !ok {
		t.Fatalf("no rung %s", key)
	}
	return r
}

// ownerConn is a connection that no row-level security binds.
func ownerConn(t *testing.T) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), testkit.Owner(t))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(context.Background()) })
	return conn
}

// lastAudit is the last line of the trail: action, subject and detail as text.
func lastAudit(t *testing.T, a *App) (action, subject, detail string) {
	t.Helper()
	conn := ownerConn(t)
	if err := conn.QueryRow(t.Context(), `select action, subject, detail::text from audit order by at desc limit 1`).Scan(&action, &subject, &detail); err != nil {
		t.Fatal(err)
	}
	return action, subject, detail
}

func TestWhoMayReadAndEditTheLibrary(t *testing.T) {
	a := libraryStudio(t)
	rung := readRung(t, a, "lo-one").Rung
	drill := smallLibrary().Drills[0]
	edits := map[string]func(studio.Actor) error{
		"add a ladder": func(who studio.Actor) error {
			_, err := a.AddLadder(t.Context(), who, studio.Ladder{Name: "New", Family: studio.Rolls})
			return err
		},
		"change a ladder": func(who studio.Actor) error { return a.EditLadder(t.Context(), who, "", studio.Ladder{Key: "low"}) },
		"move a ladder":   func(who studio.Actor) error { return a.MoveLadder(t.Context(), who, "low", 1) },
		"remove a ladder": func(who studio.Actor) error { return a.RemoveLadder(t.Context(), who, "low") },
		"add a rung":      func(who studio.Actor) error { _, err := a.AddRung(t.Context(), who, "low", "", rung); return err },
		"change a rung":   func(who studio.Actor) error { return a.EditRung(t.Context(), who, Seen(rung), rung) },
		"move a rung":     func(who studio.Actor) error { return a.MoveRung(t.Context(), who, "lo-one", "high", "") },
		"remove a rung":   func(who studio.Actor) error { return a.RemoveRung(t.Context(), who, "hi-one") },
		"save a fault": func(who studio.Actor) error {
			_, err := a.SaveFault(t.Context(), who, "lo-one", "", rung.Faults[0])
			return err
		},
		"remove a fault":    func(who studio.Actor) error { return a.RemoveFault(t.Context(), who, "lo-one", "bent") },
		"add a drill":       func(who studio.Actor) error { _, err := a.AddDrill(t.Context(), who, drill); return err },
		"change a drill":    func(who studio.Actor) error { return a.EditDrill(t.Context(), who, Seen(drill), drill) },
		"remove a drill":    func(who studio.Actor) error { return a.RemoveDrill(t.Context(), who, "d-push") },
		"look at an import": func(who studio.Actor) error { _, err := a.CheckImport(t.Context(), who, smallLibrary()); return err },
		"import":            func(who studio.Actor) error { return a.ImportLibrary(t.Context(), who, smallLibrary()) },
	}
	reads := map[string]func(studio.Actor) error{
		"read":   func(who studio.Actor) error { _, err := a.Library(t.Context(), who); return err },
		"export": func(who studio.Actor) error { _, err := a.ExportLibrary(t.Context(), who); return err },
	}
	assistant, parent := actorOf(t, a, studio.AssistantRole), actorOf(t, a, studio.ParentRole)
	before, err := a.Library(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	for name, who := range map[string]studio.Actor{"assistant": assistant, "parent": parent, "stranger": {}} {
		for what, edit := range edits {
			if err := edit(who); studio.CodeOf(err) != studio.NotFound {
				t.Errorf("%s can %s: %v", name, what, err)
			}
		}
	}
	after, err := a.Library(t.Context(), studio.ProgramActor())
	if err != nil || !sameJSON(before, after) {
		t.Errorf("refused edits changed the library (%v)", err)
	}
	for what, read := range reads {
		for name, who := range map[string]studio.Actor{"parent": parent, "stranger": {}} {
			if err := read(who); studio.CodeOf(err) != studio.NotFound {
				t.Errorf("%s can %s: %v", name, what, err)
			}
		}
		for name, who := range map[string]studio.Actor{"assistant": assistant, "teacher": actorOf(t, a, studio.TeacherRole), "owner": actorOf(t, a, studio.OwnerRole)} {
			if err := read(who); err != nil {
				t.Errorf("%s cannot %s: %v", name, what, err)
			}
		}
	}
}

func TestCircleOfNeedsIsRefusedByName(t *testing.T) {
	a := libraryStudio(t)
	teacher := actorOf(t, a, studio.TeacherRole)
	rung := readRung(t, a, "lo-one").Rung
	seen := Seen(rung)
	rung.Needs = []string{"lo-three"}
	err := a.EditRung(t.Context(), teacher, seen, rung)
	var refused *studio.Error
	if !errors.As(err, &refused) || refused.Code != studio.Invalid {
		t.Fatalf("a circle passed: %v", err)
	}
	for _, name := range []string{"Low one", "Low two", "Low three"} {
		if !strings.Contains(refused.Problem("needs"), name) {
			t.Errorf("%q does not name %s", refused.Problem("needs"), name)
		}
	}
	if got := readRung(t, a, "lo-one"); len(got.Needs) != 0 {
		t.Errorf("the circle was saved: %v", got.Needs)
	}
}

func TestUnsafeHomeFlagIsRefusedTwice(t *testing.T) {
	a := libraryStudio(t)
	rung := readRung(t, a, "lo-one").Rung
	seen := Seen(rung)
	rung.Inverted, rung.Home = true, studio.HomeSafety{Safe: true, Reason: "It looked easy."}
	var refused *studio.Error
	if err := a.EditRung(t.Context(), studio.ProgramActor(), seen, rung); !errors.As(err, &refused) || refused.Problem("home.safe") == "" {
		t.Errorf("the rules let an upside-down rung go home: %v", err)
	}
	for _, flag := range []string{"inverted", "back_bend", "flight"} {
		for _, noun := range []string{"rung", "drill"} {
			if _, err := ownerConn(t).Exec(t.Context(), "update "+noun+" set home_safe = true, "+flag+" = true"); err == nil || !strings.Contains(err.Error(), noun+"_home_rule") {
				t.Errorf("the database lets a %s with %s go home: %v", noun, flag, err)
			}
		}
	}
}

func TestEditsOfRungs(t *testing.T) {
	a := libraryStudio(t)
	teacher := actorOf(t, a, studio.TeacherRole)
	rung := readRung(t, a, "lo-two").Rung
	seen := Seen(rung)
	rung.TurnSeconds, rung.Equipment = 35, []studio.EquipmentNeed{{Key: "panel-mat", Count: 1, Places: 2}}
	if err := a.EditRung(t.Context(), teacher, seen, rung); err != nil {
		t.Fatal(err)
	}
	if got := readRung(t, a, "lo-two"); !sameJSON(got.Rung, rung) {
		t.Errorf("saved %+v, want %+v", got.Rung, rung)
	}
	action, subject, detail := lastAudit(t, a)
	if action != "changed a rung" || subject != "rung lo-two" || !strings.Contains(detail, `"turn_seconds": {"to": 35, "from": 20}`) || strings.Contains(detail, "finish") {
		t.Errorf("the trail says %s, %s, %s", action, subject, detail)
	}
	if err := a.EditRung(t.Context(), teacher, seen, rung); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("a save over somebody else's passed: %v", err)
	}

	key, err := a.AddRung(t.Context(), teacher, "low", "lo-one", studio.Rung{Name: "Low one", TurnSeconds: 20, Needs: []string{"lo-one"},
		Spotting: studio.Spotting{Manner: studio.NoSpotting}, Home: studio.HomeSafety{Reason: "New."}})
	if err != nil || key != "low-one" {
		t.Fatalf("added %q: %v", key, err)
	}
	if got := readRung(t, a, key); got.Index != 1 {
		t.Errorf("added at %d, want right above the lowest", got.Index)
	}
	if err := a.MoveRung(t.Context(), teacher, key, "high", ""); err != nil {
		t.Fatal(err)
	}
	if got := readRung(t, a, key); got.Ladder.Key != "high" || got.Index != 0 || len(got.Ladder.Rungs) != 2 {
		t.Errorf("moved to %s, %d", got.Ladder.Key, got.Index)
	}
	if err := a.MoveRung(t.Context(), teacher, key, "high", "lo-one"); studio.CodeOf(err) != studio.Invalid {
		t.Errorf("moved above a rung of another ladder: %v", err)
	}
	if err := a.RemoveRung(t.Context(), teacher, key); err != nil {
		t.Fatal(err)
	}
	if action, subject, _ := lastAudit(t, a); action != "removed a rung" || subject != "rung low-one" {
		t.Errorf("the trail says %s, %s", action, subject)
	}
}

func TestRungInUseIsKept(t *testing.T) {
	a := libraryStudio(t)
	teacher := actorOf(t, a, studio.TeacherRole) // takes no class, so sees no child and no mark
	err := a.RemoveRung(t.Context(), teacher, "lo-two")
	var refused *studio.Error
	if !errors.As(err, &refused) || !strings.Contains(refused.Text, "High one") || !strings.Contains(refused.Text, "Low three") {
		t.Errorf("removing a needed rung said %v", err)
	}
	conn := ownerConn(t)
	if _, err := conn.Exec(t.Context(), `with c as (insert into child (given_name, initial, joined_on) values ('Child', 'C', '2026-01-01') returning id)
		insert into mark (id, child_id, rung_key, outcome, marked_at) select gen_random_uuid(), id, 'hi-one', 'clean', now() from c`); err != nil {
		t.Fatal(err)
	}
	err = a.RemoveRung(t.Context(), teacher, "hi-one")
	if !errors.As(err, &refused) || refused.Code != studio.Conflict || !strings.Contains(refused.Text, "marks of children") {
		t.Errorf("removing a marked rung said %v", err)
	}
	readRung(t, a, "hi-one")
}

func TestFaultsOfRungs(t *testing.T) {
	a := libraryStudio(t)
	key, err := a.SaveFault(t.Context(), studio.ProgramActor(), "lo-two", "", studio.Fault{Name: "Head drops", Causes: []studio.Cause{
		{Name: "Eyes wander", Strength: 0.5, Cue: "Look here", Drills: []string{"d-push"}}, {Name: "Eyes wander", Strength: 0.3, Cue: "Look there"}}})
	if err != nil || key != "head-drops" {
		t.Fatalf("added %q: %v", key, err)
	}
	got, _ := readRung(t, a, "lo-two").Fault(key)
	if len(got.Causes) != 2 || got.Causes[0].Key != "eyes-wander" || got.Causes[1].Key != "eyes-wander-2" {
		t.Errorf("saved %+v", got)
	}
	_, err = a.SaveFault(t.Context(), studio.ProgramActor(), "lo-two", "", studio.Fault{Name: "Other", Causes: []studio.Cause{{Name: "N", Strength: 0.5, Cue: "C", Drills: []string{"d-none"}}}})
	if studio.CodeOf(err) != studio.Invalid {
		t.Errorf("an unknown drill passed: %v", err)
	}
	if err := a.RemoveFault(t.Context(), studio.ProgramActor(), "lo-two", key); err != nil {
		t.Fatal(err)
	}
	if r := readRung(t, a, "lo-two"); len(r.Faults) != 0 {
		t.Errorf("still has %+v", r.Faults)
	}
}

func TestDrillInUseIsKept(t *testing.T) {
	a := libraryStudio(t)
	if err := a.RemoveDrill(t.Context(), studio.ProgramActor(), "d-push"); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("removing the answer to a cause said %v", err)
	}
	drill := smallLibrary().Drills[0]
	key, err := a.AddDrill(t.Context(), studio.ProgramActor(), drill)
	if err != nil || key != "d-push-2" {
		t.Fatalf("added %q: %v", key, err)
	}
	drill.Key, drill.Space = key, "A mat"
	if err := a.EditDrill(t.Context(), studio.ProgramActor(), Seen(mustDrill(t, a, key)), drill); err != nil {
		t.Fatal(err)
	}
	if got := mustDrill(t, a, key); got.Space != "A mat" {
		t.Errorf("saved %+v", got)
	}
	if err := a.RemoveDrill(t.Context(), studio.ProgramActor(), key); err != nil {
		t.Error(err)
	}
}

func mustDrill(t *testing.T, a *App, key string) studio.Drill {
	t.Helper()
	l, err := a.Library(t.Context(), studio.ProgramActor())
	d, ok := l.Drill(key)
	if err != nil || !ok {
		t.Fatalf("no drill %s: %v", key, err)
	}
	return d
}

func TestLaddersAreOrderedWithinTheirFamily(t *testing.T) {
	a := libraryStudio(t)
	order := func() string {
		l, err := a.Library(t.Context(), studio.ProgramActor())
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(keysByFamily(l.Ladders), " ")
	}
	key, err := a.AddLadder(t.Context(), studio.ProgramActor(), studio.Ladder{Name: "Rolling", Family: studio.Rolls})
	if err != nil || order() != "low high rolling" {
		t.Fatalf("order %s: %v", order(), err)
	}
	for _, step := range []struct {
		key   string
		steps int
		want  string
	}{{"high", -1, "high low rolling"}, {"low", 1, "high low rolling"}, {"rolling", -1, "high low rolling"}} {
		if err := a.MoveLadder(t.Context(), studio.ProgramActor(), step.key, step.steps); err != nil || order() != step.want {
			t.Errorf("after %s by %d: %s (%v), want %s", step.key, step.steps, order(), err, step.want)
		}
	}
	if err := a.RemoveLadder(t.Context(), studio.ProgramActor(), "low"); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("a ladder with rungs was removed: %v", err)
	}
	if err := a.RemoveLadder(t.Context(), studio.ProgramActor(), key); err != nil {
		t.Error(err)
	}
}

func TestImportChangesWhatItNamesAndKeepsTheRest(t *testing.T) {
	a := libraryStudio(t)
	own, err := a.AddRung(t.Context(), studio.ProgramActor(), "low", "lo-one", studio.Rung{Name: "Our own", TurnSeconds: 20,
		Spotting: studio.Spotting{Manner: studio.NoSpotting}, Home: studio.HomeSafety{Reason: "Ours."}})
	if err != nil {
		t.Fatal(err)
	}
	incoming := smallLibrary()
	incoming.Ladders = incoming.Ladders[:1]
	incoming.Ladders[0].Rungs[1].TurnSeconds = 40
	found, err := a.CheckImport(t.Context(), studio.ProgramActor(), incoming)
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Ladders) != 0 || len(found.Drills) != 0 || len(found.Rungs) != 1 || found.Rungs[0].Key != "lo-two" || !slices.Equal(found.Rungs[0].Fields, []string{"turn_seconds"}) {
		t.Errorf("it would change %+v", found)
	}
	if got := readRung(t, a, "lo-two"); got.TurnSeconds != 20 {
		t.Error("looking changed the library")
	}
	if err := a.ImportChecked(t.Context(), studio.ProgramActor(), "older", incoming); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("an import over a changed library passed: %v", err)
	}
	if err := a.ImportChecked(t.Context(), studio.ProgramActor(), found.Seen, incoming); err != nil {
		t.Fatal(err)
	}
	if got := readRung(t, a, "lo-two"); got.TurnSeconds != 40 || got.Index != 2 {
		t.Errorf("imported %d seconds at %d", got.TurnSeconds, got.Index)
	}
	if got := readRung(t, a, own); got.Index != 1 {
		t.Errorf("the studio's own rung is at %d, want right above the lowest", got.Index)
	}
}

func TestImportIsAllOrNothing(t *testing.T) {
	a := libraryStudio(t)
	for name, spoil := range map[string]func(*studio.Library){
		"a drill that is not there": func(l *studio.Library) { l.Ladders[0].Rungs[0].Faults[0].Causes[0].Drills = []string{"d-nowhere"} },
		"a rung that is not there":  func(l *studio.Library) { l.Drills[0].Prepares = []string{"nowhere"} },
		"a need that is not there":  func(l *studio.Library) { l.Ladders[0].Rungs[2].Needs = []string{"nowhere"} },
		"a circle":                  func(l *studio.Library) { l.Ladders[0].Rungs[0].Needs = []string{"hi-one"} },
		"a rung without a name":     func(l *studio.Library) { l.Ladders[1].Rungs[0].Name = "" },
	} {
		bad := smallLibrary()
		bad.Ladders[0].About = "Changed by " + name
		spoil(&bad)
		if _, err := a.CheckImport(t.Context(), studio.ProgramActor(), bad); studio.CodeOf(err) != studio.Invalid {
			t.Errorf("looking at %s: %v", name, err)
		}
		if err := a.ImportLibrary(t.Context(), studio.ProgramActor(), bad); studio.CodeOf(err) != studio.Invalid {
			t.Errorf("importing %s: %v", name, err)
		}
	}
	l, err := a.Library(t.Context(), studio.ProgramActor())
	if got, _ := l.Ladder("low"); err != nil || got.About != "Near the floor." {
		t.Errorf("a refused import changed %q (%v)", got.About, err)
	}
}

func TestStarterLibraryThroughFilesAndDatabase(t *testing.T) {
	library := starter(t)
	a := libraryStudio(t)
	if err := a.ImportLibrary(t.Context(), studio.ProgramActor(), library); err != nil {
		t.Fatal(err)
	}
	if found, err := a.CheckImport(t.Context(), studio.ProgramActor(), library); err != nil || !found.None() {
		t.Errorf("a second import would change %+v (%v)", found, err)
	}
	zipped, err := a.ExportLibrary(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	back, err := ReadUpload("library.zip", zipped)
	if err != nil {
		t.Fatal(err)
	}
	back.Ladders = slices.DeleteFunc(back.Ladders, func(l studio.Ladder) bool { return l.Key == "low" || l.Key == "high" })
	back.Drills = slices.DeleteFunc(back.Drills, func(d studio.Drill) bool { return d.Key == "d-push" })
	if !sameJSON(inOrder(back), inOrder(library)) {
		t.Error("the starter library did not come back as it was")
	}
}

func TestWrittenLibraryReadsBackEqual(t *testing.T) {
	library := starter(t)
	files, err := WriteLibrary(library)
	if err != nil {
		t.Fatal(err)
	}
	dir := fstest.MapFS{}
	for name, text := range files {
		dir[name] = &fstest.MapFile{Data: text}
	}
	back, err := ReadLibrary(dir)
	if err != nil {
		t.Fatal(err)
	}
	if !sameJSON(inOrder(back), inOrder(library)) {
		t.Error("the library did not come back as it was written")
	}
}

// inOrder sorts whatever the files and the database may order in their own ways.
func inOrder(l studio.Library) studio.Library {
	l = tidy(l)
	slices.SortFunc(l.Ladders, func(a, b studio.Ladder) int { return cmp.Compare(a.Key, b.Key) })
	slices.SortFunc(l.Drills, func(a, b studio.Drill) int { return cmp.Compare(a.Key, b.Key) })
	return l
}

func TestUploadsThatAreRefused(t *testing.T) {
	pack := func(files map[string]string) []byte {
		bytes := map[string][]byte{}
		for name, text := range files {
			bytes[name] = []byte(text)
		}
		body, err := packFiles(bytes)
		if err != nil {
			t.Fatal(err)
		}
		return body
	}
	for name, body := range map[string][]byte{
		"nothing":                 nil,
		"text":                    []byte("hello"),
		"an unknown field":        []byte("ladder:\n  key: a\n  belt: red\n"),
		"a damaged zip":           []byte("PK\x03\x04 no more"),
		"a zip without ladder":    pack(map[string]string{"readme.txt": "hello"}),
		"references":              []byte("ladder: &l\n  key: a\n  about: *l\n"),
		"deep nesting":            []byte("ladder: " + strings.Repeat("[", 100_000)),
		"a file too large":        []byte("ladder:\n  about: " + strings.Repeat("a", libraryFileLimit)),
		"a packed file too large": pack(map[string]string{"a.yaml": "ladder:\n  about: " + strings.Repeat("a", libraryFileLimit)}),
	} {
		if _, err := ReadUpload(name, body); name != "nothing" && studio.CodeOf(err) != studio.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	inFolder := pack(map[string]string{"my library/low.yaml": "ladder:\n  key: low\n  name: Low\n", "my library/._low.yaml": "\x00"})
	if l, err := ReadUpload("x.zip", inFolder); err != nil || len(l.Ladders) != 1 {
		t.Errorf("a folder in a zip: %v, %v", l, err)
	}
}

func FuzzReadLibrary(f *testing.F) {
	dir, err := fs.Sub(db.Library, "library")
	if err != nil {
		f.Fatal(err)
	}
	file, err := dir.Open("readiness.yaml")
	if err != nil {
		f.Fatal(err)
	}
	text, err := io.ReadAll(file)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text[:min(len(text), 1500)])
	for _, s := range []string{"", "ladder:", "ladder: [", "ladder: {rungs: [{look: x}]}", "ladder:\n  rungs:\n    - needs: [a, b\n", "ladder: &a *a", "\x00", "? - : |\n", "ladder:\n  key: 1e999\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		library, err := ReadLibrary(fstest.MapFS{"a.yaml": {Data: text}})
		if err == nil {
			library.Validate()
		}
	})
}
