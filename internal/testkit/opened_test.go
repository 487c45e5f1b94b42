package testkit_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"compress/zlib"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"html"
	"mime"
	"mime/multipart"
	"mime/quotedprintable"
	"net/textproto"
	"net/url"
	"strings"
	"testing"

	"rungbook/internal/testkit"
)

const planted = "Sång-leak & 17 May 2015" // with a letter, a sign and spaces that wrappings like to change

// A canary is found in every wrapping, and in one within the other, where a plain search finds nothing.
func TestPlantedCanaryIsFound(t *testing.T) {
	ear := testkit.NewEar([]testkit.Canary{{Text: planted}})
	for name, body := range wrapped(planted) {
		if strings.Contains(body, planted) && name != "zip, name" { // names stand in the clear
			t.Errorf("%s hides nothing", name)
		}
		if heard, n := ear.Listen(body); len(heard) != 1 || n == 0 {
			t.Errorf("%s: heard %v in %d readings of %q", name, heard, n, body[:min(len(body), 200)])
		}
	}
	for name, body := range wrapped("Song-leak & 18 May 2015") {
		if heard, _ := ear.Listen(body); len(heard) > 0 {
			t.Errorf("%s: heard %v where it is not", name, heard)
		}
	}
}

// wrapped is a text in each of the wrappings that the program answers with, and in some that others make of them.
func wrapped(text string) map[string]string {
	bodies := map[string]string{
		"HTML":                 "<p>" + html.EscapeString(text) + "</p>",
		"HTML, twice":          "<p data-x=\"" + html.EscapeString(html.EscapeString(text)) + "\">",
		"HTML, in pieces":      "<tspan>" + text[:3] + "</tspan><tspan x=\"4\">" + text[3:] + "</tspan>",
		"HTML, over lines":     strings.Join(strings.Fields(text), "\n    "),
		"HTML, hyphens":        text[:4] + "\u00ad" + text[4:],
		"HTML, zero width":     text[:4] + "\u200b" + text[4:],
		"HTML, unbroken space": strings.ReplaceAll(text, " ", "\u00a0"),
		"link":                 "/x?next=" + url.QueryEscape(strings.ReplaceAll(text, " ", "")),
		"file name":            `attachment; filename*=UTF-8''` + url.PathEscape(text),
		"JSON":                 inJSON(text),
		"JSON in JSON":         inJSON(inJSON(text)),
		"JSON in HTML":         "<p data-x=\"" + html.EscapeString(inJSON(text)) + "\">",
		"ICS":                  "BEGIN:VCALENDAR\r\nSUMMARY:" + text[:5] + "\r\n " + text[5:] + "\r\nEND:VCALENDAR\r\n", // RFC 5545, 3.1
		"base64 address":       `<img src="data:text/plain;base64,` + base64.StdEncoding.EncodeToString([]byte(text)) + `">`,
		"gzip":                 gzipped(text),
		"zip":                  zipped("a.txt", text),
		"zip, name":            zipped(text+".txt", "x"),
		"zip in zip":           zipped("b.zip", zipped("a.txt", text)),
		"XLSX":                 zipped("xl/sharedStrings.xml", "<sst><si><r><t>"+html.EscapeString(text[:3])+"</t></r><r><t>"+html.EscapeString(text[3:])+"</t></r></si></sst>"),
		"PDF, packed":          inPDF("(" + text + ")"),
		"PDF, in pieces":       inPDF("[(" + text[:3] + ") -20 (" + text[3:] + ")] TJ"),
		"PDF, escaped":         inPDF(`(S\303\245ng\055leak & 17 May 2015) Tj (\(x\))`),
		"PDF, UTF-16":          inPDF("(" + strings.ReplaceAll(utf16(text), "\\", "\\\\") + ")"),
		"PDF, hexadecimal":     inPDF("<" + hex.EncodeToString([]byte(utf16(text))) + ">"),
		"PDF, title":           "%PDF-1.7\n1 0 obj << /Title (\xfe\xff" + utf16(text) + ") >> endobj\n",
		"PDF in zip":           zipped("a.pdf", inPDF("("+text[:3]+") Tj ("+text[3:]+") Tj")),
		"mail, quoted":         message("quoted-printable", quoted(strings.Repeat("x", 70)+text)),
		"mail, base64":         message("base64", base64.StdEncoding.EncodeToString([]byte(text))),
		"mail, subject":        "MIME-Version: 1.0\r\nSubject: " + mime.QEncoding.Encode("UTF-8", text) + "\r\n\r\nHello\r\n",
		"mail, name":           "MIME-Version: 1.0\r\nTo: " + mime.BEncoding.Encode("UTF-8", text) + " <a@b.example>\r\n\r\nHello\r\n",
		"mail, parts":          inParts(text),
	}
	if text != planted { // written out by hand above
		delete(bodies, "PDF, escaped")
	}
	return bodies
}

func inJSON(text string) string {
	body, _ := json.Marshal(map[string][]string{"x": {text}}) // & becomes a letter by number
	return strings.ReplaceAll(string(body), "å", `\u00e5`)
}

func gzipped(text string) string {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Write([]byte(text))
	w.Close()
	return b.String()
}

func zipped(name, text string) string {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	member, _ := w.Create(name)
	member.Write([]byte(text))
	w.Close()
	return b.String()
}

func inPDF(drawn string) string {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	w.Write([]byte("BT " + drawn + " ET"))
	w.Close()
	return "%PDF-1.7\n1 0 obj << /Filter /FlateDecode >>\nstream\n" + b.String() + "\nendstream\nendobj\n"
}

func utf16(text string) string {
	var b strings.Builder
	for _, r := range text {
		b.Write([]byte{byte(r >> 8), byte(r)})
	}
	return b.String()
}

func quoted(text string) string {
	var b strings.Builder
	w := quotedprintable.NewWriter(&b)
	w.Write([]byte(text))
	w.Close()
	return b.String()
}

func message(encoding, body string) string {
	return "MIME-Version: 1.0\r\nContent-Type: text/plain; charset=UTF-8\r\nContent-Transfer-Encoding: " + encoding + "\r\n\r\n" + body + "\r\n"
}

func inParts(text string) string {
	var b strings.Builder
	w := multipart.NewWriter(&b)
	part, _ := w.CreatePart(textproto.MIMEHeader{"Content-Type": {"text/html"}, "Content-Transfer-Encoding": {"base64"}})
	part.Write([]byte(base64.StdEncoding.EncodeToString([]byte("<p>" + html.EscapeString(text) + "</p>"))))
	w.Close()
	return "MIME-Version: 1.0\r\nContent-Type: multipart/alternative; boundary=" + w.Boundary() + "\r\n\r\n" + b.String()
}

// The case of letters does not matter: a file may be named in small ones, a heading set in capitals.
func TestCanaryInAnyCase(t *testing.T) {
	ear := testkit.NewEar([]testkit.Canary{{Text: "Alderleak"}, {Text: "Azimuth"}})
	heard, _ := ear.Listen("ALDERLEAK term-report-azimuth.pdf")
	if len(heard) != 2 {
		t.Errorf("heard %v", heard)
	}
}

// What only looks packed, or is cut off, is read as far as it goes and breaks nothing.
func FuzzOpen(f *testing.F) {
	for _, body := range wrapped(planted) {
		f.Add(body)
		f.Add(body[:len(body)*2/3])
	}
	f.Fuzz(func(t *testing.T, body string) {
		if got := testkit.Open(body); len(got) == 0 && body != "" {
			t.Error("nothing was read")
		}
	})
}
