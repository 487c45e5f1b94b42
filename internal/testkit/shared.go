package testkit

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"rungbook/internal/embeddedpg"
)

// All test programs of a user share one private PostgreSQL. The folder holds
//
//	gate     locked by who joins or closes down, one at a time
//	users    locked, shared, by each test program for its whole life
//	keeper   locked by the program that runs the server (see keeper.go)
//	address  the superuser's address and the serving role's password, a line each
//	failure  why the keeper could not start
//	pg/      the server
//
// The system gives locks back when a program ends, however it ends.
type sharedDir string

func (d sharedDir) path(name string) string { return filepath.Join(string(d), name) }

// users is this program's mark of using the shared server; open until it ends.
var users *os.File

// openShared joins the shared server, having it started when none runs.
// localOnly forbids downloading one.
func openShared(ctx context.Context, localOnly bool) (server, error) {
	dir, err := openSharedDir()
	if err != nil {
		return server{}, err
	}
	gate, err := lock(dir.path("gate"), syscall.LOCK_EX)
	if err != nil {
		return server{}, err
	}
	defer gate.Close()
	if users == nil {
		if users, err = lock(dir.path("users"), syscall.LOCK_SH); err != nil {
			return server{}, err
		}
	}
	if err := dir.awaitKeeper(ctx, localOnly); err != nil {
		return server{}, err
	}
	return dir.readAddress()
}

// openSharedDir makes the folder, which belongs to this user and nobody else.
// Others may pass through it, for the server's account has to.
func openSharedDir() (sharedDir, error) {
	uid := os.Geteuid()
	dir := filepath.Join(quickFolder(), "rungbook-test-"+strconv.Itoa(uid))
	if err := os.Mkdir(dir, 0o711); err != nil && !errors.Is(err, os.ErrExist) {
		return "", fmt.Errorf("make the tests' shared folder: %w", err)
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return "", fmt.Errorf("make the tests' shared folder: %w", err)
	}
	if st := info.Sys().(*syscall.Stat_t); !info.IsDir() || int(st.Uid) != uid {
		return "", fmt.Errorf("%s belongs to somebody else: remove it, or set TMPDIR", dir)
	}
	return sharedDir(dir), nil
}

// quickFolder is memory where the machine has plenty, since making databases waits for disks; else where temporary files go. TMPDIR
// decides where it is set.
func quickFolder() string {
	const memory, plenty = "/dev/shm", 4 << 30
	var s syscall.Statfs_t
	if os.Getenv("TMPDIR") == "" && syscall.Statfs(memory, &s) == nil && s.Bavail*uint64(s.Bsize) >= plenty {
		return memory
	}
	return os.TempDir()
}

// awaitKeeper returns when a keeper is at work and its server takes connections,
// starting one when there is none. Call it with the gate locked.
func (d sharedDir) awaitKeeper(ctx context.Context, localOnly bool) error {
	var exited <-chan struct{}
	for ; ; time.Sleep(20 * time.Millisecond) {
		if ctx.Err() != nil {
			return fmt.Errorf("wait for the tests' shared server: %w", ctx.Err())
		}
		if d.kept() {
			if _, err := os.Stat(d.path("address")); err == nil {
				return nil
			}
			continue
		}
		if exited == nil {
			var err error
			if exited, err = d.startKeeper(localOnly); err != nil {
				return fmt.Errorf("start the tests' shared server: %w", err)
			}
		}
		select {
		case <-exited:
			return d.readFailure()
		default:
		}
	}
}

// kept reports whether a keeper is at work.
func (d sharedDir) kept() bool {
	f, err := lock(d.path("keeper"), syscall.LOCK_EX|syscall.LOCK_NB)
	if err == nil {
		f.Close()
	}
	return err != nil
}

// startKeeper runs this very program again as the server's keeper, in a session
// of its own so that it outlives us. The channel is closed when it ends.
func (d sharedDir) startKeeper(localOnly bool) (<-chan struct{}, error) {
	for _, name := range []string{"address", "failure"} {
		if err := os.Remove(d.path(name)); err != nil && !errors.Is(err, os.ErrNotExist) {
			return nil, err
		}
	}
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	log, err := os.Create(d.path("keeper.log"))
	if err != nil {
		return nil, err
	}
	defer log.Close()
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), keeperVariable+"="+string(d), localVariable+"="+strconv.FormatBool(localOnly))
	cmd.Dir = string(d)
	cmd.Stdout, cmd.Stderr = log, log
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	exited := make(chan struct{})
	go func() {
		_ = cmd.Wait() // its reasons are in the file "failure"
		close(exited)
	}()
	return exited, nil
}

func (d sharedDir) readFailure() error {
	b, err := os.ReadFile(d.path("failure"))
	if err != nil {
		return fmt.Errorf("the tests' shared server ended at once; see %s", d.path("keeper.log"))
	}
	if strings.Contains(string(b), embeddedpg.ErrNotInstalled.Error()) {
		return embeddedpg.ErrNotInstalled
	}
	return errors.New(strings.TrimSpace(string(b)))
}

func (d sharedDir) readAddress() (server, error) {
	b, err := os.ReadFile(d.path("address"))
	if err != nil {
		return server{}, fmt.Errorf("find the tests' shared server: %w", err)
	}
	admin, words, _ := strings.Cut(strings.TrimSpace(string(b)), "\n")
	return server{admin: admin, appWords: words}, nil
}

// writeAddress puts the file in place whole.
func (d sharedDir) writeAddress(pg *embeddedpg.Server) error {
	app, err := url.Parse(pg.URL(embeddedpg.Database, embeddedpg.App))
	if err != nil {
		return err
	}
	words, _ := app.User.Password()
	fresh := d.path("address.new")
	if err := os.WriteFile(fresh, []byte(pg.URL(embeddedpg.Database, embeddedpg.Owner)+"\n"+words+"\n"), 0o600); err != nil {
		return err
	}
	return os.Rename(fresh, d.path("address"))
}

// lock opens a file and locks it until the file is closed or the program ends.
func lock(path string, how int) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("lock the tests' shared server: %w", err)
	}
	for {
		err = syscall.Flock(int(f.Fd()), how)
		if !errors.Is(err, syscall.EINTR) {
			break
		}
	}
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("lock the tests' shared server: %w", err)
	}
	return f, nil
}
