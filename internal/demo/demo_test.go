package demo

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

// noon is a plain Wednesday in term time.
var noon = time.Date(2026, 10, 14, 12, 0, 0, 0, time.UTC)

// useAt gives the use cases over the test's database at a moment.
func useAt(t *testing.T, now time.Time) *app.App {
	t.Helper()
	zone, err := time.LoadLocation(TimeZone)
	if err != nil {
		t.Fatal(err)
	}
	db, err := postgres.Open(t.Context(), testkit.App(t), func() time.Time { return now }, zone)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	hasher, err := auth.NewHasher(auth.DefaultParams(), 2)
	if err != nil {
		t.Fatal(err)
	}
	return app.New(db, app.StudioPolicy(), hasher, app.Settings{StudioName: StudioName, BaseURL: "http://127.0.0.1", TimeZone: TimeZone})
}

func load(t *testing.T, now time.Time) []SignIn {
	t.Helper()
	signIns, err := Load(t.Context(), useAt(t, now), now)
	if err != nil {
		t.Fatal(err)
	}
	return signIns
}

// rows asks the owner of the tables, whom row-level security does not bind.
func rows[T any](t *testing.T, sql string, args ...any) []T {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), testkit.Owner(t))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	found, err := conn.Query(t.Context(), sql, args...)
	if err != nil {
		t.Fatal(err)
	}
	out, err := pgx.CollectRows(found, pgx.RowTo[T])
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func count(t *testing.T, table string) int {
	t.Helper()
	return rows[int](t, "select count(*) from "+pgx.Identifier{table}.Sanitize())[0]
}

// counts is the number of rows of every table but the trail and the tries at signing in, which only grow.
func counts(t *testing.T) map[string]int {
	t.Helper()
	out := map[string]int{}
	for _, table := range rows[string](t, `select tablename from pg_tables where schemaname = 'public' and tablename not in ('audit', 'schema_migrations')`) {
		out[table] = count(t, table)
	}
	return out
}

// One load serves the checks that only look.
func TestStudioIsAlive(t *testing.T) {
	signIns := load(t, noon)
	use := useAt(t, noon)
	checkRows(t)
	checkSignIns(t, use, signIns)
	checkClasses(t, use)
	checkNames(t)
	checkDenials(t, use)
	checkTonight(t, use)
	checkPlans(t, use)
	checkPieces(t, use)
	checkForecasts(t, use)
}

func checkRows(t *testing.T) {
	t.Helper()
	for table, least := range map[string]int{"child": 45, "staff": 8, "class": 4, "account": 11, "invitation": 8, "lesson": 50, "mark": 3000,
		"mark_fault": 500, "attendance": 300, "sign_off": 200, "home_assignment": 12, "care_limit": 2, "soreness": 1, "equipment": 8, "ladder": 14} {
		if got := count(t, table); got < least {
			t.Errorf("%d rows of %s, want at least %d", got, table, least)
		} else {
			t.Logf("%d rows of %s", got, table)
		}
	}
	if got := rows[int](t, `select count(*) from soreness where care_limit_id is not null`)[0]; got != 1 {
		t.Errorf("%d reports of soreness put a limit in place, want 1", got)
	}
	if got := rows[string](t, `select s.name from staff_attendance a join staff s on s.id = a.staff_id join lesson l on l.id = a.lesson_id
		where not a.present and l.starts_at between $1 and $2`, noon, noon.Add(15*time.Minute)); len(got) != 1 || got[0] != absentTonight {
		t.Errorf("away tonight: %v", got)
	}
	if got := rows[string](t, `select distinct s.name from sign_off o join staff s on s.id = o.staff_id where o.expires_on < $1 and o.revoked_at is null`, dayOf(noon)); len(got) != 1 || got[0] != expiredSignOff {
		t.Errorf("signed off no longer: %v", got)
	}
}

func checkSignIns(t *testing.T, use *app.App, signIns []SignIn) {
	t.Helper()
	for _, s := range signIns {
		if _, err := use.SignIn(t.Context(), s.Email, s.Passphrase); err != nil {
			t.Errorf("sign in as %s: %v", s.Email, err)
		}
	}
	for i, role := range []string{"owner", "teacher", "assistant", "parent"} {
		if signIns[i].Role != role {
			t.Errorf("sign-in %d is %+v, want a %s", i, signIns[i], role)
		}
	}
}

// Somebody takes every class.
func checkClasses(t *testing.T, use *app.App) {
	t.Helper()
	classes, err := use.ClassRecords(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	earlier := 0
	for _, c := range classes {
		if c.Term.ArchivedAt != nil {
			earlier++
			continue
		}
		teachers, children := 0, 0
		for _, s := range c.Staff {
			if s.Duty == studio.TeacherDuty && s.HoldsOn(dayOf(noon)) {
				teachers++
			}
		}
		for _, e := range c.Enrolments {
			if e.HoldsOn(dayOf(noon)) {
				children++
			}
		}
		if teachers < 1 || children < 10 || children > 16 {
			t.Errorf("%s has %d teachers and %d children", c.Name, teachers, children)
		}
	}
	if earlier != len(courses()) {
		t.Errorf("%d classes of a term that was put away, want %d", earlier, len(courses()))
	}
}

// Names come back letter by letter.
func checkNames(t *testing.T) {
	t.Helper()
	stored := map[string]bool{}
	for _, name := range rows[string](t, `select c.given_name || ' ' || d.family_name from child c join child_detail d on d.child_id = c.id
		union all select name from staff union all select name from account`) {
		stored[name] = true
	}
	for _, p := range pupils() {
		if !stored[p.fullName()] {
			t.Errorf("%q came back otherwise", p.fullName())
		}
	}
	for _, h := range staff() {
		if !stored[h.name] {
			t.Errorf("%q came back otherwise", h.name)
		}
	}
}

// Only the program may record the past or make a class meet; even the owner may not.
func checkDenials(t *testing.T, use *app.App) {
	t.Helper()
	owner := studio.Actor{ID: rows[[16]byte](t, `select id from account where email = $1`, ownerEmail)[0], Roles: []studio.Role{studio.OwnerRole}}
	for name, err := range map[string]error{
		"record the past": use.RecordPast(t.Context(), owner, nil, nil),
		"make a class meet": func() error {
			_, _, err := use.MeetAt(t.Context(), owner, rows[[16]byte](t, `select id from class limit 1`)[0], noon)
			return err
		}(),
	} {
		if studio.CodeOf(err) != studio.NotFound {
			t.Errorf("an owner may %s: %v", name, err)
		}
	}
}

func TestLoadsAgain(t *testing.T) {
	load(t, noon)
	checkSecondLoad(t)
	checkAlwaysOn(t)
}

// checkSecondLoad holds that a second load changes nothing.
func checkSecondLoad(t *testing.T) {
	t.Helper()
	before := counts(t)
	load(t, noon.Add(time.Minute))
	for table, n := range counts(t) {
		if before[table] != n && table != "sign_in_attempt" {
			t.Errorf("%s had %d rows and has %d", table, before[table], n)
		}
	}
}

// checkAlwaysOn holds that a lesson of the first class is on whenever the demonstration starts: soon after, later that day, on another
// day, shortly before midnight, after the term.
func checkAlwaysOn(t *testing.T) {
	t.Helper()
	for _, now := range []time.Time{noon.Add(2 * time.Minute), noon.Add(5 * time.Hour), noon.AddDate(0, 0, 1), time.Date(2026, 10, 16, 22, 57, 0, 0, time.UTC), noon.AddDate(0, 3, 0)} {
		load(t, now)
		on := rows[int](t, `select count(*) from lesson l join class c on c.id = l.class_id where c.name = $2 and l.cancelled_at is null
			and $1 between l.starts_at - interval '15 minutes' and l.starts_at + make_interval(mins => l.minutes + 15)`, now, terns)[0]
		if on != 1 {
			t.Errorf("%d lessons are on at %v, want 1", on, now)
		}
	}
}

func TestRefusesAHalfLoadedDatabase(t *testing.T) {
	use := useAt(t, noon)
	if err := use.FirstOwner(t.Context(), "somebody@elsewhere.example", "Somebody", "a rather long passphrase"); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(t.Context(), use, noon); err == nil {
		t.Error("somebody else's studio was taken for the demonstration")
	}
}

// An assistant who is rostered tonight finds the shared plan.
func checkTonight(t *testing.T, use *app.App) {
	t.Helper()
	lucja := studio.Actor{ID: rows[[16]byte](t, `select id from account where email = $1`, lucjaEmail)[0], Roles: []studio.Role{studio.AssistantRole}}
	tonight := rows[[16]byte](t, `select l.id from lesson l join plan p on p.lesson_id = l.id where p.shared_at is not null and l.starts_at > $1`, noon)
	if len(tonight) != 1 {
		t.Fatalf("%d plans are shared for tonight, want 1", len(tonight))
	}
	if _, err := use.Stations(t.Context(), lucja, tonight[0]); err != nil {
		t.Errorf("the assistant's stations: %v", err)
	}
}

// Every class has the people and the equipment for a plan that keeps every rule.
func checkPlans(t *testing.T, use *app.App) {
	t.Helper()
	for _, c := range courses() {
		next := rows[[16]byte](t, `select l.id from lesson l join class c on c.id = l.class_id where c.name = $1 and l.starts_at > $2
			order by l.starts_at limit 1`, c.name, noon.AddDate(0, 0, 1))[0]
		if err := use.Propose(t.Context(), studio.ProgramActor(), next, 0); err != nil {
			t.Errorf("%s cannot be planned: %v", c.name, err)
		}
	}
}
