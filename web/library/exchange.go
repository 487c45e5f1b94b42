package library

import (
	"encoding/base64"
	"net/http"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// uploadLimit is the size of a library file; the confirming form carries it once more, a third longer.
const uploadLimit = 2 << 20

// Export gives the library as a zip of YAML files.
func (h *Handler) Export(w http.ResponseWriter, r *http.Request) error {
	body, err := h.app.ExportLibrary(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	return kit.Download(w, "application/zip", "library.zip", body)
}

// ImportPage asks for a library file.
func (h *Handler) ImportPage(w http.ResponseWriter, r *http.Request) error {
	return h.importForm(w, r, form{})
}

// Import reads a library file and says what it would change; a second form, which carries the file, imports it.
func (h *Handler) Import(w http.ResponseWriter, r *http.Request) error {
	up, err := readUpload(w, r)
	if err != nil {
		return h.refusedImport(w, r, err)
	}
	library, err := app.ReadUpload(up.Name, up.Body)
	if err != nil {
		return h.refusedImport(w, r, err)
	}
	if up.Seen == "" {
		found, err := h.app.CheckImport(r.Context(), kit.Actor(r), library)
		if err != nil {
			return h.refusedImport(w, r, err)
		}
		page := h.page(w, r, "What the import would change", laddersCrumb, kit.Crumb{Label: "Import", URL: "/ladders/import"})
		return h.kit.Render(w, r, http.StatusOK, importCheckPage(page, newImportView(up, found)))
	}
	if err := h.app.ImportChecked(r.Context(), kit.Actor(r), up.Seen, library); err != nil {
		return h.refusedImport(w, r, err)
	}
	return h.kit.Done(w, r, "The library is imported.", "/ladders")
}

func (h *Handler) refusedImport(w http.ResponseWriter, r *http.Request, err error) error {
	var f form
	if err := f.refused(err); err != nil {
		return err
	}
	return h.importForm(w, r, f)
}

func (h *Handler) importForm(w http.ResponseWriter, r *http.Request, f form) error {
	page := h.page(w, r, "Import a library", laddersCrumb)
	page.Intro = "You see what would be new and what would change before anything is written."
	return h.render(w, r, f, importPage(page, f))
}

// upload is a library file; Seen is set when what it changes has been read and agreed to.
type upload struct {
	Name, Seen string
	Body       []byte
}

func readUpload(w http.ResponseWriter, r *http.Request) (upload, error) {
	file, values, err := kit.Upload(w, r, "file", uploadLimit)
	if err != nil {
		return upload{}, err
	}
	up := upload{Name: values.Get("name"), Seen: values.Get("seen"), Body: file}
	switch {
	case up.Seen != "":
		up.Body, err = base64.StdEncoding.DecodeString(values.Get("body"))
		if err != nil {
			return upload{}, refuseFile("The file did not come back whole. Choose it again.")
		}
	case len(file) == 0:
		return upload{}, refuseFile("Choose a file first.")
	case len(file) > uploadLimit:
		return upload{}, refuseFile("The file is larger than 2 MB. Choose a smaller one, or import ladder by ladder.")
	default:
		up.Name = strings.ToValidUTF8(r.MultipartForm.File["file"][0].Filename, "")
	}
	return up, nil
}

func refuseFile(problem string) error {
	return studio.Refuse("Nothing was imported.", []studio.FieldError{{Field: "file", Problem: problem}})
}

// importView is what an import would change, with the file to send again.
type importView struct {
	Name, Body, Seen string
	None             bool
	Nouns            []importNoun
}

type importNoun struct {
	Name    string
	Count   string
	New     []string
	Changed []string
}

func newImportView(up upload, found app.LibraryChanges) importView {
	view := importView{Name: up.Name, Body: base64.StdEncoding.EncodeToString(up.Body), Seen: found.Seen, None: found.None()}
	for _, noun := range []struct {
		name string
		list []app.ItemChange
	}{{"Ladders", found.Ladders}, {"Rungs", found.Rungs}, {"Drills", found.Drills}} {
		n := importNoun{Name: noun.name}
		for _, c := range noun.list {
			if c.New {
				n.New = append(n.New, c.Name)
			} else {
				n.Changed = append(n.Changed, c.Name+": "+strings.ToLower(changedWords(c.Fields)))
			}
		}
		n.Count = countWords(len(n.New), len(n.Changed))
		view.Nouns = append(view.Nouns, n)
	}
	return view
}

func countWords(fresh, changed int) string {
	if fresh+changed == 0 {
		return "nothing"
	}
	var parts []string
	if fresh > 0 {
		parts = append(parts, strconv.Itoa(fresh)+" new")
	}
	if changed > 0 {
		parts = append(parts, kit.Count(changed, "change", "changes"))
	}
	return strings.Join(parts, ", ")
}

func changedWords(fields []string) string {
	var words []string
	for _, f := range fields {
		words = append(words, fieldWord(f))
	}
	return strings.Join(words, ", ")
}
