package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
)

// event is a line of go test -json; see go doc test2json.
type event struct {
	Action, Package, ImportPath, Test, Output string
	Elapsed                                   float64
}

// tally counts tests, subtests included. A package that fails outside of any
// test, such as one that does not compile, counts as one failed test.
type tally struct {
	passed, failed, skipped int

	output     map[string]*strings.Builder // of tests that have not ended
	brokenTest map[string]bool             // packages with a failed test
}

// runTests runs the tests of one kind and adds them to the tally: "long" (the
// engines, which compute and share nothing, the invented studio, and every route
// asked as everybody; what they use is raced by other tests), "e2e" (the browser
// tests) or "unit" (the others).
func runTests(total *tally, kind string, race bool) error {
	pkgs, err := testPackages(kind)
	if err != nil {
		return err
	}
	if len(pkgs) == 0 {
		fmt.Println("there are none")
		return nil
	}
	args := []string{"test", "-json", "-count=1", "-timeout=30m"}
	if kind == "e2e" {
		args = append(args, "-p=1") // each starts a browser and the program
	} else {
		// Tests of the database wait more than they compute.
		args = append(args, "-p="+strconv.Itoa(runtime.NumCPU()), "-parallel="+strconv.Itoa(2*runtime.NumCPU()))
	}
	if race && compilesC() {
		args = append(args, "-race")
	}
	cmd := exec.Command("go", append(args, pkgs...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return fmt.Errorf("run go test: %w", err)
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("run go test: %w", err)
	}
	readErr := total.read(out, os.Stdout)
	return errors.Join(readErr, cmd.Wait())
}

func testPackages(kind string) ([]string, error) {
	out, err := exec.Command("go", "list", "-e", "-f", "{{.Module.Path}} {{.ImportPath}}", "./...").Output()
	if err != nil {
		return nil, fmt.Errorf("list the packages: %w", err)
	}
	var pkgs []string
	for line := range strings.Lines(string(out)) {
		module, pkg, _ := strings.Cut(strings.TrimSpace(line), " ")
		if kindOf(strings.TrimPrefix(pkg, module+"/")) == kind {
			pkgs = append(pkgs, pkg)
		}
	}
	return pkgs, nil
}

func kindOf(pkg string) string {
	switch {
	case pkg == "e2e" || strings.HasPrefix(pkg, "e2e/"):
		return "e2e"
	case strings.HasPrefix(pkg, "internal/engine/"), pkg == "internal/demo", pkg == "web":
		return "long"
	}
	return "unit"
}

// compilesC reports whether this machine has what the race detector needs.
func compilesC() bool {
	out, err := exec.Command("go", "env", "CC").Output()
	if err == nil {
		_, err = exec.LookPath(strings.TrimSpace(string(out)))
	}
	if err != nil {
		fmt.Println("without a C compiler (Debian: apt-get install gcc libc6-dev) the race detector is left out")
	}
	return err == nil
}

// read takes the events of one go test run and shows a line for each package and
// all that a failed test printed.
func (t *tally) read(events io.Reader, show io.Writer) error {
	t.output, t.brokenTest = map[string]*strings.Builder{}, map[string]bool{}
	lines := bufio.NewReader(events)
	for {
		line, err := lines.ReadBytes('\n')
		if len(line) > 0 {
			var e event
			if jsonErr := json.Unmarshal(line, &e); jsonErr != nil {
				fmt.Fprintf(show, "%s", line)
			} else {
				t.take(e, show)
			}
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("read what go test says: %w", err)
		}
	}
}

func (t *tally) take(e event, show io.Writer) {
	key := e.Package + " " + e.Test
	switch e.Action {
	case "build-output":
		fmt.Fprint(show, e.Output)
	case "output":
		if t.output[key] == nil {
			t.output[key] = &strings.Builder{}
		}
		t.output[key].WriteString(e.Output)
	case "pass", "fail", "skip":
		if e.Test == "" {
			t.endPackage(e, key, show)
		} else {
			t.endTest(e, key, show)
		}
		delete(t.output, key)
	}
}

func (t *tally) endTest(e event, key string, show io.Writer) {
	switch e.Action {
	case "pass":
		t.passed++
	case "skip":
		t.skipped++
		fmt.Fprintf(show, "skipped %s %s\n%s", e.Package, e.Test, t.output[key])
	case "fail":
		t.failed++
		t.brokenTest[e.Package] = true
		fmt.Fprintf(show, "%s", t.output[key])
	}
}

func (t *tally) endPackage(e event, key string, show io.Writer) {
	if e.Action == "fail" && !t.brokenTest[e.Package] {
		t.failed++
		fmt.Fprintf(show, "%s", t.output[key])
	}
	if e.Action != "skip" { // a package without tests
		fmt.Fprintf(show, "%-4s %s %.1f s\n", e.Action, e.Package, e.Elapsed)
	}
}

// report ends with a plain line. A step that failed without a failed test, such
// as gofmt, counts as one failure.
func (t *tally) report(show io.Writer, failedSteps []string) {
	failed := t.failed
	for _, name := range failedSteps {
		if !strings.HasSuffix(name, "tests") {
			failed++
		}
	}
	if len(failedSteps) > 0 && failed == 0 {
		failed = 1
	}
	if t.skipped > 0 {
		fmt.Fprintf(show, "%d skipped\n", t.skipped)
	}
	if len(failedSteps) > 0 {
		fmt.Fprintf(show, "what failed: %s\n", strings.Join(failedSteps, ", "))
	}
	fmt.Fprintf(show, "%d passed, %d failed\n", t.passed, failed)
}
