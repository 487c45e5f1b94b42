package embeddedpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// ErrNotInstalled says that this machine has no fitting PostgreSQL, and the ways out.
var ErrNotInstalled = errors.New("no PostgreSQL 15 or newer was found on this machine; choose one: " +
	"set DATABASE_URL to a PostgreSQL that you have; " +
	"install PostgreSQL (Debian and Ubuntu: apt-get install postgresql; macOS: brew install postgresql@17); " +
	"or start everything in containers with docker compose up")

// places are folders where systems keep PostgreSQL's server programs.
var places = []string{
	"/usr/lib/postgresql/*/bin",         // Debian, Ubuntu
	"/usr/pgsql-*/bin",                  // PostgreSQL's own RPM packages
	"/usr/libexec/postgresql*",          // Alpine
	"/opt/homebrew/opt/postgresql*/bin", // Homebrew on Apple processors
	"/usr/local/opt/postgresql*/bin",    // Homebrew on Intel processors
	"/home/linuxbrew/.linuxbrew/opt/postgresql*/bin",
}

// binaries gives the folder of the server programs for c: found on the machine,
// else downloaded, else installed, else ErrNotInstalled.
func binaries(ctx context.Context, c Config) (string, error) {
	major, err := dataMajor(filepath.Join(c.Dir, "data"))
	if err != nil {
		return "", err
	}
	if bin := find(ctx, c.Dir, major); bin != "" {
		return bin, nil
	}
	if !c.LocalOnly {
		downloadErr := download(ctx, c, major)
		if bin := find(ctx, c.Dir, major); bin != "" {
			return bin, nil
		}
		installErr := install(ctx, c.Say)
		if bin := find(ctx, c.Dir, major); bin != "" {
			return bin, nil
		}
		err = errors.Join(downloadErr, installErr)
	}
	if major != 0 {
		return "", fmt.Errorf("the private database in %s was made by PostgreSQL %d, so it needs that version: %w", c.Dir, major, errors.Join(ErrNotInstalled, err))
	}
	if err != nil {
		return "", fmt.Errorf("%w (tried to fetch one: %w)", ErrNotInstalled, err)
	}
	return "", ErrNotInstalled
}

// dataMajor is the major version that made a cluster, or 0 where there is none.
func dataMajor(data string) (int, error) {
	b, err := os.ReadFile(filepath.Join(data, "PG_VERSION"))
	if errors.Is(err, os.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, fmt.Errorf("read the version of the private database: %w", err)
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(b)))
	if err != nil {
		return 0, fmt.Errorf("read the version of the private database: %w", err)
	}
	return major, nil
}

// find looks for server programs: exactly of the major version wanted, or with
// 0 the newest of oldestMajor and up.
func find(ctx context.Context, dir string, want int) string {
	best, bestMajor := "", 0
	for _, bin := range candidates(dir) {
		major := programMajor(ctx, bin)
		if major < oldestMajor || (want != 0 && major != want) {
			continue
		}
		if major > bestMajor {
			best, bestMajor = bin, major
		}
	}
	return best
}

func candidates(dir string) []string {
	var bins []string
	if path, err := exec.LookPath("initdb"); err == nil {
		if real, err := filepath.EvalSymlinks(path); err == nil {
			path = real
		}
		bins = append(bins, filepath.Dir(path))
	}
	for _, pattern := range append(places, filepath.Join(dir, "downloaded", "*", "bin")) {
		found, _ := filepath.Glob(pattern) // fails only on a malformed pattern
		bins = append(bins, found...)
	}
	return bins
}

var versionLine = regexp.MustCompile(`\(PostgreSQL\) (\d+)`)

// programMajor is the major version of the programs in a folder, or 0 when
// initdb or postgres is missing there or does not run.
func programMajor(ctx context.Context, bin string) int {
	if _, err := os.Stat(filepath.Join(bin, "initdb")); err != nil {
		return 0
	}
	out, err := exec.CommandContext(ctx, filepath.Join(bin, "postgres"), "--version").Output()
	if err != nil {
		return 0
	}
	m := versionLine.FindSubmatch(out)
	if m == nil {
		return 0
	}
	major, _ := strconv.Atoi(string(m[1])) // the pattern admits digits only
	return major
}
