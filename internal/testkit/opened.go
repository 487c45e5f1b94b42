package testkit

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"html"
	"io"
	"net/url"
	"regexp"
	"strings"
	"unicode/utf16"
)

// Opened is a text as it can be searched, with the wrappings it was found in, the outermost first.
type Opened struct{ From, Text string }

// deepest is how many wrappings are opened, one within the other.
const deepest = 6

// opener opens one kind of wrapping. It tells a body of its kind by the body itself, whatever a header says; Open is empty for a
// body that only looks like one.
type opener struct {
	kind string
	is   func(body string) bool
	open func(body string) []Opened // each From is a name within the wrapping, or ""
}

func openers() []opener {
	return []opener{
		{"zip", starts("PK\x03\x04"), openZip}, // XLSX too
		{"gzip", starts("\x1f\x8b"), openGzip},
		{"pdf", starts("%PDF-"), openPDF},
		{"json", isJSON, openJSON},
		{"mail", isMail, openMail},
		{"base64", func(body string) bool { return strings.Contains(body, ";base64,") }, openDataURLs},
	}
}

func starts(with string) func(string) bool {
	return func(body string) bool { return strings.HasPrefix(body, with) }
}

// Open gives a body in all its readings: as it came; with the escapes of HTML, URLs and JSON decoded; without tags; and so all that
// is packed in it. A file that is damaged is read as far as it goes.
func Open(body string) []Opened { return open("", body, 0) }

func open(from, body string, depth int) []Opened {
	if body == "" || depth > deepest {
		return nil
	}
	all := readings(from, body)
	for _, o := range openers() {
		if !o.is(body) {
			continue
		}
		for _, part := range o.open(body) {
			all = append(all, open(strings.TrimSpace(from+" "+o.kind+" "+part.From), part.Text, depth+1)...)
		}
	}
	return all
}

func readings(from, body string) []Opened {
	all := []Opened{{from, body}}
	plain := unescaped(body)
	if plain != body {
		all = append(all, Opened{strings.TrimSpace(from + " unescaped"), plain})
	}
	if strings.Contains(plain, "<") {
		all = append(all, Opened{strings.TrimSpace(from + " without tags"), untagged(plain)})
	}
	return all
}

var (
	percents = regexp.MustCompile(`(?:%[0-9A-Fa-f]{2})+`)
	letters  = regexp.MustCompile(`(?:\\u[0-9A-Fa-f]{4})+`)
)

// unescaped decodes the references of HTML, the percent signs of URLs and the letters by number of JSON, also one within the other.
func unescaped(text string) string {
	if strings.Contains(text, "&") {
		text = html.UnescapeString(html.UnescapeString(text))
	}
	if strings.Contains(text, "%") {
		text = percents.ReplaceAllStringFunc(text, func(found string) string {
			plain, _ := url.PathUnescape(found) // two hexadecimal digits stand after each sign
			return plain
		})
	}
	if strings.Contains(text, `\u`) {
		text = letters.ReplaceAllStringFunc(text, func(found string) string {
			var plain string
			if json.Unmarshal([]byte(`"`+found+`"`), &plain) != nil {
				return found
			}
			return plain
		})
	}
	return text
}

// untagged leaves out what stands between < and >.
func untagged(text string) string {
	var b strings.Builder
	for {
		before, rest, _ := strings.Cut(text, "<")
		b.WriteString(before)
		var found bool
		if _, text, found = strings.Cut(rest, ">"); !found {
			return b.String()
		}
	}
}

func openZip(body string) []Opened {
	file, err := zip.NewReader(strings.NewReader(body), int64(len(body)))
	if err != nil {
		return nil
	}
	parts := []Opened{{"comment", file.Comment}}
	for _, member := range file.File {
		parts = append(parts, Opened{"name", member.Name + "\n" + member.Comment})
		r, err := member.Open()
		if err != nil {
			continue
		}
		text, _ := io.ReadAll(r)
		parts = append(parts, Opened{member.Name, string(text)})
	}
	return parts
}

func openGzip(body string) []Opened {
	r, err := gzip.NewReader(strings.NewReader(body))
	if err != nil {
		return nil
	}
	text, _ := io.ReadAll(r)
	return []Opened{{"name", r.Name + "\n" + r.Comment}, {"", string(text)}}
}

func isJSON(body string) bool {
	body = strings.TrimSpace(body)
	return (strings.HasPrefix(body, "{") || strings.HasPrefix(body, "[")) && json.Valid([]byte(body))
}

// openJSON gives every string and name, each as a text of its own.
func openJSON(body string) []Opened {
	var parts []Opened
	tokens := json.NewDecoder(strings.NewReader(body))
	for {
		token, err := tokens.Token()
		if err != nil {
			return parts
		}
		if text, ok := token.(string); ok {
			parts = append(parts, Opened{Text: text})
		}
	}
}

var dataURL = regexp.MustCompile(`;base64,([A-Za-z0-9+/=\s]+)`)

func openDataURLs(body string) []Opened {
	var parts []Opened
	for _, found := range dataURL.FindAllStringSubmatch(body, -1) {
		parts = append(parts, Opened{Text: fromBase64(found[1])})
	}
	return parts
}

// fromBase64 decodes as far as it goes, with or without padding and line ends.
func fromBase64(text string) string {
	text = strings.TrimRight(strings.Join(strings.Fields(text), ""), "=")
	plain, _ := io.ReadAll(base64.NewDecoder(base64.RawStdEncoding, strings.NewReader(text)))
	return string(plain)
}

// wide reads big-endian UTF-16 where the text is that: it begins with its mark, or every other byte is zero.
func wide(text string) string {
	marked := strings.HasPrefix(text, "\xfe\xff")
	if !marked && (len(text) < 2 || text[0] != 0) {
		return text
	}
	var units []uint16
	for pair := []byte(text); len(pair) > 1; pair = pair[2:] {
		units = append(units, uint16(pair[0])<<8|uint16(pair[1]))
	}
	return string(bytes.TrimPrefix([]byte(string(utf16.Decode(units))), []byte("\ufeff")))
}
