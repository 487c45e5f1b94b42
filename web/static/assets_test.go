package static

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

func get(t *testing.T, path string, headers ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	Handler().ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r io.Reader) []byte {
	t.Helper()
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestHashedNamesAreKeptForEver(t *testing.T) {
	for name, kind := range map[string]string{
		"css/app.css":   "text/css; charset=utf-8",
		"js/enhance.js": "text/javascript; charset=utf-8",
		"favicon.svg":   "image/svg+xml",
	} {
		res := get(t, Path(name))
		if res.StatusCode != http.StatusOK {
			t.Fatalf("%s: status %d", name, res.StatusCode)
		}
		if got := res.Header.Get("Content-Type"); got != kind {
			t.Errorf("%s: type %q, want %q", name, got, kind)
		}
		if got := res.Header.Get("Cache-Control"); !strings.Contains(got, "immutable") {
			t.Errorf("%s: Cache-Control %q", name, got)
		}
	}
}

// A page of an older version may still ask for an older hash: it gets the
// present file, but must not keep it under that name.
func TestOtherNamesAreCheckedAgain(t *testing.T) {
	for _, path := range []string{"/static/css/app.css", "/static/css/app.000000000000.css"} {
		res := get(t, path)
		if res.StatusCode != http.StatusOK || res.Header.Get("Cache-Control") != "no-cache" {
			t.Errorf("%s: status %d, Cache-Control %q", path, res.StatusCode, res.Header.Get("Cache-Control"))
		}
	}
}

func TestUnknownNamesAreMissing(t *testing.T) {
	for _, path := range []string{"/static/", "/static/css/tokens.css", "/static/embed.go", "/static/../go.mod", "/static/css", "/static/js/enhance"} {
		if res := get(t, path); res.StatusCode != http.StatusNotFound {
			t.Errorf("%s: status %d, want 404", path, res.StatusCode)
		}
	}
}

func TestUnchangedFileIsNotSentAgain(t *testing.T) {
	tag := get(t, Path("css/app.css")).Header.Get("ETag")
	if tag == "" {
		t.Fatal("no ETag")
	}
	if res := get(t, Path("css/app.css"), "If-None-Match", tag); res.StatusCode != http.StatusNotModified {
		t.Errorf("status %d, want 304", res.StatusCode)
	}
}

func TestCompressedBodyIsTheSame(t *testing.T) {
	plain := get(t, Path("css/app.css"))
	packed := get(t, Path("css/app.css"), "Accept-Encoding", "br, gzip;q=0.8")
	if packed.Header.Get("Content-Encoding") != "gzip" {
		t.Fatal("not compressed")
	}
	if plain.Header.Get("ETag") == packed.Header.Get("ETag") {
		t.Error("both forms have the same ETag")
	}
	zr, err := gzip.NewReader(packed.Body)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(body(t, zr), body(t, plain.Body)) {
		t.Error("compressed and plain body differ")
	}
}

func TestRefusedGzip(t *testing.T) {
	for header, want := range map[string]bool{"": false, "gzip": true, "gzip;q=0": false, "br": false, "deflate, gzip": true, "gzip; q=0.000": false} {
		if got := acceptsGzip(header); got != want {
			t.Errorf("acceptsGzip(%q) = %v", header, got)
		}
	}
}

// The whole of style and script stays within the budget for a first view:
// 60 KiB compressed, 25 of them scripts (a limit of our own).
func TestFirstViewIsSmall(t *testing.T) {
	if n := len(load()["css/app.css"].gzipped); n > 20<<10 {
		t.Errorf("style sheet: %d bytes compressed", n)
	}
	if n := len(load()["js/enhance.js"].gzipped); n > 2500 {
		t.Errorf("enhance.js: %d bytes compressed", n)
	}
}

func TestPathPanicsForUnknownName(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	Path("css/none.css")
}

func TestEveryStylePartIsListed(t *testing.T) {
	entries, err := files.ReadDir("css")
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != len(styleParts) {
		t.Errorf("%d files in css, %d parts listed", len(entries), len(styleParts))
	}
}

// The service worker is asked for anew each time, and its scope is the whole site: Service Workers, W3C, "Service-Worker-Allowed".
func TestWorkerIsNeverKept(t *testing.T) {
	w := httptest.NewRecorder()
	Worker().ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/sw.js", nil))
	h := w.Result().Header
	if h.Get("Cache-Control") != "no-cache" || h.Get("Service-Worker-Allowed") != "/" || h.Get("Content-Type") != "text/javascript; charset=utf-8" {
		t.Errorf("headers %v", h)
	}
	if !strings.Contains(w.Body.String(), `addEventListener("fetch"`) {
		t.Error("it is no service worker")
	}
}

// An app can be put on the home screen: Web Application Manifest, W3C, wants a name, a start and an icon of any size.
func TestManifestIsServed(t *testing.T) {
	res := get(t, Path("app.webmanifest"))
	if res.Header.Get("Content-Type") != "application/manifest+json" {
		t.Errorf("type %q", res.Header.Get("Content-Type"))
	}
	var m struct {
		Name, Display, Scope string
		StartURL             string `json:"start_url"`
		Icons                []struct{ Src, Sizes, Type string }
	}
	if err := json.NewDecoder(res.Body).Decode(&m); err != nil {
		t.Fatal(err)
	}
	if m.Name == "" || m.StartURL != "/" || m.Scope != "/" || m.Display != "standalone" || len(m.Icons) == 0 {
		t.Fatalf("manifest %+v", m)
	}
	if icon := get(t, m.Icons[0].Src); icon.StatusCode != http.StatusOK || icon.Header.Get("Content-Type") != m.Icons[0].Type || m.Icons[0].Sizes != "any" {
		t.Errorf("icon %+v answers %d as %s", m.Icons[0], icon.StatusCode, icon.Header.Get("Content-Type"))
	}
}
