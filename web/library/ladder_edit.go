package library

import (
	"net/http"
	"net/url"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// AddLadderPage asks for a new ladder.
func (h *Handler) AddLadderPage(w http.ResponseWriter, r *http.Request) error {
	return h.ladderForm(w, r, form{Values: url.Values{}}, "")
}

// AddLadder adds a ladder.
func (h *Handler) AddLadder(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values}
	ladder, err := readLadder(values)
	if err == nil {
		ladder.Key, err = h.app.AddLadder(r.Context(), kit.Actor(r), ladder)
	}
	if err == nil {
		return h.kit.Done(w, r, ladder.Name+" is added. Now add its lowest rung.", ladderURL(ladder.Key))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	return h.ladderForm(w, r, f, "")
}

// EditLadderPage shows a ladder's own words in a form.
func (h *Handler) EditLadderPage(w http.ResponseWriter, r *http.Request) error {
	ladder, err := h.ladder(r)
	if err != nil {
		return err
	}
	v := url.Values{"name": {ladder.Name}, "family": {string(ladder.Family)}, "about": {ladder.About}, "seen": {app.SeenLadder(ladder)}}
	return h.ladderForm(w, r, form{Values: v}, ladder.Key)
}

// EditLadder changes a ladder's own words.
func (h *Handler) EditLadder(w http.ResponseWriter, r *http.Request) error {
	present, err := h.ladder(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values}
	ladder, err := readLadder(values)
	ladder.Key = present.Key
	if err == nil {
		err = h.app.EditLadder(r.Context(), kit.Actor(r), values.Get("seen"), ladder)
	}
	if err == nil {
		return h.kit.Done(w, r, ladder.Name+" is saved.", ladderURL(ladder.Key))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	if f.Conflict {
		f.Set("seen", app.SeenLadder(present))
	}
	return h.ladderForm(w, r, f, present.Key)
}

// RemoveLadder removes an empty ladder.
func (h *Handler) RemoveLadder(w http.ResponseWriter, r *http.Request) error {
	ladder, err := h.ladder(r)
	if err != nil {
		return err
	}
	if err := h.app.RemoveLadder(r.Context(), kit.Actor(r), ladder.Key); err != nil {
		return err
	}
	return h.kit.Done(w, r, ladder.Name+" is removed.", "/ladders")
}

func (h *Handler) ladder(r *http.Request) (studio.Ladder, error) {
	shelf, key, err := h.shelf(r, "ladder")
	if err != nil {
		return studio.Ladder{}, err
	}
	ladder, ok := shelf.Ladder(key)
	if !ok {
		return studio.Ladder{}, studio.Missing()
	}
	return ladder, nil
}

func readLadder(values url.Values) (studio.Ladder, error) {
	r := &kit.Reader{Values: values}
	var families []string
	for _, f := range studio.Families() {
		families = append(families, string(f))
	}
	ladder := studio.Ladder{Name: r.Text("name", 80, true), Family: studio.Family(r.Choice("family", families...)), About: r.Text("about", 600, false)}
	return ladder, r.Err()
}

func (h *Handler) ladderForm(w http.ResponseWriter, r *http.Request, f form, key string) error {
	title, action, back := "Add a ladder", "/ladders/add", "/ladders"
	if key != "" {
		title, action, back = "Change a ladder", ladderURL(key)+"/edit", ladderURL(key)
	}
	return h.render(w, r, f, ladderFormPage(h.page(w, r, title, laddersCrumb), f, action, back))
}
