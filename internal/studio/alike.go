package studio

import (
	"strings"
	"unicode"
)

// LookAlike reports whether two children are easily taken for each other on a class sheet, which shows first name and initial: the
// two differ by at most one letter, whatever the case and accents.
func LookAlike(a, b Child) bool {
	return withinOne(bareLetters(a.ShortName()), bareLetters(b.ShortName()))
}

// bareLetters is a name in lower case without combining marks and without anything that is not a letter.
func bareLetters(name string) []rune {
	return []rune(strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, name))
}

// withinOne reports whether one letter changed, added or left out makes a into b.
func withinOne(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return i == len(a) || string(a[i+1:]) == string(b[i+1:])
	}
	return string(a[i:]) == string(b[i+1:])
}

// Twins lists the pairs of children that look alike, by index.
func Twins(children []Child) [][2]int {
	var pairs [][2]int
	for i := range children {
		for j := i + 1; j < len(children); j++ {
			if LookAlike(children[i], children[j]) {
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	return pairs
}
