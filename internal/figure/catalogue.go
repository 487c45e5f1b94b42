package figure

import "slices"

var all = slices.Concat(standing, kneeling, sitting, lying, support, upside, rolling, wheels, bridges, flight)

// Poses lists all poses by what carries the body: feet, knees and seat, back and belly, hands, head and forearms, nothing.
func Poses() []Pose { return all }
