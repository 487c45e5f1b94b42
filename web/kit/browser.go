package kit

import "strings"

// mark is a word in a User-Agent header and what it stands for. The first that occurs counts, since browsers also name the kinds that
// they take after.
type mark struct{ word, name string }

var (
	browserMarks = []mark{{"Edg", "Edge"}, {"OPR/", "Opera"}, {"SamsungBrowser", "Samsung Internet"}, {"Firefox/", "Firefox"}, {"FxiOS", "Firefox"},
		{"CriOS", "Chrome"}, {"Chrome/", "Chrome"}, {"Safari/", "Safari"}}
	systemMarks = []mark{{"Android", "Android"}, {"iPhone", "iPhone"}, {"iPad", "iPad"}, {"CrOS", "ChromeOS"}, {"Windows", "Windows"}, {"Macintosh", "Mac"}, {"Linux", "Linux"}}
)

// browserOf says in words what kind of browser a User-Agent header names: enough to know one's own, and never the header itself.
func browserOf(header string) string {
	browser, system := named(header, browserMarks, "A browser"), named(header, systemMarks, "")
	if system == "" {
		return browser
	}
	return browser + " on " + system
}

func named(header string, marks []mark, otherwise string) string {
	for _, m := range marks {
		if strings.Contains(header, m.word) {
			return m.name
		}
	}
	return otherwise
}
