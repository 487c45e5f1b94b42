package words

import (
	"encoding/json"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// messages are those of each file of the program, by key.
func messages(t *testing.T) map[string]map[string]*i18n.Message {
	t.Helper()
	names, err := fs.Glob(files, "*.toml")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]map[string]*i18n.Message{}
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file, err := i18n.ParseMessageFileBytes(text, name, map[string]i18n.UnmarshalFunc{"toml": toml.Unmarshal})
		if err != nil {
			t.Fatal(err)
		}
		all[name] = map[string]*i18n.Message{}
		for _, m := range file.Messages {
			all[name][m.ID] = m
		}
	}
	return all
}

// forms are the texts of a message by plural form.
func forms(m *i18n.Message) map[string]string {
	all := map[string]string{"zero": m.Zero, "one": m.One, "two": m.Two, "few": m.Few, "many": m.Many, "other": m.Other}
	maps.DeleteFunc(all, func(_, text string) bool { return text == "" })
	return all
}

var placeholder = regexp.MustCompile(`\{\{\.(\w+)\}\}|\{(\w+)\}`)

// placeholders are the names that a message fills in, in order of the alphabet.
func placeholders(m *i18n.Message) []string {
	found := map[string]bool{}
	for _, text := range forms(m) {
		for _, match := range placeholder.FindAllString(text, -1) {
			found[match] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

func TestEveryLanguageHasEveryMessage(t *testing.T) {
	all := messages(t)
	english := all["en-GB.toml"]
	for name, others := range all {
		for key, m := range english {
			other := others[key]
			if other == nil {
				t.Errorf("%s lacks %s", name, key)
				continue
			}
			if got, want := placeholders(other), placeholders(m); !slices.Equal(got, want) {
				t.Errorf("%s, %s: placeholders %v, want %v", name, key, got, want)
			}
			if (len(forms(other)) > 1) != (len(forms(m)) > 1) {
				t.Errorf("%s, %s: counted in one language alone", name, key)
			}
			for form, text := range forms(other) {
				if text != strings.TrimSpace(text) || strings.Contains(placeholder.ReplaceAllString(text, ""), "{") {
					t.Errorf("%s, %s, %s: %q", name, key, form, text)
				}
			}
		}
		for key := range others {
			if english[key] == nil {
				t.Errorf("%s has %s, which English lacks", name, key)
			}
		}
	}
}

// The plural forms of a language are those that CLDR gives any whole number from 0 to 1000 (golang.org/x/text/feature/plural).
func TestCountedMessagesHaveTheFormsOfTheirLanguage(t *testing.T) {
	names := map[plural.Form]string{plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few", plural.Many: "many", plural.Other: "other"}
	for name, all := range messages(t) {
		tag := language.MustParse(strings.TrimSuffix(name, ".toml"))
		want := map[string]bool{}
		for n := range 1001 {
			want[names[plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0)]] = true
		}
		for key, m := range all {
			got := forms(m)
			if len(got) == 1 && got["other"] != "" {
				continue // not counted
			}
			if has, wants := slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)); !slices.Equal(has, wants) {
				t.Errorf("%s, %s: forms %v, CLDR asks for %v", name, key, has, wants)
			}
			for form, text := range got {
				if !strings.Contains(text, "{{.N}}") {
					t.Errorf("%s, %s, %s: does not say the number", name, key, form)
				}
			}
		}
	}
}

// Source: CLDR 48, as ICU's Intl.DateTimeFormat and Intl.NumberFormat write it for en-GB and de (dateStyle long; day and month long;
// weekday, day and month long; timeStyle short). With a year CLDR sets a comma after an English weekday; ours does not.
// "Uhr" after a time, and the order of a day with two times, are common practice, no source.
func TestDatesAreWrittenByLocale(t *testing.T) {
	at := time.Date(2026, 3, 2, 15, 4, 0, 0, time.UTC)
	for lang, want := range map[string][]string{
		"en-GB": {"2 March 2026", "2 March", "Monday 2 March", "Monday 2 March 2026", "15:04", "1,234,567", "Monday 2 March, 15:04", "2 March, 15:04 to 16:04"},
		"de":    {"2. März 2026", "2. März", "Montag, 2. März", "Montag, 2. März 2026", "15:04", "1.234.567", "Montag, 2. März, 15:04 Uhr", "2. März, 15:04 bis 16:04 Uhr"},
	} {
		b := english().In(lang)
		got := []string{b.Date(at), b.Day(at), b.Weekday(at), b.WeekdayDate(at), b.Clock(at), b.Number(1234567), b.At(b.Weekday(at), at), b.Span(b.Day(at), at, at.Add(time.Hour))}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", lang, got, want)
		}
	}
}

// Source: CLDR 48 list patterns, as ICU's Intl.ListFormat writes them.
func TestListsAreJoinedByLocale(t *testing.T) {
	for lang, want := range map[string][]string{"en-GB": {"a, b and c", "a, b or c"}, "de": {"a, b und c", "a, b oder c"}} {
		b := english().In(lang)
		if got := []string{b.List([]string{"a", "b", "c"}), b.Either([]string{"a", "b", "c"})}; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", lang, got, want)
		}
		if b.List(nil) != "" || b.List([]string{"a"}) != "a" {
			t.Errorf("%s: short lists are %q and %q", lang, b.List(nil), b.List([]string{"a"}))
		}
	}
}

// Accept-Language is that of RFC 9110, section 12.5.4; the headers are examples of ours.
func TestALanguageIsChosenOrAccepted(t *testing.T) {
	all, err := Embedded()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ chosen, accept, want string }{
		{"", "", "en-GB"}, {"", "de", "de"}, {"", "de-AT,de;q=0.9,en;q=0.5", "de"}, {"", "en-US,en;q=0.9,de;q=0.8", "en-GB"},
		{"", "ja,de;q=0.3", "de"}, {"", "ja", "en-GB"}, {"", ";;;", "en-GB"}, {"de", "en", "de"}, {"en-GB", "de", "en-GB"}, {"xx", "de", "de"},
	} {
		if got := all.Match(c.chosen, c.accept).Lang(); got != c.want {
			t.Errorf("chosen %q, accepted %q: %s, want %s", c.chosen, c.accept, got, c.want)
		}
	}
}

func TestABookOfNobodySpeaksEnglish(t *testing.T) {
	var b *Book
	if got := b.Count("home.drills", 1) + " " + b.Count("home.drills", 1200) + " " + Of(t.Context()).Say("nav.home"); got != "1 drill for home this week. 1,200 drills for home this week. Home" {
		t.Errorf("it says %q", got)
	}
	if got := b.In("de").Count("home.drills", 1); got != "Diese Woche 1 Übung für zu Hause." {
		t.Errorf("German says %q", got)
	}
}

func TestBrokenFilesAreRefused(t *testing.T) {
	text, err := json.Marshal(map[string]string{"a": "b"})
	if err != nil {
		t.Fatal(err)
	}
	for name, fsys := range map[string]fstest.MapFS{
		"no English":               {"de.json": {Data: text}},
		"not a message file":       {"en-GB.json": {Data: []byte("{")}},
		"a language without dates": {"en-GB.json": {Data: text}, "ja.json": {Data: text}},
	} {
		if _, err := Read(fsys); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

func BenchmarkSay(b *testing.B) {
	for b.Loop() {
		english().Say("nav.home")
	}
}

func BenchmarkCount(b *testing.B) {
	for b.Loop() {
		english().Count("home.drills", 3)
	}
}
