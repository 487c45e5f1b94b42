// Package e2e meets the real program as people do: in a browser, one journey a role, over the invented studio.
package e2e

import (
	"bufio"
	"errors"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// house is the program, running the demonstration on a port and in a folder of its own.
type house struct {
	url   string
	words map[string]signIn // by the first name in the e-mail address
}

type signIn struct{ role, email, passphrase string }

var (
	opened = regexp.MustCompile(`is open at (http://\S+)`)
	listed = regexp.MustCompile(`^\s+(\S+(?: \S+)*?)\s{2,}(\S+@\S+)\s+(.+)$`)
)

// openHouse builds and starts the program, with env beside the environment, and stops it after the test as an operator would.
func openHouse(t *testing.T, env ...string) *house {
	t.Helper()
	dir, err := os.MkdirTemp("", "rungbook-e2e-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o711); err != nil { // PostgreSQL runs as another account when root starts it
		t.Fatal(err)
	}
	program := filepath.Join(dir, "rungbook")
	build := exec.Command("go", "build", "-o", program, "./cmd/rungbook")
	build.Dir = ".."
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build the program: %v\n%s", err, out)
	}
	run := exec.Command(program, "demo", "-addr", "localhost:0", "-dir", filepath.Join(dir, "demo"))
	run.Env = append(withoutDatabase(os.Environ()), env...)
	run.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	out, err := run.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	said := &strings.Builder{}
	run.Stderr = said
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { stop(t, run, said) })
	return readAnnouncement(t, out, said)
}

// withoutDatabase keeps a contributor's own databases out of it.
func withoutDatabase(env []string) []string {
	var kept []string
	for _, v := range env {
		if !strings.HasPrefix(v, "DATABASE_URL=") && !strings.HasPrefix(v, "RUNGBOOK_") {
			kept = append(kept, v)
		}
	}
	return kept
}

func stop(t *testing.T, run *exec.Cmd, said *strings.Builder) {
	if err := run.Process.Signal(syscall.SIGTERM); err != nil && !errors.Is(err, os.ErrProcessDone) {
		t.Errorf("stop the program: %v", err)
	}
	ended := make(chan error, 1)
	go func() { ended <- run.Wait() }()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("the program ended with %v:\n%s", err, said)
		}
	case <-time.After(time.Minute):
		run.Process.Kill()
		t.Error("the program did not end when asked to")
	}
}

// readAnnouncement waits for the address and the sign-ins that the program prints.
func readAnnouncement(t *testing.T, out io.Reader, said *strings.Builder) *house {
	t.Helper()
	lines := make(chan string)
	go func() {
		defer close(lines)
		for scan := bufio.NewScanner(out); scan.Scan(); {
			lines <- scan.Text()
		}
	}()
	h := &house{words: map[string]signIn{}}
	patience := time.After(3 * time.Minute)
	for {
		select {
		case line, ok := <-lines:
			if !ok {
				t.Fatalf("the program ended before it served:\n%s", said)
			}
			if m := opened.FindStringSubmatch(line); m != nil {
				h.url = m[1]
			}
			if m := listed.FindStringSubmatch(line); m != nil {
				name, _, _ := strings.Cut(m[2], "@")
				h.words[name] = signIn{m[1], m[2], strings.TrimSpace(m[3])}
			}
			if strings.Contains(line, "Ctrl-C") {
				go func() {
					for range lines { // keep the pipe from filling
					}
				}()
				return h
			}
		case <-patience:
			t.Fatalf("the program did not open in time:\n%s", said)
		}
	}
}

// child is the id of a child by name, as a teacher of the child finds it.
func (h *house) child(t *testing.T, name string) string {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Jar: jar}
	who := h.as(t, teacherName)
	if _, err := client.PostForm(h.url+"/sign-in", url.Values{"email": {who.email}, "passphrase": {who.passphrase}}); err != nil {
		t.Fatal(err)
	}
	answer, err := client.Get(h.url + "/children")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	page, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`href="/children/([0-9a-f-]{36})"[^>]*>\s*` + regexp.QuoteMeta(name)).FindSubmatch(page)
	if found == nil {
		t.Fatalf("no child is called %s", name)
	}
	return string(found[1])
}
