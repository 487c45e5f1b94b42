package embeddedpg

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// errExited marks a server that ended before it was ready.
var errExited = errors.New("PostgreSQL ended while starting")

// launch starts the server of a cluster that exists, once, and waits until it
// takes connections.
func (cl cluster) launch(ctx context.Context, c Config) (*Server, error) {
	port := c.Port
	if port == 0 {
		free, err := freePort()
		if err != nil {
			return nil, err
		}
		port = free
	}
	logPath := filepath.Join(cl.dir, "postgres.log")
	log, err := os.OpenFile(logPath, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open the log of the private database: %w", err)
	}
	defer log.Close()
	end, err := log.Seek(0, 2)
	if err != nil {
		return nil, fmt.Errorf("open the log of the private database: %w", err)
	}

	cmd := cl.command(context.WithoutCancel(ctx), "postgres", serverArgs(cl.data, port, c.Durable)...)
	cmd.Stdout, cmd.Stderr = log, log
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("start PostgreSQL: %w", err)
	}
	s := &Server{port: port, cmd: cmd, exited: make(chan struct{})}
	go func() {
		_ = cmd.Wait() // the exit code says no more than the log does
		close(s.exited)
	}()
	if err := cl.waitReady(ctx, s); err != nil {
		_ = cmd.Process.Kill()
		<-s.exited
		return nil, fmt.Errorf("%w; its log (%s) says: %s", err, logPath, tail(logPath, end))
	}
	return s, nil
}

func serverArgs(data string, port int, durable bool) []string {
	args := []string{
		"-D", data,
		"-p", strconv.Itoa(port),
		"-c", "listen_addresses=127.0.0.1",
		"-c", "unix_socket_directories=",
		"-c", "timezone=UTC",
		"-c", "log_timezone=UTC",
	}
	if !durable {
		args = append(args,
			"-c", "fsync=off",
			"-c", "synchronous_commit=off",
			"-c", "full_page_writes=off",
			"-c", "max_connections=400",
		)
	}
	return args
}

// waitReady polls the file in which the server itself notes its state.
func (cl cluster) waitReady(ctx context.Context, s *Server) error {
	ctx, cancel := context.WithTimeout(ctx, startWait)
	defer cancel()
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-s.exited:
			return errExited
		case <-ctx.Done():
			return fmt.Errorf("PostgreSQL was not ready in time: %w", ctx.Err())
		case <-tick.C:
			if p, err := readPidFile(cl.data); err == nil && p.pid == s.PID() && p.ready {
				return nil
			}
		}
	}
}

// freePort asks the system for a TCP port that nobody uses just now.
func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, fmt.Errorf("find a free port for the private database: %w", err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}

// tail gives what a log holds after an offset, at most its last 2,000 bytes.
func tail(path string, from int64) string {
	b, err := os.ReadFile(path)
	if err != nil {
		return err.Error()
	}
	b = b[min(from, int64(len(b))):]
	b = b[max(0, len(b)-2000):]
	return strings.TrimSpace(string(b))
}
