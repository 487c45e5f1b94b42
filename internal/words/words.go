// Package words holds what families read, on pages and in letters, in every language that the program speaks: a message file for each
// language, and a Book that says its messages and writes dates as that language does.
//
// To add a text: choose a key, put it into every *.toml beside this file, and ask for it by that key, written out as a literal:
// b.Say("home.empty") or b.Count("home.drills", n). Only what a key ends in may be put together: b.Say("sign." + key). A test finds
// keys that are asked for and missing, or kept and asked for nowhere, and placeholders that differ.
//
// To add a language: copy en-GB.toml under the language's tag, write its messages with the plural forms that CLDR asks of it (the
// tests name them), and give its dates a line in dates.go. Words of the studio's own (names, steps, messages) are data, not messages.
package words

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
	"github.com/go-playground/locales"
	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"
)

//go:embed *.toml
var files embed.FS

// english is the Book of whoever chose none. It is a constant of the program, read when it is first needed.
var english = sync.OnceValue(func() *Book {
	all, err := Embedded()
	if err != nil {
		panic(err) // the files are part of the program, and a test reads them
	}
	return all.books[0]
})

// Catalogue is every language that there is, English first.
type Catalogue struct {
	books   []*Book
	matcher language.Matcher
}

// Embedded is the catalogue of the program.
func Embedded() (*Catalogue, error) { return Read(files) }

// Read makes a catalogue of message files, TOML or JSON, each named by its language's tag; English (en-GB) must be among them.
func Read(fsys fs.FS) (*Catalogue, error) {
	names, err := fs.Glob(fsys, "*.*")
	if err != nil {
		return nil, err
	}
	bundle := i18n.NewBundle(language.BritishEnglish)
	bundle.RegisterUnmarshalFunc("toml", toml.Unmarshal)
	all := &Catalogue{books: []*Book{nil}}
	for _, name := range names {
		file, err := bundle.LoadMessageFileFS(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("read the messages of %s: %w", name, err)
		}
		book, err := newBook(all, file)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if file.Tag == language.BritishEnglish {
			all.books[0] = book
		} else {
			all.books = append(all.books, book)
		}
	}
	if all.books[0] == nil {
		return nil, fmt.Errorf("there are no messages in English")
	}
	var tags []language.Tag
	for _, b := range all.books {
		b.localizer = i18n.NewLocalizer(bundle, b.lang)
		tags = append(tags, language.MustParse(b.lang))
	}
	all.matcher = language.NewMatcher(tags)
	return all, nil
}

// Books are the languages to choose from, English first.
func (c *Catalogue) Books() []*Book { return c.books }

// Match is the Book of a chosen language, by its tag; where none is chosen, the one that serves an Accept-Language header best.
func (c *Catalogue) Match(chosen, accept string) *Book {
	for _, b := range c.books {
		if b.lang == chosen {
			return b
		}
	}
	wanted, _, err := language.ParseAcceptLanguage(accept)
	if err != nil {
		return c.books[0]
	}
	_, i, confidence := c.matcher.Match(wanted...)
	if confidence == language.No {
		return c.books[0]
	}
	return c.books[i]
}

// Book speaks one language. A nil Book speaks English.
type Book struct {
	all       *Catalogue
	lang      string
	dates     locales.Translator
	localizer *i18n.Localizer
	plain     map[string]string // messages without placeholders and plurals
}

func newBook(all *Catalogue, file *i18n.MessageFile) (*Book, error) {
	b := &Book{all: all, lang: file.Tag.String(), plain: map[string]string{}}
	for _, m := range file.Messages {
		if m.One+m.Zero+m.Two+m.Few+m.Many == "" && !strings.Contains(m.Other, "{{") {
			b.plain[m.ID] = m.Other
		}
	}
	var err error
	b.dates, err = datesOf(file.Tag)
	return b, err
}

func (b *Book) spoken() *Book {
	if b == nil {
		return english()
	}
	return b
}

// Lang is the language's BCP 47 tag, as in <html lang>.
func (b *Book) Lang() string { return b.spoken().lang }

// Books are the languages of the catalogue that the Book belongs to.
func (b *Book) Books() []*Book { return b.spoken().all.Books() }

// In is the Book of another language of the same catalogue; the Book itself where tag is "" or unknown.
func (b *Book) In(tag string) *Book {
	for _, other := range b.Books() {
		if other.lang == tag {
			return other
		}
	}
	return b.spoken()
}

// For is the Book for somebody who is written to: that of the language that was chosen, by its tag, else the one that serves another tag
// best, such as the studio's.
func (b *Book) For(chosen, otherwise string) *Book { return b.spoken().all.Match(chosen, otherwise) }

// Say is the message of a key. Pairs are the names of its placeholders, each before its value: "Name", child.Name.
func (b *Book) Say(key string, pairs ...any) string {
	b = b.spoken()
	if text, ok := b.plain[key]; ok {
		return text
	}
	return b.localize(&i18n.LocalizeConfig{MessageID: key, TemplateData: dataOf(pairs)})
}

// Count is the message of a key in the plural form of n, which is its placeholder {{.N}}.
func (b *Book) Count(key string, n int, pairs ...any) string {
	b = b.spoken()
	data := dataOf(pairs)
	data["N"] = b.Number(n)
	return b.localize(&i18n.LocalizeConfig{MessageID: key, TemplateData: data, PluralCount: n})
}

// localize takes English where a message is missing, and the key where that is too; a test keeps both from happening.
func (b *Book) localize(c *i18n.LocalizeConfig) string {
	text, err := b.localizer.Localize(c)
	if text == "" && err != nil {
		return c.MessageID
	}
	return text
}

func dataOf(pairs []any) map[string]any {
	data := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		data[fmt.Sprint(pairs[i])] = pairs[i+1]
	}
	return data
}

// List joins words for a sentence: "a, b and c"; "" for none.
func (b *Book) List(words []string) string { return b.join(words, "list.and") }

// Either joins words for a sentence: "a, b or c".
func (b *Book) Either(words []string) string { return b.join(words, "list.or") }

func (b *Book) join(words []string, key string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return b.spoken().localize(&i18n.LocalizeConfig{MessageID: key, TemplateData: dataOf([]any{"First", strings.Join(words[:last], ", "), "Last", words[last]})})
}
