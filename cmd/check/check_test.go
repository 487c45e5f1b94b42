package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The lines are of the form that `go doc test2json` documents.
const events = `{"Action":"start","Package":"m/a"}
{"Action":"run","Package":"m/a","Test":"TestGood"}
{"Action":"output","Package":"m/a","Test":"TestGood","Output":"good talk\n"}
{"Action":"pass","Package":"m/a","Test":"TestGood","Elapsed":0}
{"Action":"run","Package":"m/a","Test":"TestBad"}
{"Action":"output","Package":"m/a","Test":"TestBad","Output":"what went wrong\n"}
{"Action":"fail","Package":"m/a","Test":"TestBad","Elapsed":0.1}
{"Action":"output","Package":"m/a","Test":"TestAbsent","Output":"cbc is absent\n"}
{"Action":"skip","Package":"m/a","Test":"TestAbsent","Elapsed":0}
{"Action":"fail","Package":"m/a","Elapsed":0.2}
{"ImportPath":"m/b","Action":"build-output","Output":"b.go:1: syntax error\n"}
{"ImportPath":"m/b","Action":"build-fail"}
{"Action":"start","Package":"m/b"}
{"Action":"output","Package":"m/b","Output":"FAIL m/b [build failed]\n"}
{"Action":"fail","Package":"m/b","Elapsed":0,"FailedBuild":"m/b"}
{"Action":"start","Package":"m/c"}
{"Action":"output","Package":"m/c","Output":"? m/c [no test files]\n"}
{"Action":"skip","Package":"m/c","Elapsed":0}
`

func TestTallyCountsAndShowsFailures(t *testing.T) {
	var total tally
	var shown strings.Builder
	if err := total.read(strings.NewReader(events), &shown); err != nil {
		t.Fatal(err)
	}
	total.report(&shown, []string{"gofmt", "tests"})
	for _, want := range []string{"what went wrong", "b.go:1: syntax error", "cbc is absent", "1 skipped", "what failed: gofmt, tests"} {
		if !strings.Contains(shown.String(), want) {
			t.Errorf("%q is not shown in:\n%s", want, shown.String())
		}
	}
	if strings.Contains(shown.String(), "good talk") {
		t.Error("what a passed test prints is shown")
	}
	// TestBad, the package that does not compile, and gofmt.
	if !strings.HasSuffix(shown.String(), "\n1 passed, 3 failed\n") {
		t.Errorf("the end is:\n%s", shown.String())
	}
}

func TestFailureWithoutTestsIsNotLost(t *testing.T) {
	var total tally
	var shown strings.Builder
	total.report(&shown, []string{"tests"})
	if !strings.HasSuffix(shown.String(), "0 passed, 1 failed\n") {
		t.Errorf("the end is:\n%s", shown.String())
	}
}

func TestStaleGeneratedFilesAreFound(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("same_templ.go", "a")
	write("stale_templ.go", "old")
	write("gone_templ.go", "a")
	write("node_modules/x_templ.go", "a")
	before, err := generatedFiles(dir)
	if err != nil {
		t.Fatal(err)
	}
	write("stale_templ.go", "new")
	write("fresh_templ.go", "a")
	if err := os.Remove(filepath.Join(dir, "gone_templ.go")); err != nil {
		t.Fatal(err)
	}
	after, err := generatedFiles(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, name := range differences(before, after) {
		got = append(got, filepath.Base(name))
	}
	if want := []string{"fresh_templ.go", "gone_templ.go", "stale_templ.go"}; !slices.Equal(got, want) {
		t.Errorf("found %v, want %v", got, want)
	}
}

func TestStepsAllRunAndNameFailures(t *testing.T) {
	ran := 0
	failed := runSteps([]step{
		{"first", func() error { ran++; return os.ErrInvalid }},
		{"second", func() error { ran++; return nil }},
	})
	if ran != 2 || !slices.Equal(failed, []string{"first"}) {
		t.Errorf("%d steps ran, %v failed", ran, failed)
	}
}
