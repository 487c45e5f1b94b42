package app

import (
	"fmt"

	"rungbook/internal/engine/layers"
	"rungbook/internal/studio"
)

// The measures of the map of a ladder, in pixels: of the box of a rung.
const (
	MapBoxWidth  = 172
	MapBoxHeight = 60
)

// LadderMap is a ladder's rungs and those of other ladders that they need, laid out in pixels: what is needed stands lower. Further is
// how many rungs more are needed by those of other ladders; 0 when all are shown.
type LadderMap struct {
	Rungs         []MapRung // from the bottom up
	Lines         []MapLine
	Width, Height float64
	Crossings     int
	Whole         bool
	Further       int
}

// MapRung is a rung with the middle of its box. Own says that it is of the ladder itself. Needs are names, of the rungs shown.
type MapRung struct {
	Key, Name, Ladder string
	Own               bool
	Needs             []string
	X, Y              float64
}

// MapLine goes up from a rung to one that needs it. Own says that both are of the ladder itself.
type MapLine struct {
	From, To string // keys
	Own      bool
	Points   []MapPoint
}

// MapPoint is a place on a line.
type MapPoint struct{ X, Y float64 }

// mapOf lays out a ladder with what its rungs need at once, or with all that they need, near or far.
func (l *ladders) mapOf(ladder studio.Ladder, whole bool) (LadderMap, error) {
	shown, all := map[string]bool{}, map[string]bool{}
	for _, r := range ladder.Rungs {
		shown[r.Key], all[r.Key] = true, true
		for _, key := range r.Needs {
			shown[key] = true
		}
		for _, key := range l.graph.Before(r.Key) {
			all[key] = true
		}
	}
	further := len(all) - len(shown)
	if whole {
		shown, further = all, 0
	}
	var nodes []layers.Node
	for _, other := range l.Ladders {
		for _, r := range other.Rungs {
			if shown[r.Key] {
				nodes = append(nodes, layers.Node{ID: r.Key, Needs: r.Needs})
			}
		}
	}
	layout, err := layers.Lay(nodes, layers.Sizes{Width: MapBoxWidth, Gap: 12, Height: MapBoxHeight, Rise: 44})
	if err != nil {
		return LadderMap{}, fmt.Errorf("lay out a ladder: %w", err)
	}
	m := LadderMap{Width: layout.Width, Height: layout.Height, Crossings: layout.Crossings, Whole: whole, Further: further}
	for _, n := range layout.Nodes {
		m.Rungs = append(m.Rungs, l.mapRung(n, ladder.Key, shown))
	}
	for _, line := range layout.Lines {
		drawn := MapLine{From: line.From, To: line.To, Own: l.of[line.From] == ladder.Key && l.of[line.To] == ladder.Key}
		for _, p := range line.Points {
			drawn.Points = append(drawn.Points, MapPoint(p))
		}
		m.Lines = append(m.Lines, drawn)
	}
	return m, nil
}

func (l *ladders) mapRung(n layers.Placed, ladder string, shown map[string]bool) MapRung {
	rung := l.rungs[n.ID]
	m := MapRung{Key: rung.Key, Name: rung.Name, Ladder: l.ladder[l.of[rung.Key]].Name, Own: l.of[rung.Key] == ladder, X: n.X, Y: n.Y}
	for _, key := range rung.Needs {
		if shown[key] {
			m.Needs = append(m.Needs, l.rungs[key].Name)
		}
	}
	return m
}
