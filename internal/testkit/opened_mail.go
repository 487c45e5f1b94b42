package testkit

import (
	"io"
	"mime"
	"mime/multipart"
	"mime/quotedprintable"
	"net/mail"
	"net/textproto"
	"strings"
)

func isMail(body string) bool {
	head, _, _ := strings.Cut(body, "\r\n\r\n")
	return strings.Contains(strings.ToLower("\n"+head), "\nmime-version:")
}

// openMail gives the headers of a message, decoded (RFC 2047), and each of its parts, decoded (RFC 2045).
func openMail(body string) []Opened {
	message, err := mail.ReadMessage(strings.NewReader(body))
	if err != nil {
		return nil
	}
	return openPart(textproto.MIMEHeader(message.Header), message.Body)
}

func openPart(header textproto.MIMEHeader, body io.Reader) []Opened {
	var parts []Opened
	for name, values := range header {
		for _, value := range values {
			if plain, err := new(mime.WordDecoder).DecodeHeader(value); err == nil {
				value = plain
			}
			parts = append(parts, Opened{"header " + name, value})
		}
	}
	text := decoded(header.Get("Content-Transfer-Encoding"), body)
	parts = append(parts, Opened{"body", text})
	if kind, with, err := mime.ParseMediaType(header.Get("Content-Type")); err == nil && strings.HasPrefix(kind, "multipart/") {
		several := multipart.NewReader(strings.NewReader(text), with["boundary"])
		for part, err := several.NextRawPart(); err == nil; part, err = several.NextRawPart() {
			parts = append(parts, openPart(part.Header, part)...)
		}
	}
	return parts
}

func decoded(encoding string, body io.Reader) string {
	if strings.EqualFold(encoding, "quoted-printable") {
		body = quotedprintable.NewReader(body)
	}
	text, _ := io.ReadAll(body)
	if strings.EqualFold(encoding, "base64") {
		return fromBase64(string(text))
	}
	return string(text)
}
