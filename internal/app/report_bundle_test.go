package app

import (
	"archive/zip"
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func spring() uuid.UUID { return testkit.SampleID("7e01") }

func bundleOwner() studio.Actor { return sampleActor("ac01", studio.OwnerRole) }

func askBundle(t *testing.T, a *App) uuid.UUID {
	t.Helper()
	id, err := a.AskReportBundle(t.Context(), bundleOwner(), spring())
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func makeBundle(t *testing.T, a *App, id uuid.UUID) studio.Bundle {
	t.Helper()
	more, err := a.MakeBundle(t.Context(), id)
	if err != nil || more {
		t.Fatalf("more %v, %v", more, err)
	}
	b, _, err := a.ReportBundle(t.Context(), bundleOwner(), id)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// unzipped reads a zip by the standard library: names and sizes.
func unzipped(t *testing.T, body []byte) map[string]int {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]int{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if _, twice := files[f.Name]; twice {
			t.Errorf("%s is there twice", f.Name)
		}
		files[f.Name] = len(text)
	}
	return files
}

func TestBundleHoldsAFileForEveryChild(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	a.hasher = knownWords(t, bundleOwner().ID, ownerWords)
	id := askBundle(t, a)
	var queued string
	if err := ownerConn(t).QueryRow(t.Context(), `select string_agg(args::text, '') from jobs.river_job`).Scan(&queued); err != nil {
		t.Fatal(err)
	}
	if want := `{"bundle": "` + id.String() + `"}`; queued != want {
		t.Errorf("the queue holds %s, want an id and nothing else: %s", queued, want)
	}
	b := makeBundle(t, a, id)
	if b.State != studio.BundleReady || b.Done != b.Children || b.Children != 7 || b.Classes != 3 {
		t.Fatalf("%+v", b)
	}
	var file bytes.Buffer
	name := ""
	err := a.SaveReportBundle(t.Context(), bundleOwner(), id, "not the words", func(string) io.Writer { t.Error("the files without the passphrase"); return io.Discard })
	if problem(err, "passphrase") == "" {
		t.Errorf("without the passphrase: %v", err)
	}
	err = a.SaveReportBundle(t.Context(), bundleOwner(), id, ownerWords, func(n string) io.Writer { name = n; return &file })
	if err != nil || name != "term-reports-spring.zip" {
		t.Fatalf("%s, %v", name, err)
	}
	files := unzipped(t, file.Bytes())
	pdfs := 0
	for name, size := range files {
		if size == 0 {
			t.Errorf("%s is empty", name)
		}
		if strings.HasSuffix(name, ".pdf") {
			pdfs++
		}
	}
	if pdfs != 7 || len(files) != 7+3+2 || files["term-reports-spring.xlsx"] == 0 || files["term-reports-spring.csv"] == 0 {
		t.Errorf("%d PDFs of %v", pdfs, files)
	}
	var trail []string
	rows, err := ownerConn(t).Query(t.Context(), `select action from audit where action like '%all term reports' order by at, id`)
	if err != nil {
		t.Fatal(err)
	}
	for rows.Next() {
		var action string
		if err := rows.Scan(&action); err != nil {
			t.Fatal(err)
		}
		trail = append(trail, action)
	}
	slices.Sort(trail)
	if want := []string{"asked for all term reports", "made all term reports", "took out all term reports"}; !slices.Equal(trail, want) {
		t.Errorf("trail: %v", trail)
	}
}

// Done twice, at once or after a half, nothing is doubled: the classes that are written are left alone.
func TestBundleGoesOnWhereItWasCutOff(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	id := askBundle(t, a)
	if more, err := a.bundleStep(t.Context(), bundleOwner(), id); err != nil || !more {
		t.Fatal(more, err)
	}
	var first time.Time
	if err := ownerConn(t).QueryRow(t.Context(), `select max(made_at) from report_bundle_part`).Scan(&first); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error)
	for range 2 {
		go func() {
			_, err := a.MakeBundle(t.Context(), id)
			ended <- err
		}()
	}
	for range 2 {
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}
	if b := makeBundle(t, a, id); b.State != studio.BundleReady || b.Done != 7 {
		t.Errorf("%+v", b)
	}
	var n int
	if err := ownerConn(t).QueryRow(t.Context(), `select count(*) from report_bundle_file where name not like 'bundleleak%'`).Scan(&n); err != nil || n != 12 {
		t.Errorf("%d files, %v", n, err)
	}
}

func TestBundleIsItsAskersAlone(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	id := askBundle(t, a)
	makeBundle(t, a, id)
	if _, err := ownerConn(t).Exec(t.Context(), `insert into account_role (account_id, role) values ($1, 'owner')`, testkit.SampleID("ac03")); err != nil {
		t.Fatal(err)
	}
	for name, who := range map[string]studio.Actor{
		"another owner": sampleActor("ac03", studio.OwnerRole), "a teacher": cinderTeacher(), "an assistant": sampleActor("ac04", studio.AssistantRole),
		"a parent": sampleActor("ac06", studio.ParentRole), "nobody": {}, "a locked owner": sampleActor("ac09", studio.OwnerRole),
	} {
		if _, _, err := a.ReportBundle(t.Context(), who, id); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%s sees it: %v", name, err)
		}
		if err := a.StopReportBundle(t.Context(), who, id); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%s stops it: %v", name, err)
		}
		err := a.SaveReportBundle(t.Context(), who, id, "", func(string) io.Writer { t.Errorf("%s gets the files", name); return io.Discard })
		if studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestBundleStopsFailsAndExpires(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	files := func() (n int) {
		if err := ownerConn(t).QueryRow(t.Context(), `select count(*) from report_bundle_file where name not like 'bundleleak%'`).Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	stopped := askBundle(t, a)
	if _, err := a.AskReportBundle(t.Context(), bundleOwner(), spring()); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("a second one of the term at the same time: %v", err)
	}
	if _, err := a.bundleStep(t.Context(), bundleOwner(), stopped); err != nil || files() == 0 {
		t.Fatal(err)
	}
	if err := a.StopReportBundle(t.Context(), bundleOwner(), stopped); err != nil {
		t.Fatal(err)
	}
	if b := makeBundle(t, a, stopped); b.State != studio.BundleStopped || files() != 0 {
		t.Errorf("after stopping: %+v, %d files", b, files())
	}
	failing := askBundle(t, a)
	if _, err := ownerConn(t).Exec(t.Context(), `delete from account_role where account_id = $1`, testkit.SampleID("ac01")); err != nil {
		t.Fatal(err)
	}
	if _, err := a.MakeBundle(t.Context(), failing); err != nil || files() != 0 {
		t.Errorf("an owner no longer: %v, %d files", err, files())
	}
	var state string
	if err := ownerConn(t).QueryRow(t.Context(), `select state from report_bundle where id = $1`, failing).Scan(&state); err != nil || state != "failed" {
		t.Errorf("an owner no longer: %s, %v", state, err)
	}
	if _, err := ownerConn(t).Exec(t.Context(), `update report_bundle set asked_at = asked_at - interval '9 days', expires_at = expires_at - interval '8 days'`); err != nil {
		t.Fatal(err)
	}
	if err := a.DropExpiredBundles(t.Context()); err != nil {
		t.Fatal(err)
	}
	var left int
	if err := ownerConn(t).QueryRow(t.Context(), `select count(*) from report_bundle`).Scan(&left); err != nil || left != 0 {
		t.Errorf("%d bundles are left, %v", left, err)
	}
}

func TestNobodyElseAsksForABundle(t *testing.T) {
	a := reportStudio(t, testkit.SampleNow())
	for _, who := range []studio.Actor{cinderTeacher(), sampleActor("ac04", studio.AssistantRole), sampleActor("ac06", studio.ParentRole), {}} {
		if _, err := a.AskReportBundle(t.Context(), who, spring()); studio.CodeOf(err) != studio.NotFound {
			t.Errorf("%v: %v", who.Roles, err)
		}
	}
	if _, err := a.AskReportBundle(t.Context(), bundleOwner(), testkit.SampleID("7e02")); studio.CodeOf(err) != studio.Invalid {
		t.Errorf("a term without classes: %v", err)
	}
	if _, err := a.AskReportBundle(t.Context(), bundleOwner(), testkit.SampleID("dead")); studio.CodeOf(err) != studio.NotFound {
		t.Errorf("no such term: %v", err)
	}
}

// A child who is erased takes along every bundle that holds it: one that is ready, one in work, and those of other owners. One of another
// term stays.
func TestErasingAChildStopsTheBundlesWithIt(t *testing.T) {
	d := openDesk(t)
	d.knowsWords(t, d.owner.ID, ownerWords)
	conn, child := ownerConn(t), testkit.SampleID("c1a1")
	if _, err := conn.Exec(t.Context(), `insert into account_role (account_id, role) values ($1, 'owner')`, testkit.SampleID("ac03")); err != nil {
		t.Fatal(err)
	}
	ready := askBundle(t, d.App)
	makeBundle(t, d.App, ready)
	others, err := d.AskReportBundle(t.Context(), sampleActor("ac03", studio.OwnerRole), spring())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.bundleStep(t.Context(), sampleActor("ac03", studio.OwnerRole), others); err != nil {
		t.Fatal(err)
	}
	if _, err := conn.Exec(t.Context(), `insert into report_bundle (id, term_id, asked_by, asked_at, expires_at, state, finished_at)
		select gen_random_uuid(), $1, asked_by, asked_at, expires_at, 'ready', asked_at from report_bundle where id = $2`, testkit.SampleID("7e02"), ready); err != nil {
		t.Fatal(err)
	}
	if err := d.EraseChild(t.Context(), d.owner, child, "Aliquot Alderleak", ownerWords); err != nil {
		t.Fatal(err)
	}
	var left string
	err = conn.QueryRow(t.Context(), `select string_agg(distinct m.name, ',') from report_bundle b join term m on m.id = b.term_id where b.state in ('ready', 'working', 'waiting')`).Scan(&left)
	if err != nil || left != "Summer" {
		t.Errorf("bundles of %s are left, %v", left, err)
	}
	var files int
	if err := conn.QueryRow(t.Context(), `select count(*) from report_bundle_file`).Scan(&files); err != nil || files != 0 {
		t.Errorf("%d files are left, %v", files, err)
	}
	if more, err := d.MakeBundle(t.Context(), others); err != nil || more {
		t.Errorf("the one in work goes on: %v, %v", more, err)
	}
}
