package app

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
)

// change is what an edit did to one field.
type change struct {
	From any `json:"from"`
	To   any `json:"to"`
}

// changes compares two values of one struct type field by field; names are those of the library file. An empty list and none are
// the same.
func changes(before, after any) map[string]change {
	found := map[string]change{}
	compare(found, "", reflect.ValueOf(before), reflect.ValueOf(after))
	return found
}

func compare(found map[string]change, prefix string, before, after reflect.Value) {
	for i := range before.NumField() {
		name, _, _ := strings.Cut(before.Type().Field(i).Tag.Get("yaml"), ",")
		a, b := before.Field(i), after.Field(i)
		switch {
		case a.Kind() == reflect.Struct:
			compare(found, prefix+name+".", a, b)
		case a.Kind() == reflect.Slice && a.Len() == 0 && b.Len() == 0:
		case !sameJSON(a.Interface(), b.Interface()):
			found[prefix+name] = change{a.Interface(), b.Interface()}
		}
	}
}

func sameJSON(a, b any) bool { return Seen(a) == Seen(b) }

// Seen is a fingerprint of something that is shown in a form, so that a save can tell whether it has changed meanwhile.
func Seen(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("app: fingerprint of %T: %v", v, err)) // only plain nouns are shown: a fault of the program
	}
	sum := sha256.Sum256([]byte(strings.ReplaceAll(string(text), ":null", ":[]")))
	return hex.EncodeToString(sum[:8])
}
