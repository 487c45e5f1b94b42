package e2e

import (
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// What a family's page may weigh when it is opened for the first time: compressed, with all that it asks for.
const (
	firstViewBytes    = 60 << 10
	firstViewScripts  = 25 << 10
	firstViewRequests = 6
)

var asset = regexp.MustCompile(`(?:href|src)="(/static/[^"]+)"`)

// familyWeight holds that the page of a child is light enough for a telephone.
func familyWeight(t *testing.T, h *house, path string) {
	t.Helper()
	client := h.client(t, parentName)
	page, weight := fetched(t, client, h.url+path)
	requests, scripts := 1, 0
	for _, found := range asset.FindAllStringSubmatch(page, -1) {
		_, n := fetched(t, client, h.url+found[1])
		requests, weight = requests+1, weight+n
		if strings.HasSuffix(found[1], ".js") {
			scripts += n
		}
	}
	if weight > firstViewBytes || scripts > firstViewScripts || requests > firstViewRequests {
		t.Errorf("the first view takes %d bytes, %d of them scripts, in %d requests", weight, scripts, requests)
	}
	t.Logf("the first view takes %d bytes, %d of them scripts, in %d requests", weight, scripts, requests)
}

// client is somebody who has signed in and reads what is sent as it is sent.
func (h *house) client(t *testing.T, name string) *http.Client {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client, who := &http.Client{Jar: jar, Transport: &http.Transport{DisableCompression: true}}, h.as(t, name)
	answer, err := client.PostForm(h.url+"/sign-in", url.Values{"email": {who.email}, "passphrase": {who.passphrase}})
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	return client
}

// fetched gives what an address holds, and how many bytes of it travel when it is compressed.
func fetched(t *testing.T, client *http.Client, address string) (text string, bytes int) {
	t.Helper()
	for _, coding := range []string{"identity", "gzip"} {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", coding)
		answer, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != http.StatusOK {
			t.Fatalf("%s answers %d, %v", address, answer.StatusCode, err)
		}
		if coding == "identity" {
			text = string(body)
		}
		bytes = len(body)
	}
	return text, bytes
}

// familyPhone does a week's work on the page of a child: a drill with its timer, a message, the calendar; then once more at 320 px where
// no script runs.
func familyPhone(b *tab, own string) {
	b.size(390)
	b.open(own)
	js[bool](b, `(document.querySelector("[data-go]").click(), true)`)
	b.waitFor("the timer", `document.querySelector(".home-timer-words").textContent && !document.querySelector(".home-timer-face").hidden`)
	b.rules("a running timer")
	b.fits("a running timer")
	js[bool](b, `(document.querySelector("[data-end]").click(), true)`)
	b.press("button", "Done today")
	b.see("done today")
	b.open(own + "/messages")
	b.see("The showcase is on")
	b.look("parent-messages")
	b.open("/home/calendar")
	b.press("button", "Make a link")
	b.see("it is shown this once")
	b.look("parent-calendar")
	b.size(320)
	scripts := func(off bool) {
		if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: off}); err != nil {
			b.Fatal(err)
		}
	}
	scripts(true)
	defer scripts(false)
	b.open(own)
	b.fits("the page of a child at 320 px")
	if js[bool](b, `getComputedStyle(document.querySelector("[data-timer]")).display !== "none"`) {
		b.Error("a timer shows where no script runs")
	}
	b.press("button", "Take out")
	b.see("Taken out of the log")
	b.size(1280)
}
