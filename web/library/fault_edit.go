package library

import (
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// AddFaultPage asks for a new fault of a rung.
func (h *Handler) AddFaultPage(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	return h.faultForm(w, r, form{Values: url.Values{"seen": {app.Seen(rung.Rung)}}, Shelf: shelf}, rung, "")
}

// AddFault adds a fault.
func (h *Handler) AddFault(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	return h.saveFault(w, r, shelf, rung, "")
}

// EditFaultPage shows a fault with its causes in a form.
func (h *Handler) EditFaultPage(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, fault, err := h.shelfWithFault(r)
	if err != nil {
		return err
	}
	v := writeFault(fault)
	v.Set("seen", app.Seen(rung.Rung))
	return h.faultForm(w, r, form{Values: v, Shelf: shelf}, rung, fault.Key)
}

// EditFault changes a fault.
func (h *Handler) EditFault(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, fault, err := h.shelfWithFault(r)
	if err != nil {
		return err
	}
	return h.saveFault(w, r, shelf, rung, fault.Key)
}

// RemoveFault takes a fault off its rung.
func (h *Handler) RemoveFault(w http.ResponseWriter, r *http.Request) error {
	_, rung, fault, err := h.shelfWithFault(r)
	if err != nil {
		return err
	}
	if err := h.app.RemoveFault(r.Context(), kit.Actor(r), rung.Key, fault.Key); err != nil {
		return err
	}
	return h.kit.Done(w, r, "The fault “"+fault.Name+"” is removed. Marks that name it keep it.", rungURL(rung.Key)+"#faults")
}

func (h *Handler) shelfWithFault(r *http.Request) (app.Shelf, studio.RungPlace, studio.Fault, error) {
	shelf, rung, err := h.shelfWithRung(r)
	if err != nil {
		return shelf, rung, studio.Fault{}, err
	}
	key, err := kit.Key(r, "fault")
	if err != nil {
		return shelf, rung, studio.Fault{}, err
	}
	fault, ok := rung.Fault(key)
	if !ok {
		return shelf, rung, fault, studio.Missing()
	}
	return shelf, rung, fault, nil
}

func (h *Handler) saveFault(w http.ResponseWriter, r *http.Request, shelf app.Shelf, rung studio.RungPlace, key string) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values, Shelf: shelf}
	fault, err := readFault(f)
	fault.Key = key
	if err == nil {
		fault.Key, err = h.app.SaveFault(r.Context(), kit.Actor(r), rung.Key, values.Get("seen"), fault)
	}
	if err == nil {
		return h.kit.Done(w, r, "The fault “"+fault.Name+"” is saved.", rungURL(rung.Key)+"#fault-"+fault.Key)
	}
	if err := f.refused(err); err != nil {
		return err
	}
	if f.Conflict {
		f.Set("seen", app.Seen(rung.Rung))
	}
	return h.faultForm(w, r, f, rung, key)
}

func readFault(f form) (studio.Fault, error) {
	r := &kit.Reader{Values: f.Values}
	fault := studio.Fault{Name: r.Text("name", 160, true), Safety: r.Tick("safety")}
	for _, i := range f.rows("cause", 0) {
		if f.value(at("cause", i, "name"))+f.value(at("cause", i, "cue")) == "" {
			continue // an empty row, or one that was cleared to take the cause away
		}
		fault.Causes = append(fault.Causes, studio.Cause{
			Key:      f.value(at("cause", i, "key")),
			Name:     r.Text(at("cause", i, "name"), 160, true),
			Cue:      r.Text(at("cause", i, "cue"), 80, true),
			Strength: readTenths(r, at("cause", i, "tenths")),
			Drills:   chosen(f.Values[at("cause", i, "drill")]),
		})
	}
	return fault, r.Err()
}

// readTenths reads how often of ten times a cause shows as its fault, in halves.
func readTenths(r *kit.Reader, field string) float64 {
	n, err := strconv.ParseFloat(strings.TrimSpace(r.Values.Get(field)), 64)
	if err != nil || !(n >= 0.5 && n <= 10) {
		r.Refuse(field, "A number from 1 to 10, such as 6.")
		return 0
	}
	return math.Round(n*10) / 100
}

func chosen(values []string) []string {
	var keys []string
	for _, v := range values {
		if v != "" {
			keys = append(keys, v)
		}
	}
	return keys
}

func writeFault(fault studio.Fault) url.Values {
	v := url.Values{"name": {fault.Name}}
	tick(v, "safety", fault.Safety)
	for i, c := range fault.Causes {
		v.Set(at("cause", i, "key"), c.Key)
		v.Set(at("cause", i, "name"), c.Name)
		v.Set(at("cause", i, "cue"), c.Cue)
		v.Set(at("cause", i, "tenths"), tenths(c.Strength))
		v[at("cause", i, "drill")] = c.Drills
	}
	return v
}

func (h *Handler) faultForm(w http.ResponseWriter, r *http.Request, f form, rung studio.RungPlace, key string) error {
	title, action := "Add a fault to "+rung.Name, rungURL(rung.Key)+"/add-fault"
	if key != "" {
		title, action = "Change a fault of "+rung.Name, faultURL(rung.Key, key)
	}
	page := h.page(w, r, title, laddersCrumb, ladderCrumb(rung.Ladder), rungCrumb(rung))
	v := faultFormView{form: f, Action: action, Back: rungURL(rung.Key) + "#faults", Drills: drillChoices(f.Shelf, rung.Key)}
	if key != "" {
		v.RemoveURL = action + "/remove"
	}
	return h.render(w, r, f, faultFormPage(page, v))
}

// faultFormView is the form of a fault.
type faultFormView struct {
	form
	Action, Back, RemoveURL string
	Drills                  []kit.Choice
}

// drillsOf gives the selects for the drills of a cause: those chosen, two at least.
func (v faultFormView) drillsOf(row int) []string {
	drills := chosen(v.Values[at("cause", row, "drill")])
	for len(drills) < 2 {
		drills = append(drills, "")
	}
	return drills
}

// drillChoices offers all drills, those that prepare the rung first.
func drillChoices(shelf app.Shelf, rung string) []kit.Choice {
	var first, rest []kit.Choice
	for _, d := range shelf.Drills {
		choice := kit.Choice{Value: d.Key, Label: d.Name + " (" + string(d.Kind) + ")"}
		if slices.Contains(d.Prepares, rung) {
			first = append(first, choice)
		} else {
			rest = append(rest, choice)
		}
	}
	return append(first, rest...)
}
