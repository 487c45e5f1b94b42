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

// AddDrillPage asks for a new drill.
func (h *Handler) AddDrillPage(w http.ResponseWriter, r *http.Request) error {
	shelf, err := h.app.Shelf(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	v := url.Values{"turn_seconds": {"30"}, "dose.sets": {"2"}, "dose.repeats": {"5"}, "dose.hold_seconds": {"0"}}
	writeLoad(v, studio.Load{})
	writeSpotting(v, studio.Spotting{Manner: studio.NoSpotting})
	return h.drillForm(w, r, form{Values: v, Shelf: shelf}, studio.Drill{})
}

// AddDrill adds a drill.
func (h *Handler) AddDrill(w http.ResponseWriter, r *http.Request) error {
	shelf, err := h.app.Shelf(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values, Shelf: shelf}
	drill, err := readDrill(f)
	if err == nil {
		drill.Key, err = h.app.AddDrill(r.Context(), kit.Actor(r), drill)
	}
	if err == nil {
		return h.kit.Done(w, r, drill.Name+" is added.", drillURL(drill.Key))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	return h.drillForm(w, r, f, studio.Drill{})
}

// EditDrillPage shows a drill in a form.
func (h *Handler) EditDrillPage(w http.ResponseWriter, r *http.Request) error {
	shelf, drill, err := h.shelfWithDrill(r)
	if err != nil {
		return err
	}
	v := writeDrill(drill)
	v.Set("seen", app.Seen(drill))
	return h.drillForm(w, r, form{Values: v, Shelf: shelf}, drill)
}

// EditDrill changes a drill.
func (h *Handler) EditDrill(w http.ResponseWriter, r *http.Request) error {
	shelf, present, err := h.shelfWithDrill(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values, Shelf: shelf}
	drill, err := readDrill(f)
	drill.Key = present.Key
	if err == nil {
		err = h.app.EditDrill(r.Context(), kit.Actor(r), values.Get("seen"), drill)
	}
	if err == nil {
		return h.kit.Done(w, r, drill.Name+" is saved.", drillURL(drill.Key))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	if f.Conflict {
		f.Set("seen", app.Seen(present))
	}
	return h.drillForm(w, r, f, present)
}

// RemoveDrill removes a drill that nothing uses.
func (h *Handler) RemoveDrill(w http.ResponseWriter, r *http.Request) error {
	_, drill, err := h.shelfWithDrill(r)
	if err != nil {
		return err
	}
	err = h.app.RemoveDrill(r.Context(), kit.Actor(r), drill.Key)
	if studio.CodeOf(err) == studio.Conflict {
		return h.keptPage(w, r, err, drill.Name, drillURL(drill.Key), laddersCrumb, drillsCrumb)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, drill.Name+" is removed.", "/drills")
}

func (h *Handler) shelfWithDrill(r *http.Request) (app.Shelf, studio.Drill, error) {
	shelf, key, err := h.shelf(r, "drill")
	if err != nil {
		return shelf, studio.Drill{}, err
	}
	drill, ok := shelf.Drill(key)
	if !ok {
		return shelf, drill, studio.Missing()
	}
	return shelf, drill, nil
}

func readDrill(f form) (studio.Drill, error) {
	r := &kit.Reader{Values: f.Values}
	var kinds []string
	for _, k := range studio.DrillKinds() {
		kinds = append(kinds, string(k))
	}
	drill := studio.Drill{
		Name: r.Text("name", 120, true), Kind: studio.DrillKind(r.Choice("kind", kinds...)), Figure: readFigure(r), Steps: textLines(r, "steps", 8, 300, true),
		Prepares: f.Values["prepares"], TurnSeconds: r.Whole("turn_seconds", 5, 180), Load: readLoad(r), Equipment: readEquipment(r, f),
		Spotting: readSpotting(r), Space: r.Text("space", 300, false), Caution: r.Text("caution", 400, false),
		Dose:     studio.Dose{Sets: r.Whole("dose.sets", 1, 10), Repeats: r.Whole("dose.repeats", 1, 50), HoldSeconds: r.Whole("dose.hold_seconds", 0, 300)},
		TwoSided: r.Tick("two_sided"), Inverted: r.Tick("inverted"), BackBend: r.Tick("back_bend"), Flight: r.Tick("flight"),
		Partner: r.Tick("partner"), Home: readHome(r),
	}
	drill.Home.Adult = r.Tick("home.adult")
	return drill, r.Err()
}

func writeDrill(d studio.Drill) url.Values {
	v := url.Values{"name": {d.Name}, "kind": {string(d.Kind)}, "steps": {strings.Join(d.Steps, "\n")}, "prepares": d.Prepares,
		"turn_seconds": {strconv.Itoa(d.TurnSeconds)}, "space": {d.Space}, "caution": {d.Caution}, "dose.sets": {strconv.Itoa(d.Dose.Sets)},
		"dose.repeats": {strconv.Itoa(d.Dose.Repeats)}, "dose.hold_seconds": {strconv.Itoa(d.Dose.HoldSeconds)}}
	writeFigure(v, d.Figure)
	writeSpotting(v, d.Spotting)
	writeEquipment(v, d.Equipment)
	writeLoad(v, d.Load)
	writeHome(v, d.Home)
	tick(v, "home.adult", d.Home.Adult)
	tick(v, "two_sided", d.TwoSided)
	tick(v, "inverted", d.Inverted)
	tick(v, "back_bend", d.BackBend)
	tick(v, "flight", d.Flight)
	tick(v, "partner", d.Partner)
	return v
}

func (h *Handler) drillForm(w http.ResponseWriter, r *http.Request, f form, drill studio.Drill) error {
	title, crumbs := "Add a drill", []kit.Crumb{laddersCrumb, drillsCrumb}
	v := drillFormView{form: f, Action: "/drills/add", Back: "/drills", Prepares: needsChoices(f, "prepares", "")}
	if drill.Key != "" {
		title, crumbs = "Change "+drill.Name, append(crumbs, kit.Crumb{Label: drill.Name, URL: drillURL(drill.Key)})
		v.Action, v.Back = drillURL(drill.Key)+"/edit", drillURL(drill.Key)
	}
	return h.render(w, r, f, drillFormPage(h.page(w, r, title, crumbs...), v))
}

// drillFormView is the form of a drill.
type drillFormView struct {
	form
	Action, Back string
	Prepares     []needsOf
}
