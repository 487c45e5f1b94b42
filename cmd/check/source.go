package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// checkFormat fails on Go files that gofmt would write otherwise.
func checkFormat() error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("ask go where it lives: %w", err)
	}
	gofmt := filepath.Join(strings.TrimSpace(string(root)), "bin", "gofmt")
	files, err := filesEnding(".", ".go")
	if err != nil {
		return err
	}
	out, err := exec.Command(gofmt, append([]string{"-l"}, files...)...).CombinedOutput()
	if err != nil {
		return fmt.Errorf("gofmt: %w\n%s", err, out)
	}
	if len(out) > 0 {
		return fmt.Errorf("run gofmt -w on:\n%s", out)
	}
	return nil
}

// checkGenerated makes the pages' Go files anew and fails when that changes any,
// or when one is left whose page is gone. The new files stay, ready to commit.
func checkGenerated() error {
	before, err := generatedFiles(".")
	if err != nil {
		return err
	}
	if err := quietly("go", "tool", "templ", "generate"); err != nil {
		return err
	}
	after, err := generatedFiles(".")
	if err != nil {
		return err
	}
	stale := differences(before, after)
	for name := range after {
		if _, err := os.Stat(strings.TrimSuffix(name, "_templ.go") + ".templ"); errors.Is(err, fs.ErrNotExist) {
			stale = append(stale, name+" (its page is gone: remove it)")
		}
	}
	if len(stale) > 0 {
		slices.Sort(stale)
		return fmt.Errorf("these generated files were out of date; commit them as they are now:\n%s", strings.Join(stale, "\n"))
	}
	return nil
}

// generatedFiles gives the hash of each generated page below a folder.
func generatedFiles(root string) (map[string][sha256.Size]byte, error) {
	names, err := filesEnding(root, "_templ.go")
	if err != nil {
		return nil, err
	}
	sums := map[string][sha256.Size]byte{}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("read the generated pages: %w", err)
		}
		sums[name] = sha256.Sum256(b)
	}
	return sums, nil
}

// differences names what is new, gone or changed.
func differences(before, after map[string][sha256.Size]byte) []string {
	var names []string
	for name, sum := range after {
		if old, ok := before[name]; !ok || old != sum {
			names = append(names, name)
		}
	}
	for name := range before {
		if _, ok := after[name]; !ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// filesEnding lists files below a folder, but for hidden and fetched ones.
func filesEnding(root, ending string) ([]string, error) {
	var names []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		if !d.IsDir() && strings.HasSuffix(path, ending) {
			names = append(names, path)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("look for *%s files: %w", ending, err)
	}
	return names, nil
}
