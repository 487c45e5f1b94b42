package kit

import (
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"rungbook/internal/studio"
)

// errorJSON is an error as scripts read it.
type errorJSON struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// WantsJSON reports whether a script asks.
func WantsJSON(r *http.Request) bool {
	return strings.HasPrefix(r.Header.Get("Accept"), "application/json")
}

// WriteJSON answers with a value. The body is whole before anything is sent.
func WriteJSON(w http.ResponseWriter, status int, value any) error {
	body, err := json.Marshal(value)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_, err = w.Write(body)
	return err
}

// FailJSON answers with an error for scripts: {"error": {"code", "text"}}, with the fields of more beside it.
func (k *Kit) FailJSON(w http.ResponseWriter, r *http.Request, status int, err error, more map[string]any) {
	var e *studio.Error
	switch {
	case !errors.As(err, &e):
		e = &studio.Error{Code: studio.Internal, Text: Words(r).Say("error.script")}
		k.Log.Error("request failed", "method", r.Method, "route", routeOf(r), "error", err)
	case e.Error() == studio.Missing().Error():
		e = &studio.Error{Code: studio.NotFound, Text: Words(r).Say("error.missing")}
	}
	if status == 0 {
		status = statusOf(e.Code)
	}
	body := map[string]any{"error": errorJSON{codeWord(e.Code), e.Text}}
	for name, value := range more {
		body[name] = value
	}
	if err := WriteJSON(w, status, body); err != nil {
		k.Log.Error("error answer failed", "error", err)
	}
}

func codeWord(c studio.Code) string {
	switch c {
	case studio.Invalid:
		return "invalid"
	case studio.NotFound:
		return "not-found"
	case studio.SignedOut:
		return "signed-out"
	case studio.Conflict:
		return "conflict"
	case studio.TooMany:
		return "too-many"
	}
	return "internal"
}
