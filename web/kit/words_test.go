package kit_test

import (
	"testing"

	"rungbook/web/kit"
)

func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"": "", "upside down": "Upside down", "élan first": "Élan first", "żółw": "Żółw", "4 turns": "4 turns"} {
		if got := kit.Capital(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}
