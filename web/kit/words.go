package kit

import (
	"strconv"
	"strings"
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
