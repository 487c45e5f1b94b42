package e2e

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// patience is how long a page may take to show what a step waits for, on a busy machine.
const patience = 20 * time.Second

// openBrowser starts one headless Chromium for all journeys; the test is skipped where there is none.
func openBrowser(t *testing.T) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		t.Skip("there is no Chromium on this machine")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.Flag("force-prefers-reduced-motion", true))
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, closeIt := chromedp.NewContext(allocator)
	t.Cleanup(closeIt)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("start Chromium: %v", err)
	}
	return ctx
}

// tab is one person's browser: cookies of its own.
type tab struct {
	*testing.T
	ctx  context.Context
	base string
	axe  string // the script of axe-core, "" where it is not installed

	judged *judged // where it is noted which pages were judged; nil for nowhere
	width  int64   // of the window, in px
	scheme string  // light or dark

	mu       sync.Mutex
	problems []string // errors of scripts and of the content policy
	lenient  bool     // the network fails on purpose: the browser's note of it is expected
	refusing bool     // the journey asks for what it may not have: the browser's note of a 404 or 422 is expected
	refusals []string // where it did so: the note may come later
}

func newTab(t *testing.T, browser context.Context, base, axe string) *tab {
	t.Helper()
	b := &tab{T: t, base: base, axe: axe}
	ctx, closeIt := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	t.Cleanup(closeIt)
	b.ctx = ctx
	if err := chromedp.Do(ctx); err != nil { // without a timeout: the tab lives as long as this context
		t.Fatalf("open a tab: %v", err)
	}
	if err := chromedp.Listen(ctx, b.heard); err != nil {
		t.Fatal(err)
	}
	dialogs := chromedp.Events(ctx, page.JavascriptDialogOpening)
	go func() {
		for _, err := range dialogs {
			if err != nil {
				return
			}
			chromedp.Call(ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
		}
	}()
	b.size(1280)
	b.theme("light")
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, p := range b.problems {
			late := isRefusal(p) && slices.ContainsFunc(b.refusals, func(path string) bool { return strings.HasSuffix(p, path) })
			if !late {
				t.Errorf("console: %s", p)
			}
		}
	})
	return b
}

func (b *tab) heard(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.problems = append(b.problems, e.ExceptionDetails.Text+" "+e.ExceptionDetails.URL)
	case *log.EventEntryAdded:
		if b.lenient && e.Entry.Source == log.EntrySourceNetwork {
			return
		}
		if e.Entry.Level == log.EntryLevelError && !(b.refusing && isRefusal(e.Entry.Text)) {
			b.problems = append(b.problems, e.Entry.Text+" "+e.Entry.URL)
		}
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "assert" {
			b.problems = append(b.problems, fmt.Sprint("console.", e.Type))
		}
	}
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.Fatalf("%v, on %s", err, b.where())
	}
}

// js evaluates an expression in the page.
func js[T any](b *tab, expression string) T {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.Fatalf("%v, on %s: %.120s", err, b.where(), expression)
	}
	return v
}

func (b *tab) where() string {
	ctx, cancel := context.WithTimeout(b.ctx, 5*time.Second)
	defer cancel()
	at, err := chromedp.Run(ctx, chromedp.Location())
	if err != nil {
		return "no page"
	}
	path, _, _ := strings.Cut(strings.TrimPrefix(at, b.base), "#")
	return path
}

// open goes to a path and wants a page there.
func (b *tab) open(path string) {
	b.Helper()
	if status := b.status(path); status != 200 {
		b.Fatalf("%s answers %d", path, status)
	}
}

// refused goes to a path and wants it not to exist for this person.
func (b *tab) refused(path string) {
	b.Helper()
	b.refuses(func() {
		if status := b.status(path); status != 404 {
			b.Errorf("%s answers %d, want 404", path, status)
		}
	})
}

// refuses does what the program is meant to refuse, which the browser notes in its console.
func (b *tab) refuses(what func()) {
	b.Helper()
	set := func(on bool) {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.refusing = on
	}
	set(true)
	defer set(false)
	what()
	at := b.where()
	b.mu.Lock()
	defer b.mu.Unlock()
	b.refusals = append(b.refusals, at)
}

func isRefusal(note string) bool {
	return strings.Contains(note, "404") || strings.Contains(note, "422")
}

func (b *tab) status(path string) int {
	b.Helper()
	if !strings.HasPrefix(path, "http") {
		path = b.base + path
	}
	ctx, cancel := context.WithTimeout(b.ctx, 2*patience)
	defer cancel()
	answer, err := chromedp.Run(ctx, chromedp.NavigateResponse(path))
	if err != nil || answer == nil {
		b.Fatalf("open %s: %v", path, err)
	}
	return int(answer.Status)
}

// waitFor waits until an expression is true.
func (b *tab) waitFor(what, expression string) {
	b.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		ctx, cancel := context.WithTimeout(b.ctx, patience)
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("document.readyState === 'complete' && !!("+expression+")"))
		cancel()
		if err == nil && ok {
			return
		}
	}
	b.shot("stuck")
	b.Fatalf("waited for %s in vain, on %s:\n%.1500s", what, b.where(), js[string](b, "document.body.innerText"))
}

// see waits until the page says the text.
func (b *tab) see(text string) {
	b.Helper()
	b.waitFor(fmt.Sprintf("the words %q", text), "document.body.innerText.toLowerCase().includes("+quote(strings.ToLower(text))+")")
}

// heading waits for a page by its first heading.
func (b *tab) heading(text string) {
	b.Helper()
	b.waitFor(fmt.Sprintf("the heading %q", text), "document.querySelector('h1')?.innerText.toLowerCase().includes("+quote(strings.ToLower(text))+")")
}

func (b *tab) size(width int64) {
	b.Helper()
	b.do(chromedp.EmulateViewport(width, 900))
	b.width = width
}

func (b *tab) theme(name string) {
	b.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
	if err != nil {
		b.Fatal(err)
	}
	b.scheme = name
}

// shot keeps a picture of the whole page in screenshots.
func (b *tab) shot(name string) {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.MkdirAll("screenshots", 0o755)
	}
	if err == nil {
		err = os.WriteFile(filepath.Join("screenshots", name+".png"), picture, 0o644)
	}
	if err != nil {
		b.Errorf("keep a picture of %s: %v", name, err)
	}
}

var (
	widths = []int64{390, 820, 1280}
	themes = []string{"light", "dark"}
)

// look has the page judged by the accessibility rules at each width, light and dark, and keeps a picture of each where
// RUNGBOOK_SCREENSHOTS is set.
func (b *tab) look(name string) {
	b.Helper()
	for _, theme := range themes {
		b.theme(theme)
		for _, width := range widths {
			b.size(width)
			b.rules(fmt.Sprintf("%s at %d px, %s", name, width, theme))
			if theme == "light" {
				b.fits(fmt.Sprintf("%s at %d px", name, width))
			}
			if pictures() {
				b.shot(fmt.Sprintf("%s-%d-%s", name, width, theme))
			}
		}
	}
	b.theme("light")
	b.size(1280)
}

func pictures() bool { return os.Getenv("RUNGBOOK_SCREENSHOTS") != "" }

// widest names the innermost elements that reach beyond the window.
const widest = `[...document.querySelectorAll("main *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 &&
  ![...e.children].some(c => c.getBoundingClientRect().right > document.documentElement.clientWidth + 1))
  .slice(0, 3).map(e => e.tagName.toLowerCase() + (e.getAttribute("class") ? "." + e.getAttribute("class") : "") + " in ." + e.parentElement.className + ": " + e.innerText?.slice(0, 40))`

// fits holds that the page as a whole never scrolls sideways (WCAG 2.2, 1.4.10 Reflow).
func (b *tab) fits(name string) {
	b.Helper()
	if over := js[int](b, "document.documentElement.scrollWidth - document.documentElement.clientWidth"); over > 0 {
		b.Errorf("%s: the page is %d px wider than the window, for %v", name, over, js[[]string](b, widest))
	}
}

// signIn goes through the sign-in page.
func (b *tab) signIn(s signIn) {
	b.Helper()
	b.open("/sign-in")
	b.fill("E-mail", s.email)
	b.fill("Passphrase", s.passphrase)
	b.press("button", "Sign in")
	b.waitFor("the first page", "location.pathname !== '/sign-in' && document.querySelector('h1')")
}

func quote(text string) string { return fmt.Sprintf("%q", text) }

func sorted(set map[string]bool) []string {
	var names []string
	for n := range set {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}
