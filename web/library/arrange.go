package library

import (
	"net/http"
	"slices"
	"strings"

	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// ArrangePage lists the ladders with buttons to move each among those of its family.
func (h *Handler) ArrangePage(w http.ResponseWriter, r *http.Request) error {
	shelf, err := h.app.Shelf(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Arrange the ladders", laddersCrumb)
	page.Intro = "Ladders stand by family; within a family you choose the order."
	return h.kit.Render(w, r, http.StatusOK, arrangePage(page, newLaddersView(shelf, true)))
}

// Arrange moves one ladder earlier or later.
func (h *Handler) Arrange(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	steps := 1
	if values.Get("way") == "up" {
		steps = -1
	}
	if err := h.app.MoveLadder(r.Context(), kit.Actor(r), values.Get("ladder"), steps); err != nil {
		return err
	}
	http.Redirect(w, r, "/ladders/arrange", http.StatusSeeOther)
	return nil
}

// ArrangeRungsPage lists the rungs of a ladder with buttons to move each.
func (h *Handler) ArrangeRungsPage(w http.ResponseWriter, r *http.Request) error {
	ladder, err := h.ladder(r)
	if err != nil {
		return err
	}
	page := h.page(w, r, "Arrange the rungs of "+ladder.Name, laddersCrumb, ladderCrumb(ladder))
	page.Intro = "The top rung stands first. What a rung needs first is set on its own page and does not change here."
	rungs := slices.Clone(ladder.Rungs)
	slices.Reverse(rungs)
	var lines []link
	for _, rung := range rungs {
		lines = append(lines, link{Label: rung.Name, Note: rung.Key, URL: rungURL(rung.Key)})
	}
	return h.kit.Render(w, r, http.StatusOK, arrangeRungsPage(page, ladder.Key, lines))
}

// ArrangeRungs moves one rung a step up or down its ladder.
func (h *Handler) ArrangeRungs(w http.ResponseWriter, r *http.Request) error {
	ladder, err := h.ladder(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	key, step := values.Get("rung"), -1
	if values.Get("way") == "up" {
		step = 1
	}
	above, ok := stepped(ladder, key, step)
	if ok {
		if err := h.app.MoveRung(r.Context(), kit.Actor(r), key, ladder.Key, above); err != nil {
			return err
		}
	}
	http.Redirect(w, r, ladderURL(ladder.Key)+"/arrange", http.StatusSeeOther)
	return nil
}

// stepped is the rung above which a rung stands after a step up or down, or "" at the bottom; false where there is no such step.
func stepped(l studio.Ladder, key string, step int) (above string, ok bool) {
	from := l.IndexOf(key)
	to := from + step
	if from < 0 || to < 0 || to >= len(l.Rungs) {
		return "", false
	}
	if step > 0 {
		return l.Rungs[to].Key, true
	}
	if to == 0 {
		return "", true
	}
	return l.Rungs[to-1].Key, true
}

// MovePage asks onto which ladder, and where, a rung should go.
func (h *Handler) MovePage(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	f := form{Values: map[string][]string{}, Shelf: shelf}
	if rung.Index > 0 {
		f.Set("place", rung.Ladder.Key+"/"+rung.Ladder.Rungs[rung.Index-1].Key)
	} else {
		f.Set("place", rung.Ladder.Key+"/")
	}
	return h.moveForm(w, r, f, rung)
}

// Move puts a rung onto a ladder.
func (h *Handler) Move(w http.ResponseWriter, r *http.Request) error {
	shelf, rung, err := h.shelfWithRung(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := form{Values: values, Shelf: shelf}
	ladder, above, _ := strings.Cut(values.Get("place"), "/")
	err = h.app.MoveRung(r.Context(), kit.Actor(r), rung.Key, ladder, above)
	if err == nil {
		return h.kit.Done(w, r, rung.Name+" is moved.", ladderURL(ladder))
	}
	if err := f.refused(err); err != nil {
		return err
	}
	return h.moveForm(w, r, f, rung)
}

func (h *Handler) moveForm(w http.ResponseWriter, r *http.Request, f form, rung studio.RungPlace) error {
	var places []kit.Choice
	for _, l := range f.Shelf.Ladders {
		for _, p := range placesOn(l, rung.Key) {
			places = append(places, kit.Choice{Value: l.Key + "/" + p.Value, Label: l.Name + ": " + strings.ToLower(p.Label[:1]) + p.Label[1:]})
		}
	}
	page := h.page(w, r, "Move "+rung.Name, laddersCrumb, ladderCrumb(rung.Ladder), rungCrumb(rung))
	return h.render(w, r, f, movePage(page, f, rungURL(rung.Key)+"/move", rungURL(rung.Key), places))
}
