package studio

import (
	"slices"
	"strconv"
	"strings"
)

// RungPlace is a rung with the ladder that it stands on and its index there, 0 at the bottom.
type RungPlace struct {
	Rung
	Ladder Ladder
	Index  int
}

// Ladder finds a ladder by its key.
func (l Library) Ladder(key string) (Ladder, bool) {
	i := slices.IndexFunc(l.Ladders, func(ladder Ladder) bool { return ladder.Key == key })
	if i < 0 {
		return Ladder{}, false
	}
	return l.Ladders[i], true
}

// Rung finds a rung by its key.
func (l Library) Rung(key string) (RungPlace, bool) {
	for _, ladder := range l.Ladders {
		if i := ladder.IndexOf(key); i >= 0 {
			return RungPlace{Rung: ladder.Rungs[i], Ladder: ladder, Index: i}, true
		}
	}
	return RungPlace{}, false
}

// Drill finds a drill by its key.
func (l Library) Drill(key string) (Drill, bool) {
	i := slices.IndexFunc(l.Drills, func(d Drill) bool { return d.Key == key })
	if i < 0 {
		return Drill{}, false
	}
	return l.Drills[i], true
}

// Unlocks lists the rungs that need the rung directly, in reading order.
func (l Library) Unlocks(key string) []RungPlace {
	var found []RungPlace
	for _, ladder := range l.Ladders {
		for i, r := range ladder.Rungs {
			if slices.Contains(r.Needs, key) {
				found = append(found, RungPlace{Rung: r, Ladder: ladder, Index: i})
			}
		}
	}
	return found
}

// IndexOf is the index of a rung on the ladder, 0 at the bottom; -1 when it stands elsewhere.
func (l Ladder) IndexOf(rung string) int {
	return slices.IndexFunc(l.Rungs, func(r Rung) bool { return r.Key == rung })
}

// Fault finds a fault of the rung by its key.
func (r Rung) Fault(key string) (Fault, bool) {
	i := slices.IndexFunc(r.Faults, func(f Fault) bool { return f.Key == key })
	if i < 0 {
		return Fault{}, false
	}
	return r.Faults[i], true
}

// NewKey makes a key from a name, with a number behind it while it is taken. A name without any letter from a to z or digit
// gives one from otherwise.
func NewKey(name, otherwise string, taken func(key string) bool) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	stem := otherwise
	if len(words) > 0 {
		stem = strings.Join(words, "-")
	}
	stem = strings.TrimRight(stem[:min(len(stem), 50)], "-")
	key := stem
	for i := 2; taken(key); i++ {
		key = stem + "-" + strconv.Itoa(i)
	}
	return key
}

// IsPageWord reports whether a ladder or drill with the key would hide behind a page of the program, such as /ladders/import.
func IsPageWord(key string) bool {
	return slices.Contains([]string{"add", "arrange", "export", "import"}, key)
}
