package kit

import (
	"slices"
	"strings"
)

// Measures of the tiny drawing, in units of its view box (20 by 40).
const (
	tinyWidth  = 20
	tinyHeight = 40
	tinyBar    = 14
	tinyLeft   = 3
)

// tinyID names the drawing of some states, bottom first; equal states share one drawing.
func tinyID(states []State) string {
	letters := map[State]string{Waiting: "x", Open: "o", Working: "w", Secure: "s", Recheck: "r"}
	var id strings.Builder
	id.WriteString("tiny-")
	for _, s := range states {
		id.WriteString(letters[s])
	}
	return id.String()
}

// distinct leaves each drawing once.
func distinct(all [][]State) [][]State {
	sorted := slices.SortedFunc(slices.Values(all), func(x, y []State) int { return strings.Compare(tinyID(x), tinyID(y)) })
	return slices.CompactFunc(sorted, slices.Equal)
}

// tinyPaths are the outlines of each state that has any, in one path, and what fills them.
type tinyPaths struct{ Gaps, Outlines, Fills, Warm, Diamonds string }

// placeTiny shares the height among the rungs, from the bottom up.
func placeTiny(states []State) tinyPaths {
	var p tinyPaths
	if len(states) == 0 {
		return p
	}
	step := min(float64(tinyHeight-4)/float64(len(states)), 7)
	h := max(min(step-1.5, 4.5), 1)
	for i, s := range states {
		y := tinyHeight - 2 - float64(i+1)*step + (step-h)/2
		switch s {
		case Waiting:
			p.Gaps += "M5 " + num(y+h/2) + "h10"
		case Recheck:
			p.Warm += bar(y, tinyBar, h)
			p.Diamonds += "M8 " + num(y+h/2) + "l2-" + num(h/2) + " 2 " + num(h/2) + "-2 " + num(h/2) + "z"
		case Secure:
			p.Fills += bar(y, tinyBar, h)
		default:
			p.Outlines += bar(y, tinyBar, h)
			if s == Working {
				p.Fills += bar(y, tinyBar/2, h)
			}
		}
	}
	return p
}

func bar(y, width, height float64) string {
	return "M" + num(tinyLeft) + " " + num(y) + "h" + num(width) + "v" + num(height) + "h-" + num(width) + "z"
}
