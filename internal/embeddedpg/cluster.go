package embeddedpg

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// cluster is one set of databases on disk with the programs that run it.
type cluster struct {
	dir, data, bin string
	who            account
}

// passwords holds a role's password under its name.
type passwords map[string]string

// command is a PostgreSQL program with a clean environment, run as the
// cluster's account in a process group of its own: Ctrl-C in a terminal ends
// Rungbook, and Rungbook ends its database.
func (cl cluster) command(ctx context.Context, program string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, filepath.Join(cl.bin, program), args...)
	cmd.Dir = cl.dir
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=" + locale()}
	cmd.SysProcAttr = cl.who.attributes()
	return cmd
}

// ensure makes the cluster unless it exists. The new one is built beside its
// place and moved there when complete, so that a start that was interrupted
// leaves nothing half made behind.
func (cl cluster) ensure(ctx context.Context, c Config) error {
	if _, err := os.Stat(filepath.Join(cl.data, "PG_VERSION")); err == nil {
		return nil
	}
	if _, err := os.Stat(cl.data); err == nil {
		return fmt.Errorf("%s exists but holds no database: move it away, or choose another folder", cl.data)
	}
	c.Say("Making a private database in " + cl.dir + ".")
	words := passwords{Owner: rand.Text(), App: rand.Text()}
	if err := words.write(cl); err != nil {
		return err
	}
	fresh := cl
	tmp, err := os.MkdirTemp(cl.dir, "new-")
	if err != nil {
		return fmt.Errorf("make the private database: %w", err)
	}
	defer os.RemoveAll(tmp) // only what this call made; empty after the move
	if err := cl.who.own(tmp); err != nil {
		return err
	}
	fresh.data = filepath.Join(tmp, "data")
	if err := fresh.initdb(ctx, c.Durable); err != nil {
		return err
	}
	if err := fresh.makeRoles(ctx, words); err != nil {
		return err
	}
	if err := os.Rename(fresh.data, cl.data); err != nil {
		return fmt.Errorf("make the private database: %w", err)
	}
	return nil
}

func (cl cluster) initdb(ctx context.Context, durable bool) error {
	args := []string{
		"-D", cl.data,
		"--username=" + Owner,
		"--pwfile=" + filepath.Join(cl.dir, Owner+".password"),
		"--auth=scram-sha-256",
		"--encoding=UTF8",
		"--locale=" + locale(),
	}
	if durable {
		args = append(args, "--data-checksums")
	} else {
		args = append(args, "--no-sync")
	}
	if out, err := cl.command(ctx, "initdb", args...).CombinedOutput(); err != nil {
		return fmt.Errorf("make the private database (initdb): %w: %s", err, bytes.TrimSpace(out))
	}
	return nil
}

// makeRoles adds the serving role and the first database, without a network:
// the server's single-user mode reads a statement a line.
func (cl cluster) makeRoles(ctx context.Context, words passwords) error {
	cmd := cl.command(ctx, "postgres", "--single", "-D", cl.data, "-F", "postgres")
	cmd.Stdin = strings.NewReader(
		"CREATE ROLE " + App + " LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOBYPASSRLS NOREPLICATION PASSWORD '" + words[App] + "'\n" +
			"CREATE DATABASE " + Database + " OWNER " + Owner + "\n")
	out, err := cmd.CombinedOutput()
	if err == nil && bytes.Contains(out, []byte("ERROR:")) {
		err = errors.New("a statement failed")
	}
	if err != nil {
		return fmt.Errorf("make the private database's roles: %w: %s", err, bytes.TrimSpace(out))
	}
	return nil
}

// write keeps each password in a file that only the cluster's account (and root) may read.
func (w passwords) write(cl cluster) error {
	for role, word := range w {
		path := filepath.Join(cl.dir, role+".password")
		if err := os.WriteFile(path, []byte(word+"\n"), 0o600); err != nil {
			return fmt.Errorf("keep the private database's passwords: %w", err)
		}
		if err := cl.who.own(path); err != nil {
			return err
		}
	}
	return nil
}

func readPasswords(dir string) (passwords, error) {
	words := passwords{}
	for _, role := range []string{Owner, App} {
		b, err := os.ReadFile(filepath.Join(dir, role+".password"))
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s.password is missing from %s: put it back from a backup of that folder: %w", role, dir, err)
		}
		if err != nil {
			return nil, fmt.Errorf("read the private database's passwords: %w", err)
		}
		words[role] = strings.TrimSpace(string(b))
	}
	return words, nil
}

// locale names one with UTF-8 letters and code-point order, which every system
// of its kind has.
func locale() string {
	if runtime.GOOS == "darwin" {
		return "en_US.UTF-8"
	}
	return "C.UTF-8"
}
