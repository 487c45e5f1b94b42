package testkit

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"rungbook/internal/embeddedpg"
)

const (
	// keeperVariable turns a test program into the keeper of the folder it names.
	keeperVariable = "RUNGBOOK_TEST_KEEPER"
	// localVariable forbids the keeper to download PostgreSQL.
	localVariable = "RUNGBOOK_TEST_KEEPER_LOCAL"

	// linger is how long the server waits for a next user after the last has left.
	linger = 15 * time.Second
)

// init makes every program that imports testkit able to be the keeper. Only
// tests import testkit.
func init() {
	dir := os.Getenv(keeperVariable)
	if dir == "" {
		return
	}
	d := sharedDir(dir)
	if err := d.keep(); err != nil {
		_ = os.WriteFile(d.path("failure"), []byte(err.Error()+"\n"), 0o600) // the log has it too
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// keep runs the shared server until nobody has used it for a while, then removes
// its data: without fsync, and nobody's.
func (d sharedDir) keep() error {
	own, err := lock(d.path("keeper"), syscall.LOCK_EX) // waits only for who asks whether we live
	if err != nil {
		return err
	}
	defer own.Close()
	pg, err := embeddedpg.Start(context.Background(), embeddedpg.Config{
		Dir:       d.path("pg"),
		LocalOnly: os.Getenv(localVariable) == "true",
	})
	if err != nil {
		return err
	}
	if err := d.writeAddress(pg); err != nil {
		pg.Stop()
		return fmt.Errorf("tell the tests' shared server's address: %w", err)
	}
	gate := d.waitUnused(pg)
	if err := os.Remove(d.path("address")); err != nil {
		return err
	}
	if gate == nil {
		return errors.New("the tests' shared server ended by itself; its log is in " + d.path("pg"))
	}
	defer gate.Close()
	if err := pg.Stop(); err != nil {
		return err
	}
	return os.RemoveAll(filepath.Join(d.path("pg"), "data"))
}

// waitUnused returns the gate, locked, when nobody has used the server for the
// time of linger, or nil when the server has ended by itself.
func (d sharedDir) waitUnused(pg *embeddedpg.Server) *os.File {
	lastUse := time.Now()
	for {
		select {
		case <-pg.Exited():
			return nil
		case <-time.After(time.Second):
		}
		if d.used() {
			lastUse = time.Now()
			continue
		}
		if time.Since(lastUse) < linger {
			continue
		}
		gate, err := lock(d.path("gate"), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != nil {
			continue // somebody is joining
		}
		if !d.used() {
			return gate
		}
		gate.Close()
	}
}

// used reports whether a test program holds its mark.
func (d sharedDir) used() bool {
	f, err := lock(d.path("users"), syscall.LOCK_EX|syscall.LOCK_NB)
	if err != nil {
		return true
	}
	f.Close()
	return false
}
