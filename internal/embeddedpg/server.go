// Package embeddedpg runs a private PostgreSQL: for the demonstration, and for
// tests. It finds the server's programs on this machine, keeps one cluster in a
// folder of its own and never deletes what that folder holds.
//
// The server listens on 127.0.0.1 only, without a socket file, and asks every
// role for a password that was drawn at random when the cluster was made.
package embeddedpg

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"time"
)

const (
	// Owner is the role that owns the cluster: it migrates, and never serves.
	Owner = "rungbook_owner"
	// App is the role that serves: no superuser, no BYPASSRLS, owner of nothing.
	App = "rungbook_app"
	// Database is the database that is made together with the cluster.
	Database = "rungbook"

	oldestMajor = 15
	startTries  = 5
	startWait   = 60 * time.Second
	stopWait    = 30 * time.Second
)

// Config says where a private PostgreSQL lives and how it runs.
type Config struct {
	// Dir is the server's own folder, made when absent. Data are kept in it
	// from one start to the next.
	Dir string
	// Port on 127.0.0.1; 0 takes a free one.
	Port int
	// Durable keeps fsync and full page writes on. Only tests go without.
	Durable bool
	// Version is the exact version to download where the machine has none,
	// such as "17.5.0"; empty takes one that matches the data.
	Version string
	// Mirror is the address of a Maven repository to download from; empty is
	// the public one.
	Mirror string
	// LocalOnly never downloads or installs: Start returns ErrNotInstalled.
	LocalOnly bool
	// Say receives a plain sentence before each slow step; nil is silent.
	Say func(string)
}

// Server is a running private PostgreSQL. Its methods are safe for concurrent use.
type Server struct {
	port   int
	words  passwords
	lock   *os.File
	cmd    *exec.Cmd
	exited chan struct{}
}

// DefaultDir is the folder for a private cluster called name: below
// /var/lib/rungbook for root (the database itself runs as another account,
// which cannot enter root's home), else below the user's own data folder.
func DefaultDir(name string) (string, error) {
	if os.Geteuid() == 0 {
		return filepath.Join("/var/lib/rungbook", name), nil
	}
	if data := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(data) {
		return filepath.Join(data, "rungbook", name), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("find a folder for the private database: %w", err)
	}
	return filepath.Join(home, ".local", "share", "rungbook", name), nil
}

// Start starts the private PostgreSQL of c.Dir, making its cluster first when
// there is none. A server that a killed program left behind is stopped first.
// ctx bounds the start only; end the server with Stop.
func Start(ctx context.Context, c Config) (*Server, error) {
	dir, err := filepath.Abs(c.Dir)
	if err != nil || c.Dir == "" {
		return nil, fmt.Errorf("the private database needs a folder, and %q is none", c.Dir)
	}
	c.Dir = dir
	if c.Say == nil {
		c.Say = func(string) {}
	}
	who, err := prepareDir(dir)
	if err != nil {
		return nil, err
	}
	lock, err := lockFile(filepath.Join(dir, "lock"))
	if err != nil {
		return nil, fmt.Errorf("the private database in %s is in use by another program: stop that one, or choose another folder: %w", dir, err)
	}
	s, err := startLocked(ctx, c, who)
	if err != nil {
		lock.Close()
		return nil, err
	}
	s.lock = lock
	return s, nil
}

func startLocked(ctx context.Context, c Config, who account) (*Server, error) {
	bin, err := binaries(ctx, c)
	if err != nil {
		return nil, err
	}
	cl := cluster{dir: c.Dir, data: filepath.Join(c.Dir, "data"), bin: bin, who: who}
	if err := cl.ensure(ctx, c); err != nil {
		return nil, err
	}
	words, err := readPasswords(c.Dir)
	if err != nil {
		return nil, err
	}
	if err := cl.clearPast(ctx); err != nil {
		return nil, err
	}
	// A free port may be taken by another program before PostgreSQL binds it,
	// and shared memory of a killed server lives on for a moment: try again.
	for try := 1; ; try++ {
		s, err := cl.launch(ctx, c)
		if err == nil {
			s.words = words
			return s, nil
		}
		if try == startTries || ctx.Err() != nil || !errors.Is(err, errExited) {
			return nil, err
		}
		time.Sleep(300 * time.Millisecond)
	}
}

// URL is the address of a database for a role (Owner or App), password included.
func (s *Server) URL(database, role string) string {
	u := url.URL{
		Scheme:   "postgres",
		User:     url.UserPassword(role, s.words[role]),
		Host:     net.JoinHostPort("127.0.0.1", strconv.Itoa(s.port)),
		Path:     "/" + database,
		RawQuery: "sslmode=disable",
	}
	return u.String()
}

// Port is the TCP port on 127.0.0.1.
func (s *Server) Port() int { return s.port }

// PID is the process id of the server's first process.
func (s *Server) PID() int { return s.cmd.Process.Pid }

// Exited is closed when the server has ended, by Stop or by itself.
func (s *Server) Exited() <-chan struct{} { return s.exited }

// Stop ends the server, breaking off open connections, and returns when it has
// gone. Data stay. A second call does nothing.
func (s *Server) Stop() error {
	defer s.lock.Close()
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGQUIT} {
		if err := s.cmd.Process.Signal(sig); err != nil && !errors.Is(err, os.ErrProcessDone) {
			return fmt.Errorf("stop the private database: %w", err)
		}
		select {
		case <-s.exited:
			return nil
		case <-time.After(stopWait):
		}
	}
	return fmt.Errorf("the private database (process %d) does not stop", s.PID())
}
