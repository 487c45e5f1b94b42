// Command check runs everything that has to hold before a change is taken:
// formatting, generated files, static checks, all tests, the long ones without
// and the others under the race detector, and the browser tests. It installs the
// tools that are missing where it may, and names them where it may not.
//
//	go run ./cmd/check         everything
//	go run ./cmd/check -fast   without the race detector and the browser
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// step is one thing to check, by the name that is printed for it.
type step struct {
	name string
	run  func() error
}

func main() {
	fast := flag.Bool("fast", false, "skip the race detector and the browser tests")
	flag.Parse()
	if err := enterModule(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	var total tally
	failed := runSteps(steps(*fast, &total))
	total.report(os.Stdout, failed)
	if len(failed) > 0 {
		os.Exit(1)
	}
}

func steps(fast bool, total *tally) []step {
	all := []step{
		{"tools", func() error { return provideTools(fast) }},
		{"gofmt", checkFormat},
		{"generated pages", checkGenerated},
		{"go vet", func() error { return run("go", "vet", "./...") }},
		{"staticcheck", func() error { return run("go", "tool", "staticcheck", "./...") }},
		{"long tests", func() error { return runTests(total, "long", false) }},
		{"tests", func() error { return runTests(total, "unit", !fast) }},
	}
	if !fast {
		all = append(all, step{"browser tests", func() error { return runTests(total, "e2e", false) }})
	}
	return all
}

// runSteps runs them all, so that one run shows all that is wrong, and gives the
// names of those that failed.
func runSteps(all []step) []string {
	var failed []string
	for _, s := range all {
		fmt.Printf("== %s\n", s.name)
		began := time.Now()
		err := s.run()
		word := "ok"
		if err != nil {
			word = "FAILED"
			failed = append(failed, s.name)
			fmt.Println(strings.TrimRight(err.Error(), "\n"))
		}
		fmt.Printf("== %s: %s, %.1f s\n\n", s.name, word, time.Since(began).Seconds())
	}
	return failed
}

// enterModule makes the module's top folder the working one.
func enterModule() error {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return fmt.Errorf("ask go for the module: %w", err)
	}
	mod := strings.TrimSpace(string(out))
	if filepath.Base(mod) != "go.mod" {
		return fmt.Errorf("run this inside of the project's folder")
	}
	return os.Chdir(filepath.Dir(mod))
}

// run runs a program whose output is for the reader.
func run(program string, args ...string) error {
	cmd := exec.Command(program, args...)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", program, strings.Join(args, " "), err)
	}
	return nil
}
