package boot

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"rungbook/internal/demo"
	"rungbook/internal/testkit"
)

// BenchmarkPages answers pages of the invented studio: 48 children, some 11,000 marks.
//
//	go test -run '^$' -bench Pages ./internal/boot
func BenchmarkPages(b *testing.B) {
	site, cookie := openDemo(b)
	lesson := linkOn(b, site, cookie, "/", `/lessons/[0-9a-f-]{36}`)
	class := linkOn(b, site, cookie, "/classes", `/classes/[0-9a-f-]{36}`)
	child := linkOn(b, site, cookie, "/children", `/children/[0-9a-f-]{36}`)
	for _, page := range []struct{ name, path string }{
		{"today", "/"}, {"class", class}, {"child", child}, {"lesson", lesson}, {"ladder", "/ladders/handstand"}, {"drills", "/drills"}, {"cover", "/studio/cover"},
		{"class sheet", lesson + "/sheet"}, {"state of the class sheet", lesson + "/sheet.json"}, {"after class", lesson + "/review"},
	} {
		b.Run(page.name, func(b *testing.B) {
			for b.Loop() {
				if answer := get(site, cookie, page.path); answer.Code != http.StatusOK {
					b.Fatalf("%s answers %d", page.path, answer.Code)
				}
			}
		})
	}
}

// openDemo loads the invented studio and signs in as its owner.
func openDemo(b *testing.B) (http.Handler, *http.Cookie) {
	b.Helper()
	config := Config{DatabaseURL: testkit.App(b), BaseURL: "http://127.0.0.1", StudioName: demo.StudioName, TimeZone: demo.TimeZone, Insecure: true}
	house, err := New(b.Context(), config, slog.New(slog.DiscardHandler), time.Now)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(house.Close)
	signIns, err := demo.Load(b.Context(), house.App, time.Now())
	if err != nil {
		b.Fatal(err)
	}
	form := url.Values{"email": {signIns[0].Email}, "passphrase": {signIns[0].Passphrase}}
	request := httptest.NewRequest(http.MethodPost, "/sign-in", strings.NewReader(form.Encode()))
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	answer := httptest.NewRecorder()
	house.Site.ServeHTTP(answer, request)
	for _, c := range answer.Result().Cookies() {
		if c.Value != "" {
			return house.Site, c
		}
	}
	b.Fatalf("signing in answers %d without a cookie", answer.Code)
	return nil, nil
}

func get(site http.Handler, cookie *http.Cookie, path string) *httptest.ResponseRecorder {
	request := httptest.NewRequest(http.MethodGet, path, nil)
	request.AddCookie(cookie)
	answer := httptest.NewRecorder()
	site.ServeHTTP(answer, request)
	return answer
}

// linkOn is the first link on a page that looks like pattern.
func linkOn(b *testing.B, site http.Handler, cookie *http.Cookie, path, pattern string) string {
	b.Helper()
	found := regexp.MustCompile(`href="(` + pattern + `)"`).FindStringSubmatch(get(site, cookie, path).Body.String())
	if found == nil {
		b.Fatalf("%s has no link like %s", path, pattern)
	}
	return found[1]
}
