package library

import (
	"net/url"

	"rungbook/web/kit"
)

// readFigure reads the poses of the form in order; empty rows are left out.
func readFigure(r *kit.Reader) []string {
	poses := []string{}
	for i := range kit.FigurePoses {
		name := r.Values.Get(at("figure", i, "pose"))
		if name == "" {
			continue
		}
		if !kit.KnownPose(name) {
			r.Refuse("figure", "Choose poses from those offered.")
			continue
		}
		if r.Tick(at("figure", i, "turned")) {
			name = kit.TurnedPose(name)
		}
		poses = append(poses, name)
	}
	return poses
}

func writeFigure(v url.Values, names []string) {
	for i, name := range names {
		pose, turned := kit.PlainPose(name)
		v.Set(at("figure", i, "pose"), pose)
		tick(v, at("figure", i, "turned"), turned)
	}
}

// shown is the figure as it stands in the form.
func (f form) shown() []string { return readFigure(&kit.Reader{Values: f.Values}) }

// rowNames are the labels of the poses of a figure.
var rowNames = [kit.FigurePoses]string{"First", "Then", "Then (third)", "Last"}
