package standing

import (
	"strings"
	"testing"

	"rungbook/internal/app"
)

func TestForecastsInWords(t *testing.T) {
	if got := binSentence(app.ForecastBin{From: 0.7, To: 0.8, N: 40, True: 27, Mean: 0.7}); got != "Of 40 forecasts around 70 in 100, 27 came true (expected about 28)." {
		t.Error(got)
	}
	off := app.ForecastInterval{Low: 0.05, High: 0.2, Known: true}
	m := turnedOutModel{}
	m.Result.Bands = []app.ForecastBand{{From: 0, To: 0.3, GapIn: app.ForecastInterval{Low: -0.2, High: -0.1, Known: true}, N: 10, True: 4, Mean: 0.2}, {From: 0.3, To: 0.7},
		{From: 0.7, To: 1, N: 90, True: 58, Mean: 0.82, GapIn: off}}
	got := strings.Join(m.off(), " ")
	for _, want := range []string{"Too careful at the bottom, below 30 in 100: of 10 forecasts there, 4 came true, about 2 expected.",
		"Too hopeful at the top, from 70 in 100: of 90 forecasts there, 58 came true, about 74 expected."} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
	m.Result.Bands = []app.ForecastBand{{To: 0.3}}
	if got := m.off()[0]; !strings.HasPrefix(got, "From so few children") {
		t.Error(got)
	}
	m.Result.Bands = []app.ForecastBand{{To: 0.3, GapIn: app.ForecastInterval{Low: -0.1, High: 0.1, Known: true}}}
	if got := m.off()[0]; !strings.HasPrefix(got, "Neither low") {
		t.Error(got)
	}
}
