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

// axeRun judges the page by WCAG 2.0 to 2.2, A and AA, with the rule of target size (2.5.8), which axe-core leaves off unless asked. What
// axe-core leaves open gets a second look; what stays open after it is answered too.
const axeRun = axeSay + `({
  runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
  rules: { "target-size": { enabled: true } },
})`

// axeColours judges by the rules about colour alone: all that the scheme changes (only tokens.css asks for it, and sets colours).
const axeColours = axeSay + `({ runOnly: { type: "rule", values: ["color-contrast", "link-in-text-block"] } })`

const axeSay = `(asked => axe.run(document, {
  ...asked,
  resultTypes: ["violations", "incomplete"],
  elementRef: true,
}).then(r => {
  const why = n => n.any[0]?.message || n.all[0]?.message || n.none[0]?.message || "";
  const say = v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.target.join(" ") + " (" + why(n) + ")").join("; ");
  const secondLook = ` + secondLook + `;
  return r.violations.map(say).concat(r.incomplete.flatMap(v => v.id === "color-contrast" ? secondLook(v.nodes.map(n => n.element)) : ["open: " + say(v)]));
}))`

// rules fails for each accessibility rule that the page breaks as it is shown now. The script comes in by the browser's own protocol, past
// the content policy of the page.
func (b *tab) rules(name string) {
	b.Helper()
	run := axeRun
	if b.scheme == "dark" {
		run = axeColours
	}
	if !js[bool](b, "typeof axe === 'object'") {
		js[bool](b, b.axe+"\n;typeof axe === 'object'")
	}
	for _, broken := range js[[]string](b, run) {
		b.Errorf("%s breaks %s", name, broken)
	}
	if b.judged != nil {
		b.judged.note(b.where(), seenAs(b.width, b.scheme))
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
