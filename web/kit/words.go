package kit

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"rungbook/internal/studio"
)

// Count is a number with its noun: "1 child", "3 children".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// List joins words for a sentence: "a, b and c"; "" for none.
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Capital begins a sentence with a capital letter, of whatever alphabet.
func Capital(text string) string {
	if text == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// SpotWords says how to spot; it never says that it is safe to.
func SpotWords(s studio.Spotting) string {
	if s.People == 0 {
		return ""
	}
	text := Count(s.People, "signed-off person", "signed-off people") + ", "
	if s.Manner == studio.HandsOn {
		text += "hands on"
	} else {
		text += "standing by"
	}
	if s.How != "" {
		text += ". " + s.How
	}
	if s.Until != "" {
		text += " Until: " + s.Until
	}
	return text
}
