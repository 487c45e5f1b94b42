package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"time"
)

// JudgedForecast is a forecast with what became of it. Child is a number that stands for nobody outside of the file.
type JudgedForecast struct {
	Child         int
	Rung          string
	MadeOn, DueOn time.Time
	Chance        float64 // 0 to 1
	True          bool
}

// WriteForecasts writes a row a forecast, as RFC 4180, so that any program can judge them again: child (a number), rung, made_on and
// due_on (days, 2026-01-31), chance (0 to 1), came_true (1 or 0).
func WriteForecasts(w io.Writer, all []JudgedForecast) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{{"child", "rung", "made_on", "due_on", "chance", "came_true"}}
	for _, f := range all {
		came := "0"
		if f.True {
			came = "1"
		}
		rows = append(rows, []string{strconv.Itoa(f.Child), guard(f.Rung), isoDay(f.MadeOn), isoDay(f.DueOn), strconv.FormatFloat(f.Chance, 'g', -1, 64), came})
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("write forecasts: %w", err)
	}
	return nil
}
