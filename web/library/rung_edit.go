package library

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// AddRungPage asks for a new rung of a ladder; it goes to the top unless somebody says otherwise.
func (h *Handler) AddRungPage(w http.ResponseWriter, r *http.Request) error {
	shelf, ladder, err := h.shelfWithLadder(r)
	if err != nil {
		return err
	}
	v := url.Values{"turn_seconds": {"30"}}
	writeLoad(v, studio.Load{})
	writeSpotting(v, studio.Spotting{Manner: studio.NoSpotting})
	if n := len(ladder.Rungs); n > 0 {
		v.Set("above", ladder.Rungs[n-1].Key)
		v.Set("needs", ladder.Rungs[n-1].Key)
	}
	return h.addRungForm(w, r, form{Values: v, Shelf: shelf}, ladder)
}

// AddRung adds a rung.
func (h *Handler) AddRung(w http.ResponseWriter, r *http.Request) error {
	shelf, ladder, err := h.shelfWithLadder(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values, Shelf: shelf}
	rung, err := readRung(f)
	if err == nil {
		rung.Key, err = h.app.AddRung(r.Context(), kit.Actor(r), ladder.Key, values.Get("above"), rung)
	}
	if err == nil {
		return h.kit.Done(w, r, rung.Name+" is added. Now say what goes wrong there: add its faults.", rungURL(rung.Key))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	return h.addRungForm(w, r, f, ladder)
}

// EditRungPage shows a rung in a form.
func (h *Handler) EditRungPage(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	v := writeRung(rung.Rung)
	v.Set("seen", app.Seen(rung.Rung))
	return h.editRungForm(w, r, form{Values: v, Shelf: shelf}, rung)
}

// EditRung changes a rung but for its faults and its place.
func (h *Handler) EditRung(w http.ResponseWriter, r *http.Request) error {
	shelf, present, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values, Shelf: shelf}
	rung, err := readRung(f)
	rung.Key = present.Key
	if err == nil {
		err = h.app.EditRung(r.Context(), kit.Actor(r), values.Get("seen"), rung)
	}
	if err == nil {
		return h.kit.Done(w, r, rung.Name+" is saved.", rungURL(rung.Key))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	if f.Conflict {
		f.Set("seen", app.Seen(present.Rung))
	}
	return h.editRungForm(w, r, f, present)
}

// RemoveRung removes a rung that nothing uses.
func (h *Handler) RemoveRung(w http.ResponseWriter, r *http.Request) error {
	_, rung, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	err = h.app.RemoveRung(r.Context(), kit.Actor(r), rung.Key)
	if studio.CodeOf(err) == studio.Conflict {
		return h.keptPage(w, r, err, rung.Name, rungURL(rung.Key), laddersCrumb, ladderCrumb(rung.Ladder), rungCrumb(rung))
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, rung.Name+" is removed.", ladderURL(rung.Ladder.Key))
}

func (h *Handler) shelfWithLadder(r *http.Request) (app.Shelf, studio.Ladder, error) {
	shelf, key, err := h.shelf(r, "ladder")
	if err != nil {
		return shelf, studio.Ladder{}, err
	}
	ladder, ok := shelf.Ladder(key)
	if !ok {
		return shelf, ladder, studio.Missing()
	}
	return shelf, ladder, nil
}

func (h *Handler) shelfWithRung(r *http.Request) (app.Shelf, studio.RungPlace, error) {
	shelf, key, err := h.shelf(r, "rung")
	if err != nil {
		return shelf, studio.RungPlace{}, err
	}
	rung, ok := shelf.Rung(key)
	if !ok {
		return shelf, rung, studio.Missing()
	}
	return shelf, rung, nil
}

func readRung(f form) (studio.Rung, error) {
	r := &kit.Reader{Values: f.Values}
	rung := studio.Rung{
		Name: r.Text("name", 120, true), Start: r.Text("start", 400, false), Finish: r.Text("finish", 400, false),
		Figure: readFigure(r), Look: textLines(r, "look", 8, 160, false), Needs: f.Values["needs"], Spotting: readSpotting(r), Equipment: readEquipment(r, f),
		TurnSeconds: r.Whole("turn_seconds", 5, 180), Load: readLoad(r), TwoSided: r.Tick("two_sided"), Inverted: r.Tick("inverted"),
		BackBend: r.Tick("back_bend"), Flight: r.Tick("flight"), Home: readHome(r), Caution: r.Text("caution", 400, false),
	}
	return rung, r.Err()
}

func writeRung(r studio.Rung) url.Values {
	v := url.Values{"name": {r.Name}, "start": {r.Start}, "finish": {r.Finish}, "look": {strings.Join(r.Look, "\n")}, "needs": r.Needs,
		"turn_seconds": {strconv.Itoa(r.TurnSeconds)}, "caution": {r.Caution}}
	writeFigure(v, r.Figure)
	writeSpotting(v, r.Spotting)
	writeEquipment(v, r.Equipment)
	writeLoad(v, r.Load)
	writeHome(v, r.Home)
	tick(v, "two_sided", r.TwoSided)
	tick(v, "inverted", r.Inverted)
	tick(v, "back_bend", r.BackBend)
	tick(v, "flight", r.Flight)
	return v
}

func (h *Handler) addRungForm(w http.ResponseWriter, r *http.Request, f form, ladder studio.Ladder) error {
	page := h.page(w, r, "Add a rung to "+ladder.Name, laddersCrumb, ladderCrumb(ladder))
	v := rungFormView{form: f, Action: ladderURL(ladder.Key) + "/add-rung", Back: ladderURL(ladder.Key), Places: placesOn(ladder, ""), Needs: needsChoices(f, "needs", "")}
	return h.render(w, r, f, rungFormPage(page, v))
}

func (h *Handler) editRungForm(w http.ResponseWriter, r *http.Request, f form, rung studio.RungPlace) error {
	page := h.page(w, r, "Change "+rung.Name, laddersCrumb, ladderCrumb(rung.Ladder), rungCrumb(rung))
	v := rungFormView{form: f, Action: rungURL(rung.Key) + "/edit", Back: rungURL(rung.Key), Needs: needsChoices(f, "needs", rung.Key)}
	return h.render(w, r, f, rungFormPage(page, v))
}

// keptPage says why something was not removed.
func (h *Handler) keptPage(w http.ResponseWriter, r *http.Request, err error, name, back string, crumbs ...kit.Crumb) error {
	f := form{}
	if err := f.refused(err); err != nil {
		return err
	}
	return h.render(w, r, f, keptPage(h.page(w, r, name+" was kept", crumbs...), f.Problem, back))
}

// rungFormView is the form of a rung. Places is empty where the rung has its place already.
type rungFormView struct {
	form
	Action, Back string
	Places       []kit.Choice
	Needs        []needsOf
}

// needsOf are the rungs of one ladder to choose from.
type needsOf struct {
	Ladder string
	Open   bool // some are chosen
	Field  kit.ChoiceField
}

// needsChoices offers every rung but one, by ladder.
func needsChoices(f form, field, but string) []needsOf {
	var groups []needsOf
	for _, l := range f.Shelf.Ladders {
		group := needsOf{Ladder: l.Name, Field: kit.ChoiceField{ID: kit.FieldID(field + "-" + l.Key), Name: field, Label: "Rungs of " + l.Name, Values: f.Values[field]}}
		chosen := 0
		for _, r := range l.Rungs {
			if r.Key == but {
				continue
			}
			group.Field.Choices = append(group.Field.Choices, kit.Choice{Value: r.Key, Label: r.Name})
			for _, v := range f.Values[field] {
				if v == r.Key {
					chosen++
				}
			}
		}
		if chosen > 0 {
			group.Open, group.Ladder = true, l.Name+" ("+strconv.Itoa(chosen)+" chosen)"
		}
		if len(group.Field.Choices) > 0 {
			groups = append(groups, group)
		}
	}
	return groups
}

// placesOn are the places on a ladder: at the bottom, or above a rung.
func placesOn(l studio.Ladder, but string) []kit.Choice {
	choices := []kit.Choice{{Value: "", Label: "At the bottom"}}
	for _, r := range l.Rungs {
		if r.Key != but {
			choices = append(choices, kit.Choice{Value: r.Key, Label: "Right above " + r.Name})
		}
	}
	return choices
}
