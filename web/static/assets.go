package static

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"
)

// prefix is where the assets are served.
const prefix = "/static/"

// styleSheet is the one style sheet of a page, made of the parts in order.
const styleSheet = "css/app.css"

// styleParts are the parts of the style sheet: later ones may override earlier ones.
var styleParts = []string{"tokens", "base", "layout", "button", "form", "notice", "table", "ladder", "figure", "board", "sheet", "lesson", "standing", "load", "studio", "chart", "library", "pacing", "family", "print"}

// asset is a file as it is served.
type asset struct {
	name    string // path below the prefix, without hash
	hash    string // first 12 hex digits of the SHA-256 of body
	kind    string // media type
	body    []byte
	gzipped []byte // nil when compression does not pay
}

// load reads the embedded files once; they cannot change while the program runs.
var load = sync.OnceValue(func() map[string]asset {
	assets, err := readAssets(files)
	if err != nil {
		panic(err) // the files are part of the program: a fault of the build
	}
	return assets
})

// Path is the URL of an asset, such as Path("css/app.css"), with the hash of its
// content in it. It panics for a name that is not embedded.
func Path(name string) string {
	a, ok := load()[name]
	if !ok {
		panic(fmt.Sprintf("static: no asset %q", name))
	}
	return prefix + a.hashedName()
}

// Handler serves everything below /static/. A name with the present hash may
// be kept for ever; any other name is checked again each time.
func Handler() http.Handler { return http.HandlerFunc(serve) }

func serve(w http.ResponseWriter, r *http.Request) {
	name, hash := splitHash(strings.TrimPrefix(r.URL.Path, prefix))
	a, ok := load()[name]
	if !ok {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", a.kind)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Vary", "Accept-Encoding")
	if hash == a.hash {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache")
	}
	body, tag := a.body, a.hash
	if a.gzipped != nil && acceptsGzip(r.Header.Get("Accept-Encoding")) {
		body, tag = a.gzipped, a.hash+"-gz"
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("ETag", `"`+tag+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

func readAssets(from fs.FS) (map[string]asset, error) {
	assets := map[string]asset{}
	err := fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Dir(name) == "css" {
			return err
		}
		body, err := fs.ReadFile(from, name)
		if err != nil {
			return err
		}
		assets[name] = newAsset(name, body)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("static: read assets: %w", err)
	}
	if err := addIcons(assets); err != nil {
		return nil, err
	}
	style, err := readStyle(from)
	if err != nil {
		return nil, err
	}
	assets[styleSheet] = newAsset(styleSheet, style)
	return assets, nil
}

func readStyle(from fs.FS) ([]byte, error) {
	var style bytes.Buffer
	for _, part := range styleParts {
		body, err := fs.ReadFile(from, "css/"+part+".css")
		if err != nil {
			return nil, fmt.Errorf("static: read style: %w", err)
		}
		style.Write(body)
	}
	return style.Bytes(), nil
}

func newAsset(name string, body []byte) asset {
	sum := sha256.Sum256(body)
	return asset{
		name:    name,
		hash:    hex.EncodeToString(sum[:6]),
		kind:    mediaType(name),
		body:    body,
		gzipped: compress(body),
	}
}

// compress is body in gzip, or nil when that is not shorter.
func compress(body []byte) []byte {
	var out bytes.Buffer
	zw, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil
	}
	if _, err := zw.Write(body); err != nil {
		return nil
	}
	if err := zw.Close(); err != nil || out.Len() >= len(body) {
		return nil
	}
	return out.Bytes()
}

// hashedName puts the hash before the extension: css/app.0123456789ab.css.
func (a asset) hashedName() string {
	ext := path.Ext(a.name)
	return strings.TrimSuffix(a.name, ext) + "." + a.hash + ext
}

// splitHash undoes hashedName; hash is empty when the name has none.
func splitHash(name string) (plain, hash string) {
	ext := path.Ext(name)
	stem := strings.TrimSuffix(name, ext)
	dot := strings.LastIndexByte(stem, '.')
	if dot < 0 || len(stem)-dot-1 != 12 {
		return name, ""
	}
	return stem[:dot] + ext, stem[dot+1:]
}

// mediaType does not ask the operating system, whose tables differ.
func mediaType(name string) string {
	switch path.Ext(name) {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".png":
		return "image/png"
	case ".svg":
		return "image/svg+xml"
	case ".webmanifest":
		return "application/manifest+json"
	}
	return "application/octet-stream"
}

// acceptsGzip reads an Accept-Encoding header; a weight of zero is a refusal.
func acceptsGzip(header string) bool {
	for part := range strings.SplitSeq(header, ",") {
		coding, weight, _ := strings.Cut(part, ";")
		if strings.TrimSpace(coding) != "gzip" {
			continue
		}
		q := strings.TrimSpace(weight)
		return q != "q=0" && q != "q=0.0" && q != "q=0.00" && q != "q=0.000"
	}
	return false
}
