package e2e

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/embeddedpg"
)

// shakyHouse is the program serving for real over a durable PostgreSQL of its own, both of which may be killed at any time.
type shakyHouse struct {
	url     string
	demo    *house // who may sign in
	program string
	addr    string
	config  embeddedpg.Config
	server  *embeddedpg.Server
	run     *exec.Cmd
}

func openShakyHouse(t *testing.T) *shakyHouse {
	t.Helper()
	dir, err := os.MkdirTemp("", "rungbook-fault-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o711); err != nil { // PostgreSQL runs as another account when root starts it
		t.Fatal(err)
	}
	h := &shakyHouse{program: filepath.Join(dir, "rungbook"), addr: freeAddress(t)}
	h.url = "http://" + h.addr
	h.config = embeddedpg.Config{Dir: filepath.Join(dir, "database"), Durable: true}
	if h.server, err = embeddedpg.Start(t.Context(), h.config); err != nil {
		t.Fatal(err)
	}
	h.config.Port = h.server.Port()
	t.Cleanup(func() { h.server.Stop() })
	build := exec.Command("go", "build", "-o", h.program, "./cmd/rungbook")
	build.Dir = ".."
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build the program: %v\n%s", err, out)
	}
	t.Run("fill", func(t *testing.T) { // the demonstration fills the database, and has ended when this has
		h.demo = openHouse(t, "DATABASE_URL="+h.server.URL(embeddedpg.Database, embeddedpg.App), "RUNGBOOK_OWNER_URL="+h.server.URL(embeddedpg.Database, embeddedpg.Owner))
	})
	t.Cleanup(func() { h.killProgram() })
	if err := h.startProgram(t.Context()); err != nil {
		t.Fatal(err)
	}
	return h
}

func freeAddress(t *testing.T) string {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

// startProgram starts the program and waits until it answers; one that ends early, as while the database recovers, is started again.
func (h *shakyHouse) startProgram(ctx context.Context) error {
	deadline := time.Now().Add(30 * time.Second)
	for {
		h.run = exec.Command(h.program, "serve")
		h.run.Env = append(withoutDatabase(os.Environ()), "DATABASE_URL="+h.server.URL(embeddedpg.Database, embeddedpg.App), "RUNGBOOK_ADDR="+h.addr,
			"RUNGBOOK_BASE_URL="+h.url, "RUNGBOOK_PLAIN_HTTP=true", "RUNGBOOK_TRUSTED_PROXIES=127.0.0.1/32")
		if err := h.run.Start(); err != nil {
			return err
		}
		ended := make(chan struct{})
		go func(run *exec.Cmd) { run.Wait(); close(ended) }(h.run)
		for alive := true; alive; {
			if answer, err := http.Get(h.url + "/healthz"); err == nil {
				answer.Body.Close()
				if answer.StatusCode == http.StatusOK {
					return nil
				}
			}
			select {
			case <-ended:
				alive = false
			case <-time.After(20 * time.Millisecond):
			}
			if ctx.Err() != nil || time.Now().After(deadline) {
				return fmt.Errorf("the program does not come up again")
			}
		}
	}
}

// killProgram is kill -9, and returns when the program has gone.
func (h *shakyHouse) killProgram() {
	h.run.Process.Kill()
	for syscall.Kill(h.run.Process.Pid, 0) == nil {
		time.Sleep(time.Millisecond)
	}
}

// killDatabase is kill -9 for all of PostgreSQL's processes at once; startDatabase starts it again on what is on the disk.
func (h *shakyHouse) killDatabase() error {
	pids := append([]int{h.server.PID()}, childrenOf(h.server.PID())...)
	for _, pid := range pids {
		syscall.Kill(pid, syscall.SIGKILL)
	}
	<-h.server.Exited()
	return h.server.Stop()
}

func (h *shakyHouse) startDatabase(ctx context.Context) (err error) {
	h.server, err = embeddedpg.Start(ctx, h.config)
	return err
}

// childrenOf reads Linux's own list; elsewhere the children of a killed PostgreSQL end by themselves.
func childrenOf(pid int) []int {
	list, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%[1]d/children", pid))
	if err != nil {
		return nil
	}
	var pids []int
	for word := range strings.FieldsSeq(string(list)) {
		if child, err := strconv.Atoi(word); err == nil {
			pids = append(pids, child)
		}
	}
	return pids
}

// ask runs fn with a connection of the owning role, which no row-level security binds.
func (h *shakyHouse) ask(ctx context.Context, fn func(*pgx.Conn) error) error {
	conn, err := pgx.Connect(ctx, h.server.URL(embeddedpg.Database, embeddedpg.Owner))
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	return fn(conn)
}
