package studio

import (
	"time"

	"github.com/google/uuid"
)

// ForecastFor is where a forecast was shown.
type ForecastFor string

// Where: on the page of a child, over all its classes; in the outlook of a class on its term, through the weeks as they were laid out.
const (
	ForChild ForecastFor = "child"
	ForTerm  ForecastFor = "term"
)

// KeptForecast is what was forecast about a child for the end of a day: how likely (0 to 1) each of some rungs is secure by then, by the
// rule of the day on which it was made. Days are midnight UTC.
type KeptForecast struct {
	ClassID     uuid.UUID
	ChildID     uuid.UUID
	MadeFor     ForecastFor
	MadeOn      time.Time
	DueOn       time.Time
	RuleClean   int
	RuleWindow  int
	RuleLessons int
	Rungs       []string // keys
	Chances     []float64
}
