package kit

import (
	"math"
	"strconv"
	"strings"

	"rungbook/internal/figure"
)

// FigureSize is how large a figure is drawn: pixels for one body height. A narrow page makes it smaller.
type FigureSize int

// The sizes: beside a line of a list, within a text, on the page of a rung or drill.
const (
	FigureSmall  FigureSize = 52
	FigureMiddle FigureSize = 90
	FigureLarge  FigureSize = 120
)

// figureLanguage is the language in which poses are described.
const figureLanguage = "en-GB"

// FigurePoses is how many poses a figure has at most.
const FigurePoses = figure.Most

// Pose is one pose that can be chosen; Says is what it shows.
type Pose struct{ Name, Says string }

// Poses lists what can be chosen, by what carries the body.
func Poses() []Pose {
	var poses []Pose
	for _, p := range figure.Poses() {
		poses = append(poses, Pose{p.Key, p.Says})
	}
	return poses
}

// PoseChoices are the poses for a select.
func PoseChoices() []Choice {
	var choices []Choice
	for _, p := range Poses() {
		choices = append(choices, Choice{Value: p.Name, Label: strings.ToUpper(p.Says[:1]) + p.Says[1:]})
	}
	return choices
}

// TurnedPose is the name of a pose that looks to the left.
func TurnedPose(name string) string { return name + figure.Turned }

// PlainPose takes a pose's name apart: which pose it is, and whether it looks to the left.
func PlainPose(name string) (pose string, turned bool) { return strings.CutSuffix(name, figure.Turned) }

// KnownPose reports whether the program can draw a pose.
func KnownPose(name string) bool { return figure.Known(name) }

// figureLayer is what has one tone.
type figureLayer struct {
	Class string
	Paths []figurePath
	Discs []figureDisc
}

type figurePath struct {
	D, Width string
	Solid    bool
}

type figureDisc struct{ X, Y, R string }

// figureUnit is how many units of the view box are one body height.
const figureUnit = 100

// layers sorts a drawing by tone, from what lies behind; y runs downwards on a page.
func layers(d figure.Drawing) []figureLayer {
	var all []figureLayer
	for _, tone := range []struct {
		tone  figure.Tone
		class string
	}{{figure.Floor, "figure-floor"}, {figure.Thing, "figure-thing"}, {figure.Far, "figure-far"}, {figure.Near, "figure-near"}} {
		layer := figureLayer{Class: tone.class}
		for _, s := range d.Strokes {
			if s.Tone == tone.tone {
				solid := s.Closed && (s.Tone == figure.Near || s.Tone == figure.Far)
				layer.add(figurePath{pathOf(s, d.Height), num(s.Width * figureUnit), solid})
			}
		}
		for _, c := range d.Discs {
			if c.Tone == tone.tone {
				layer.Discs = append(layer.Discs, figureDisc{tenth(c.Centre.X), tenth(d.Height - c.Centre.Y), tenth(c.Radius)})
			}
		}
		all = append(all, layer)
	}
	return all
}

// add joins a path to one that is drawn alike, since the order within one tone does not show.
func (l *figureLayer) add(p figurePath) {
	for i := range l.Paths {
		if other := &l.Paths[i]; other.Width == p.Width && other.Solid == p.Solid {
			other.D += p.D
			return
		}
	}
	l.Paths = append(l.Paths, p)
}

func pathOf(s figure.Stroke, height float64) string {
	var b strings.Builder
	for i, p := range s.Points {
		b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0])
		b.WriteString(tenth(p.X) + " " + tenth(height-p.Y))
	}
	if s.Closed {
		b.WriteString("Z")
	}
	return b.String()
}

// tenth writes body heights in units of the view box with one decimal.
func tenth(v float64) string { return strconv.FormatFloat(math.Round(v*figureUnit*10)/10, 'f', -1, 64) }
