package kit

import (
	"errors"
	"io"
	"net/http"
	"net/url"

	"rungbook/internal/studio"
)

// Upload reads a multipart form of which no file and no text is longer than limit bytes. The file called field comes back as it is,
// nil when none was chosen; its content is for the caller to check.
func Upload(w http.ResponseWriter, r *http.Request, field string, limit int64) (file []byte, values url.Values, err error) {
	r.Body = http.MaxBytesReader(w, r.Body, 2*limit+formLimit) // a text may come back with line ends twice as long
	if err := r.ParseMultipartForm(limit); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			return nil, nil, &studio.Error{Code: studio.Invalid, Text: "The file is too large. Nothing was read; split it into parts."}
		}
		return nil, nil, &studio.Error{Code: studio.Invalid, Text: "The form could not be read. Nothing was saved; go back and send it again.", Cause: err}
	}
	defer r.MultipartForm.RemoveAll()
	for _, texts := range r.MultipartForm.Value {
		for _, text := range texts {
			if !Clean(text) {
				return nil, nil, &studio.Error{Code: studio.Invalid, Text: "The text holds characters that cannot be kept. Nothing was saved."}
			}
		}
	}
	values = r.MultipartForm.Value
	f, _, err := r.FormFile(field)
	if errors.Is(err, http.ErrMissingFile) {
		return nil, values, nil
	}
	if err != nil {
		return nil, nil, &studio.Error{Code: studio.Invalid, Text: "The file could not be read. Nothing was saved; choose it again.", Cause: err}
	}
	defer f.Close()
	file, err = io.ReadAll(io.LimitReader(f, limit+1))
	return file, values, err
}
