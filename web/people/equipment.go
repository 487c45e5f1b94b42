package people

import (
	"net/http"
	"strings"

	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Equipment lists what the hall has.
func (h *Handler) Equipment(w http.ResponseWriter, r *http.Request) error {
	return h.equipmentPage(w, r, nil)
}

// equipmentLine is a kind of equipment in the form.
type equipmentLine struct{ Field, Name, Stock, RemoveURL string }

func (h *Handler) equipmentPage(w http.ResponseWriter, r *http.Request, typed *form) error {
	list, err := h.app.Equipment(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Equipment")
	page.Intro = "How many pieces the hall has. A lesson plan never needs more at once."
	f := form{Values: values()}
	if typed != nil {
		f = *typed
	}
	var lines []equipmentLine
	for _, e := range list {
		line := equipmentLine{Field: "stock-" + e.Key, Name: e.Name, Stock: itoa(e.Stock), RemoveURL: "/studio/equipment/" + e.Key + "/remove"}
		if f.Has(line.Field) {
			line.Stock = f.Get(line.Field)
		}
		lines = append(lines, line)
	}
	return h.show(w, r, f.status(), equipmentPage(page, lines, f))
}

// SaveStock saves how many there are of each kind.
func (h *Handler) SaveStock(w http.ResponseWriter, r *http.Request) error {
	known, err := h.app.Equipment(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	var changed []studio.Equipment
	return h.submit(w, r, func(f *kit.Reader) {
		for _, e := range known {
			if field := "stock-" + e.Key; f.Values.Has(field) { // what was added meanwhile is not in the form
				e.Stock = f.Whole(field, 0, 500)
				changed = append(changed, e)
			}
		}
	}, func() (done, error) {
		return done{"The equipment is saved.", "/studio/equipment"}, h.app.SaveEquipment(r.Context(), kit.Actor(r), changed...)
	}, func(f form) error { return h.equipmentPage(w, r, &f) })
}

// AddEquipment adds a kind.
func (h *Handler) AddEquipment(w http.ResponseWriter, r *http.Request) error {
	var e studio.Equipment
	return h.submit(w, r, func(f *kit.Reader) {
		e = studio.Equipment{Name: f.Text("name", 80, true), Stock: f.Whole("stock", 0, 500)}
		if e.Key = keyOf(e.Name); e.Key == "" && e.Name != "" {
			f.Refuse("name", "A name with plain letters or digits in it.")
		}
	}, func() (done, error) {
		return done{e.Name + " is added.", "/studio/equipment"}, h.app.AddEquipment(r.Context(), kit.Actor(r), e)
	}, func(f form) error { return h.equipmentPage(w, r, &f) })
}

// keyOf makes a key such as "panel-mat" of a name.
func keyOf(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	return strings.Join(words, "-")
}

// RemoveEquipment removes a kind that no rung or drill needs.
func (h *Handler) RemoveEquipment(w http.ResponseWriter, r *http.Request) error {
	key, err := kit.Key(r, "key")
	if err != nil {
		return err
	}
	return h.act(w, r, func(*kit.Reader) (done, error) {
		return done{"Removed.", "/studio/equipment"}, h.app.DeleteEquipment(r.Context(), kit.Actor(r), key)
	})
}
