package sheet_test

import (
	"encoding/json"
	"net/http"
	"testing"
)

// BenchmarkItems takes batches of twenty marks, each new, one after the other.
//
//	go test -run '^$' -bench Items ./web/sheet
func BenchmarkItems(b *testing.B) {
	h := open(b)
	for b.Loop() {
		var items []item
		for i := range 20 {
			items = append(items, mark(i))
		}
		body, err := json.Marshal(map[string]any{"items": items})
		if err != nil {
			b.Fatal(err)
		}
		if w := h.do(helperA, batch(string(body))); w.Code != http.StatusOK {
			b.Fatalf("%d %s", w.Code, w.Body)
		}
	}
}

// BenchmarkUnchanged asks for the state of a sheet that has not changed.
func BenchmarkUnchanged(b *testing.B) {
	h := open(b)
	path := "/lessons/" + id("1ea0") + "/sheet.json"
	tag := h.get(helperA, path, "").Header().Get("ETag")
	for b.Loop() {
		if w := h.get(helperA, path, tag); w.Code != http.StatusNotModified {
			b.Fatal(w.Code)
		}
	}
}
