package testkit

import (
	"compress/zlib"
	"encoding/hex"
	"io"
	"regexp"
	"strings"
)

var streamStart = regexp.MustCompile(`stream\r?\n`)

// openPDF gives the strings of the file outside of its streams (its title, outline, bookmarks), and for each packed stream what it
// holds and the strings in it: words that are drawn in pieces stand together.
func openPDF(body string) []Opened {
	parts := []Opened{{"strings", stringsOf(body)}}
	for _, at := range streamStart.FindAllStringIndex(body, -1) {
		packed, err := zlib.NewReader(strings.NewReader(body[at[1]:]))
		if err != nil {
			continue // the end of a stream, or one that is not packed: it was read with the whole
		}
		text, _ := io.ReadAll(packed)
		parts = append(parts, Opened{"stream", string(text)}, Opened{"stream strings", stringsOf(string(text))})
	}
	return parts
}

// stringsOf joins the strings of PDF syntax (ISO 32000-1, 7.3.4): literal ones in round brackets, and hexadecimal ones in angle ones.
func stringsOf(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); {
		var one string
		switch {
		case text[i] == '(':
			one, i = literal(text, i+1)
		case text[i] == '<' && !strings.HasPrefix(text[i:], "<<"):
			one, i = hexadecimal(text, i+1)
		default:
			i++
		}
		b.WriteString(wide(one))
	}
	return b.String()
}

// literal reads a string from behind its opening bracket, and gives the place behind its closing one.
func literal(text string, i int) (string, int) {
	var b strings.Builder
	for depth := 1; i < len(text); i++ {
		switch c := text[i]; {
		case c == '\\' && i+1 < len(text):
			i += escape(&b, text[i+1:])
		case c == ')' && depth == 1:
			return b.String(), i + 1
		default:
			depth += map[byte]int{'(': 1, ')': -1}[c]
			b.WriteByte(c)
		}
	}
	return b.String(), i
}

// escape writes the byte that stands behind a backslash, and says how many bytes it was written with.
func escape(b *strings.Builder, rest string) int {
	n, value := 0, 0
	for n < 3 && n < len(rest) && rest[n] >= '0' && rest[n] <= '7' {
		value, n = value*8+int(rest[n]-'0'), n+1
	}
	if n > 0 {
		b.WriteByte(byte(value))
		return n
	}
	if control, ok := map[byte]byte{'n': '\n', 'r': '\r', 't': '\t', 'b': '\b', 'f': '\f'}[rest[0]]; ok {
		b.WriteByte(control)
	} else if rest[0] != '\n' {
		b.WriteByte(rest[0])
	}
	return 1
}

// hexadecimal reads a string of digits from behind its opening bracket; "" where it is none.
func hexadecimal(text string, i int) (string, int) {
	digits, _, closed := strings.Cut(text[i:], ">")
	if !closed || strings.Trim(digits, "0123456789abcdefABCDEF \r\n\t") != "" {
		return "", i
	}
	end := i + len(digits) + 1
	digits = strings.Join(strings.Fields(digits), "")
	if len(digits)%2 == 1 {
		digits += "0"
	}
	plain, _ := hex.DecodeString(digits) // digits alone, an even number of them
	return string(plain), end
}
