package embeddedpg

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// archive is a repository's package of server programs: stand-ins that know
// their version and cannot start.
func archive(t *testing.T) []byte {
	t.Helper()
	for _, tool := range []string{"tar", "xz"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is absent")
		}
	}
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "bin"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, script := range map[string]string{
		"postgres": "echo 'postgres (PostgreSQL) 17.5'",
		"initdb":   "exit 1",
		"pg_ctl":   "exit 1",
	} {
		if err := os.WriteFile(filepath.Join(dir, "bin", name), []byte("#!/bin/sh\n"+script+"\n"), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	packed, err := exec.Command("tar", "-C", dir, "-cJf", "-", "bin").Output()
	if err != nil {
		t.Fatal(err)
	}
	var jar bytes.Buffer
	z := zip.NewWriter(&jar)
	w, err := z.Create("postgres-linux-x86_64.txz")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(packed); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return jar.Bytes()
}

func mirror(t *testing.T, jar []byte, checksum string) string {
	t.Helper()
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case !strings.Contains(r.URL.Path, "/17.5.0/"):
			http.NotFound(w, r)
		case strings.HasSuffix(r.URL.Path, ".sha256"):
			w.Write([]byte(checksum))
		default:
			w.Write(jar)
		}
	}))
	t.Cleanup(srv.Close)
	return srv.URL
}

func TestDownloadFetchesProgramsAndTouchesNoData(t *testing.T) {
	jar := archive(t)
	sum := sha256.Sum256(jar)
	dir := t.TempDir()
	kept := filepath.Join(dir, "data", "PG_VERSION")
	if err := os.Mkdir(filepath.Dir(kept), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(kept, []byte("16\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	c := Config{Dir: dir, Version: "17.5.0", Mirror: mirror(t, jar, hex.EncodeToString(sum[:])), Say: func(string) {}}
	if err := download(t.Context(), c, 16); err != nil {
		t.Fatal(err)
	}
	bin := filepath.Join(dir, "downloaded", "17.5.0", "bin")
	if !slices.Contains(candidates(dir), bin) || programMajor(t.Context(), bin) != 17 {
		t.Errorf("%s is not taken for PostgreSQL 17", bin)
	}
	info, err := os.Stat(filepath.Join(bin, "postgres"))
	if err != nil || info.Mode().Perm() != 0o755 {
		t.Errorf("postgres is %v, %v: another account could not run it", info.Mode(), err)
	}
	if _, err := os.Stat(kept); err != nil {
		t.Errorf("data were touched: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "download-*")); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestDownloadFailsInWords(t *testing.T) {
	jar := archive(t)
	closed := httptest.NewServer(http.NotFoundHandler())
	closed.Close()
	cases := map[string]struct {
		config Config
		want   string
	}{
		"wrong checksum":  {Config{Version: "17.5.0", Mirror: mirror(t, jar, "00")}, "checksums do not match"},
		"unknown version": {Config{Version: "17.99.0", Mirror: mirror(t, jar, "00")}, "no version found matching 17.99.0"},
		"no network":      {Config{Version: "17.5.0", Mirror: closed.URL}, "unable to connect"},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			tc.config.Dir, tc.config.Say = t.TempDir(), func(string) {}
			err := download(t.Context(), tc.config, 0)
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("the error is %v, want one with %q", err, tc.want)
			}
		})
	}
}
