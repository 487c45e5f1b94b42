package e2e

import (
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
)

// readAxe is the script of axe-core, from npm ci in this folder.
func readAxe(t *testing.T) string {
	t.Helper()
	src, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if os.IsNotExist(err) {
		t.Skip("axe-core is not installed: run npm ci in e2e")
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// axeRun judges the page by WCAG 2.0 to 2.2, A and AA, with the rule of target size (2.5.8), which axe-core leaves off unless asked.
const axeRun = `axe.run(document, {
  runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
  rules: { "target-size": { enabled: true } },
  resultTypes: ["violations"],
}).then(r => r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.target.join(" ") + " (" + (n.any[0]?.message || n.all[0]?.message || n.none[0]?.message || "") + ")").join("; ")))`

// rules fails for each accessibility rule that the page breaks. The script comes in by the browser's own protocol, past the content
// policy of the page.
func (b *tab) rules(name string) {
	b.Helper()
	if !js[bool](b, "typeof axe === 'object'") {
		js[bool](b, b.axe+"\n;typeof axe === 'object'")
	}
	for _, broken := range js[[]string](b, axeRun) {
		b.Errorf("%s breaks %s", name, broken)
	}
}

const faulty = `<!DOCTYPE html><html><title></title><body><img src="data:image/gif;base64,R0lGODlhAQABAAAAACw="><p style="color:#bbb;background:#fff">pale</p>
<button style="width:9px;height:9px;padding:0">x</button><button style="width:9px;height:9px;padding:0">y</button>`

// The rules must bite: a page with planted faults fails them.
func TestRulesBite(t *testing.T) {
	axe, browser := readAxe(t), openBrowser(t)
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, faulty) }))
	defer site.Close()
	b := newTab(t, browser, site.URL, axe)
	b.open("/")
	js[bool](b, b.axe+"\n;typeof axe === 'object'")
	broken := strings.Join(js[[]string](b, axeRun), "\n")
	for _, rule := range []string{"image-alt", "target-size", "color-contrast", "document-title", "html-has-lang"} {
		if !strings.Contains(broken, rule) {
			t.Errorf("%s is not noticed in %s", rule, broken)
		}
	}
}
