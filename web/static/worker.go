package static

import "net/http"

// Worker serves the service worker at an address of its own, so that the whole site is its scope. It is asked for anew each time:
// an old one must not outlive its program.
func Worker() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		worker := load()["js/sw.js"]
		h := w.Header()
		h.Set("Content-Type", worker.kind)
		h.Set("Cache-Control", "no-cache")
		h.Set("Service-Worker-Allowed", "/")
		w.Write(worker.body)
	})
}
