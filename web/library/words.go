package library

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// sentence ends text with a full stop, where it has none.
func sentence(text string) string {
	text = kit.Capital(strings.TrimSpace(text))
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".?") {
		return text
	}
	return text + "."
}

func spottingWords(s studio.Spotting) string {
	switch {
	case s.People == 0:
		return "No spotter needed"
	case s.People == 1 && s.Manner == studio.HandsOn:
		return "One spotter, hands on"
	case s.People == 1:
		return "One spotter, standing by"
	case s.Manner == studio.HandsOn:
		return "Two spotters, hands on"
	}
	return "Two spotters, standing by"
}

var loadWords = [...]string{"none", "a little", "some", "much"}

func loadWord(n int) string { return loadWords[min(max(n, 0), len(loadWords)-1)] }

// loadsWords says what a turn asks of a body.
func loadsWords(l studio.Load) string {
	if l == (studio.Load{}) {
		return "No load on back, wrists or landing"
	}
	return kit.Capital(loadWord(l.Back)) + " on the back, " + loadWord(l.Wrists) + " on the wrists, " + loadWord(l.Landing) + " on landing"
}

// strengthWords says how often a cause shows as its fault; the number is the studio's setting.
func strengthWords(strength float64) string {
	word := "now and then"
	switch {
	case strength >= 0.75:
		word = "nearly always"
	case strength >= 0.55:
		word = "often"
	case strength >= 0.35:
		word = "sometimes"
	}
	return kit.Capital(word) + " shows this way: about " + tenths(strength) + " in 10"
}

// tenths is a strength as a count of ten.
func tenths(strength float64) string {
	return strconv.FormatFloat(math.Round(strength*100)/10, 'f', -1, 64)
}

func doseWords(d studio.Dose) string {
	text := strconv.Itoa(d.Repeats) + " times"
	if d.Repeats == 1 {
		text = "once"
	}
	if d.Sets > 1 {
		text = fmt.Sprintf("%d sets of %d", d.Sets, d.Repeats)
	}
	if d.HoldSeconds > 0 {
		text += fmt.Sprintf(", held for %d seconds each", d.HoldSeconds)
	}
	return kit.Capital(text)
}

func homeWords(h studio.HomeSafety) string {
	switch {
	case !h.Safe:
		return "Not at home"
	case h.Adult:
		return "At home, with an adult in the room"
	}
	return "Safe at home"
}

func sidesWords(twoSided bool) string {
	if twoSided {
		return "Both sides, left and right, marked apart"
	}
	return "No sides"
}

// traitsWords lists what a movement is, for the rules about home and care limits.
func traitsWords(inverted, backBend, flight, partner bool) string {
	var traits []string
	for _, t := range []struct {
		is   bool
		word string
	}{{inverted, "upside down"}, {backBend, "bends back over the head"}, {flight, "leaves the floor in flight"}, {partner, "with a partner"}} {
		if t.is {
			traits = append(traits, t.word)
		}
	}
	return kit.Capital(strings.Join(traits, ", "))
}

func equipmentWords(shelf app.Shelf, needs []studio.EquipmentNeed) string {
	var parts []string
	for _, n := range needs {
		parts = append(parts, fmt.Sprintf("%s (%d for %s at once)", equipmentName(shelf, n.Key), n.Count, children(n.Places)))
	}
	if len(parts) == 0 {
		return "Nothing"
	}
	return kit.Capital(strings.Join(parts, "; "))
}

func children(n int) string {
	if n == 1 {
		return "1 child"
	}
	return strconv.Itoa(n) + " children"
}

func equipmentName(shelf app.Shelf, key string) string {
	for _, e := range shelf.Equipment {
		if e.Key == key {
			return e.Name
		}
	}
	return strings.ReplaceAll(key, "-", " ")
}

// cautions are those of a rung or drill, with the usual one where the back bends over the head and its own words do not say it.
func cautions(own string, backBend bool) []string {
	var lines []string
	if own != "" {
		lines = append(lines, sentence(own))
	}
	if backBend && !strings.Contains(own, "emergency") {
		lines = append(lines, "Pain in the back or a leg, numbness, weakness or odd walking, during it or in the hours after: stop, lie still, call emergency services, even if it eases.")
	}
	return lines
}
