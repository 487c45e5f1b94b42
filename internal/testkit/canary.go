package testkit

import (
	"slices"
	"strings"
)

// Canary is a text that occurs in one sensitive field of the sample studio and nowhere else. May are the ends of the ids of the
// accounts that may meet it.
type Canary struct {
	Text string
	May  []string
}

// Ear finds canaries in texts: in any case of letters, and across spaces, line ends, soft hyphens and zero bytes.
type Ear struct {
	starts [1 << 16][]int // by their first two bytes
	texts  []string       // as they are looked for
	all    []Canary
}

// NewEar listens for the canaries. Each has two letters at least.
func NewEar(all []Canary) *Ear {
	e := &Ear{all: all}
	for i, c := range all {
		text := squeezed(c.Text)
		e.texts = append(e.texts, string(text))
		e.starts[pair(text)] = append(e.starts[pair(text)], i)
	}
	return e
}

// Heard is a canary, with the wrappings it was found in.
type Heard struct {
	Canary
	From string
}

// Listen opens a body and finds the canaries in it, each once; n is how many readings and parts of it were searched.
func (e *Ear) Listen(body string) (heard []Heard, n int) {
	had := map[string]bool{}
	for _, part := range Open(body) {
		n++
		for _, i := range e.find(squeezed(part.Text)) {
			if c := e.all[i]; !had[c.Text] {
				had[c.Text] = true
				heard = append(heard, Heard{c, part.From})
			}
		}
	}
	return heard, n
}

func (e *Ear) find(text []byte) []int {
	var found []int
	for i := 0; i+1 < len(text); i++ {
		for _, c := range e.starts[pair(text[i:])] {
			if len(text)-i >= len(e.texts[c]) && string(text[i:i+len(e.texts[c])]) == e.texts[c] && !slices.Contains(found, c) {
				found = append(found, c)
			}
		}
	}
	return found
}

func pair(text []byte) int { return int(text[0])<<8 | int(text[1]) }

var hidden = strings.NewReplacer("\u00ad", "", "\u200b", "", "\u200c", "", "\u2060", "", "\ufeff", "", "\u00a0", "", "\u202f", "")

// squeezed is the text in small letters, without what a reader does not see.
func squeezed(text string) []byte {
	if strings.ContainsAny(text, "\u00ad\u200b\u200c\u2060\ufeff\u00a0\u202f") {
		text = hidden.Replace(text)
	}
	small := make([]byte, 0, len(text))
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == 0, c == ' ', c == '\t', c == '\n', c == '\r':
		case c >= 'A' && c <= 'Z':
			small = append(small, c+'a'-'A')
		default:
			small = append(small, c)
		}
	}
	return small
}
