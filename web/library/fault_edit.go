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
	v := writeFault(withWhole(rung.Rung, fault))
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
	if err == nil && values.Get("preview") != "" {
		f.Shown = &fault
		return h.faultForm(w, r, f, rung, key)
	}
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
			Prior:    readPrior(r, at("cause", i, "before")),
			LeadsTo:  chosen(f.Values[at("cause", i, "leads")]),
			LookFor:  r.Text(at("cause", i, "look"), 200, false),
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

// readPrior reads how many of ten children have a cause before anything is seen; nothing is the program's guess.
func readPrior(r *kit.Reader, field string) float64 {
	text := strings.TrimSpace(r.Values.Get(field))
	if text == "" {
		return 0
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(n >= 0.1 && n <= 9.9) {
		r.Refuse(field, "A number above 0 and below 10, such as 2, or nothing.")
		return 0
	}
	return math.Round(n*10) / 100
}

// withWhole is a fault whose causes say what counts of them on the rung.
func withWhole(rung studio.Rung, fault studio.Fault) studio.Fault {
	fault.Causes = slices.Clone(fault.Causes)
	for i, c := range fault.Causes {
		for _, whole := range app.CausesOf(rung) {
			if whole.Key == c.Key {
				fault.Causes[i].Prior, fault.Causes[i].LeadsTo, fault.Causes[i].LookFor = whole.Prior, whole.LeadsTo, whole.LookFor
			}
		}
	}
	return fault
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
		if c.Prior > 0 {
			v.Set(at("cause", i, "before"), tenths(c.Prior))
		}
		v[at("cause", i, "leads")] = c.LeadsTo
		v.Set(at("cause", i, "look"), c.LookFor)
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
	for _, c := range app.CausesOf(rung.Rung) {
		v.Causes = append(v.Causes, kit.Choice{Value: c.Key, Label: c.Name})
	}
	v.Example = exampleTable(rung, key, f.Shown)
	return h.render(w, r, f, faultFormPage(page, v))
}

// faultFormView is the form of a fault.
type faultFormView struct {
	form
	Action, Back, RemoveURL string
	Drills                  []kit.Choice
	Causes                  []kit.Choice // of the rung
	Example                 kit.TableView
}

// exampleTable shows what the numbers of a fault come to: as they are kept, and as they were typed when shown is not nil.
func exampleTable(rung studio.RungPlace, key string, shown *studio.Fault) kit.TableView {
	t := kit.TableView{Caption: app.ExampleWords(), Columns: []kit.Column{{Label: "Cause"}, {Label: "How likely then"}, {Label: "What is said"}, {Label: "Numbers"}}}
	add := func(fault studio.Fault, which string) {
		shares, _ := app.CueExample(rung.Rung, fault)
		for _, s := range shares {
			cue := "nothing"
			if s.Cue != "" {
				cue = "“" + s.Cue + "”"
			}
			t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(s.Name), kit.Text(s.Chance), kit.Text(cue), kit.Text(which)}})
		}
	}
	if kept, ok := rung.Fault(key); ok {
		add(kept, "as they are kept")
	}
	if shown != nil {
		add(*shown, "as you typed them")
	}
	return t
}

// leads offers the other causes of the rung for a cause to lead to.
func (v faultFormView) leads(row int) kit.ChoiceField {
	own := v.value(at("cause", row, "key"))
	field := kit.ChoiceField{Name: at("cause", row, "leads"), Label: "Brings about", Hint: "It is corrected before those.", Values: v.Values[at("cause", row, "leads")]}
	for _, c := range v.Causes {
		if c.Value != own {
			field.Choices = append(field.Choices, c)
		}
	}
	return field
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

// tells reports whether anything is said of how to tell a cause from others, or is wrong with it.
func (v faultFormView) tells(row int) bool {
	return v.value(at("cause", row, "look"))+v.value(at("cause", row, "before")) != "" || len(v.Values[at("cause", row, "leads")]) > 0
}
