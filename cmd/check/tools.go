package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// tool is a program that some test needs.
type tool struct {
	debian  string   // package that brings it on Debian
	found   []string // names in PATH, or patterns of full paths; any one will do
	purpose string
	browser bool // needed by browser tests only
}

var tools = []tool{
	{debian: "postgresql", found: []string{"initdb", "/usr/lib/postgresql/*/bin/initdb", "/opt/homebrew/opt/postgresql*/bin/initdb", "/usr/local/opt/postgresql*/bin/initdb"},
		purpose: "the database of the tests (or set RUNGBOOK_TEST_DATABASE_URL, or run a container engine)"},
	{debian: "glpk-utils", found: []string{"glpsol"}, purpose: "a second opinion on lesson plans"},
	{debian: "coinor-cbc", found: []string{"cbc"}, purpose: "a second opinion on lesson plans"},
	{debian: "poppler-utils", found: []string{"pdftotext"}, purpose: "reading the PDF reports back"},
	{debian: "python3-icalendar", found: []string{"/usr/lib/python3/dist-packages/icalendar"}, purpose: "reading the calendars back"},
	{debian: "chromium", found: []string{"chromium", "chromium-browser", "google-chrome", "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"},
		purpose: "the browser tests", browser: true},
	{debian: "npm", found: []string{"npm"}, purpose: "fetching the accessibility rules (axe-core)", browser: true},
}

// provideTools installs what is missing as root on Debian, else says what to
// install. A tool that stays missing is no failure here: its tests say so.
func provideTools(fast bool) error {
	var missing []tool
	for _, t := range tools {
		if !t.present() && !(fast && t.browser) {
			missing = append(missing, t)
		}
	}
	if len(missing) > 0 {
		if err := provide(missing); err != nil {
			return err
		}
	}
	if fast {
		return nil
	}
	return provideRules()
}

func provide(missing []tool) error {
	if _, err := exec.LookPath("apt-get"); err != nil || os.Geteuid() != 0 {
		for _, t := range missing {
			fmt.Printf("please install %s (Debian: apt-get install %s), for %s\n", t.found[0], t.debian, t.purpose)
		}
		return nil
	}
	args := []string{"install", "-y", "--no-install-recommends"}
	for _, t := range missing {
		args = append(args, t.debian)
	}
	fmt.Printf("installing %s\n", strings.Join(args[3:], ", "))
	if err := quietly("apt-get", "update"); err != nil {
		return err
	}
	return quietly("apt-get", args...)
}

// provideRules fetches axe-core, at the version that the lock file names.
func provideRules() error {
	if _, err := os.Stat("e2e/node_modules/axe-core/axe.min.js"); err == nil {
		return nil
	}
	if _, err := exec.LookPath("npm"); err != nil {
		fmt.Println("without npm there is no axe-core: accessibility tests will be skipped")
		return nil
	}
	return quietly("npm", "ci", "--prefix", "e2e")
}

func (t tool) present() bool {
	for _, name := range t.found {
		if filepath.IsAbs(name) {
			if hits, err := filepath.Glob(name); err == nil && len(hits) > 0 {
				return true
			}
		} else if _, err := exec.LookPath(name); err == nil {
			return true
		}
	}
	return false
}

// quietly runs a program and shows its output only when it fails.
func quietly(program string, args ...string) error {
	cmd := exec.Command(program, args...)
	cmd.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%s %s: %w\n%s", program, strings.Join(args, " "), err, out)
	}
	return nil
}
