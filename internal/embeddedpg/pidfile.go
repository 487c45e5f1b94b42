package embeddedpg

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// pidFile is what a running server notes in postmaster.pid.
type pidFile struct {
	pid   int
	ready bool
	rest  string // all lines but the first
}

func readPidFile(data string) (pidFile, error) {
	b, err := os.ReadFile(filepath.Join(data, "postmaster.pid"))
	if err != nil {
		return pidFile{}, err
	}
	first, rest, _ := strings.Cut(string(b), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return pidFile{}, fmt.Errorf("read postmaster.pid: %w", err)
	}
	lines := strings.Split(string(b), "\n")
	ready := len(lines) >= 8 && strings.TrimSpace(lines[7]) == "ready"
	return pidFile{pid: pid, ready: ready, rest: rest}, nil
}

// clearPast deals with a postmaster.pid that an earlier run left. Call it with
// the folder's lock held: no living Rungbook then uses this server.
//   - its process is gone: PostgreSQL recovers by itself;
//   - its process is the server of this cluster, orphaned: it is stopped;
//   - its number now belongs to another program: that one is left alone, and the
//     note is changed to our own number, which PostgreSQL takes for stale since
//     it is its parent's. All its other checks stay in force.
func (cl cluster) clearPast(ctx context.Context) error {
	p, err := readPidFile(cl.data)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("look for an earlier private database: %w", err)
	}
	if !alive(p.pid) {
		return nil
	}
	if cl.serves(p.pid) {
		return stopOrphan(ctx, p.pid)
	}
	path := filepath.Join(cl.data, "postmaster.pid")
	note := strconv.Itoa(os.Getpid()) + "\n" + p.rest
	if err := os.WriteFile(path, []byte(note), 0o600); err != nil {
		return fmt.Errorf("mark an earlier private database as gone: %w", err)
	}
	return nil
}

func stopOrphan(ctx context.Context, pid int) error {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGQUIT} {
		if err := syscall.Kill(pid, sig); err != nil && !errors.Is(err, syscall.ESRCH) {
			return fmt.Errorf("stop the earlier private database (process %d): %w", pid, err)
		}
		for end := time.Now().Add(stopWait); time.Now().Before(end) && ctx.Err() == nil; time.Sleep(20 * time.Millisecond) {
			if !alive(pid) {
				return nil
			}
		}
	}
	return fmt.Errorf("an earlier private database (process %d) is still running: stop it and start again", pid)
}

func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}

// serves reports whether a process is a PostgreSQL started on this cluster.
func (cl cluster) serves(pid int) bool {
	if b, err := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", pid)); err == nil {
		args := strings.Split(string(bytes.TrimRight(b, "\x00")), "\x00")
		return strings.HasPrefix(filepath.Base(args[0]), "postgres") && slices.Contains(args, cl.data)
	}
	out, err := exec.Command("ps", "-o", "command=", "-p", strconv.Itoa(pid)).Output()
	return err == nil && strings.Contains(string(out), "postgres -D "+cl.data+" ")
}
