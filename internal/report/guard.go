package report

import (
	"strings"
	"unicode"
)

// guard makes a text safe to open in a spreadsheet: where a cell would begin like a formula, an apostrophe is put before
// it. Cells begin at the start of the text and, for programs that split at other marks than the comma, behind a semicolon,
// a tab or a line break; blanks before the sign change nothing. Broken UTF-8 and NUL become U+FFFD.
func guard(text string) string {
	text = strings.ReplaceAll(strings.ToValidUTF8(text, "\uFFFD"), "\x00", "\uFFFD")
	var b strings.Builder
	if first := strings.TrimLeftFunc(text, isSpaceOnly); first != "" && isBreak(rune(first[0])) {
		b.WriteByte('\'')
	}
	begins := true
	for _, r := range text {
		if begins && isSign(r) {
			b.WriteByte('\'')
		}
		b.WriteRune(r)
		begins = r == ';' || isBreak(r) || begins && isBlank(r)
	}
	return b.String()
}

// isSign: the signs with which a formula begins, also in the full width of East Asian keyboards.
func isSign(r rune) bool { return strings.ContainsRune("=+-@＝＋－＠", r) }

func isBreak(r rune) bool { return r == '\t' || r == '\r' || r == '\n' }

func isBlank(r rune) bool { return unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) }

func isSpaceOnly(r rune) bool { return isBlank(r) && !isBreak(r) }
