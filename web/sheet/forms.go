package sheet

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Item takes one item from a form: the class sheet without scripts.
func (h *Handler) Item(w http.ResponseWriter, r *http.Request) error {
	lesson, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	item, err := formItem(lesson, form)
	if err != nil {
		return err
	}
	if _, err := h.app.Sheet(r.Context(), kit.Actor(r), lesson); err != nil { // whoever does not run it now has no such page
		return err
	}
	receipt, err := h.app.TakeItems(r.Context(), kit.Actor(r), []studio.SheetItem{item})
	if err != nil {
		return err
	}
	answer := receipt.Answers[0]
	words := answer.Words
	if answer.Answer == studio.ItemStored || answer.Answer == studio.ItemDuplicate && answer.Was == studio.ItemStored {
		words = told(item)
	}
	return h.kit.Done(w, r, words, back(lesson, form))
}

// formItem makes an item of a form. Its id comes with the form, so that sending it twice counts once.
func formItem(lesson uuid.UUID, form url.Values) (studio.SheetItem, error) {
	fields := map[string]any{"lesson": lesson.String(), "device": "page"}
	for _, name := range []string{"id", "kind", "child", "staff", "rung", "side", "outcome", "text", "replaces"} {
		fields[name] = form.Get(name)
	}
	if form.Get("id") == "" {
		fresh, err := uuid.NewV7()
		if err != nil {
			return studio.SheetItem{}, err
		}
		fields["id"] = fresh.String()
	}
	fields["faults"] = form["fault"]
	if present := form.Get("present"); present != "" {
		fields["present"] = present == "yes"
	}
	raw, err := json.Marshal(fields)
	return studio.ReadItem(raw), err
}

func told(i studio.SheetItem) string {
	switch i.Kind {
	case studio.MarkItem:
		return "Marked: " + string(i.Outcome) + "."
	case studio.StrikeItem:
		return "Taken back: that mark does not count."
	case studio.NoteItem:
		return "Note kept."
	}
	if i.Present != nil && *i.Present {
		return "Noted: here."
	}
	return "Noted: away."
}

// back is the class sheet, at the place from which the form came.
func back(lesson uuid.UUID, form url.Values) string {
	to := "/lessons/" + lesson.String() + "/sheet"
	if at := form.Get("back"); len(at) < 200 && (strings.HasPrefix(at, "?") || strings.HasPrefix(at, "#")) && !strings.ContainsAny(at, "\r\n") {
		to += at
	}
	return to
}

// Clock starts, pauses, moves or sets the rotation clock; the answer is JSON for scripts.
func (h *Handler) Clock(w http.ResponseWriter, r *http.Request) error {
	lesson, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	face, err := h.app.TurnClock(r.Context(), kit.Actor(r), lesson, orderOf(form))
	if !kit.WantsJSON(r) {
		if err != nil {
			return err
		}
		return h.kit.Done(w, r, "The clock is "+face.State()+", in rotation "+strconv.Itoa(face.Rotation)+".", back(lesson, form))
	}
	answer := map[string]any{"clock": newClockJSON(face.Clock), "now": face.Now.UnixMilli()}
	if studio.CodeOf(err) == studio.Conflict {
		h.kit.FailJSON(w, r, 0, err, answer)
		return nil
	}
	if err != nil {
		return err
	}
	return kit.WriteJSON(w, http.StatusOK, answer)
}

// orderOf reads an order; one that makes no sense is refused by the clock.
func orderOf(form url.Values) studio.ClockOrder {
	number := func(name string) int64 {
		n, err := strconv.ParseInt(form.Get(name), 10, 64)
		if err != nil {
			return -1
		}
		return n
	}
	const longest = 24 * 3600 * 1000
	return studio.ClockOrder{Do: form.Get("do"), Version: int(number("version")), Rotation: int(min(number("rotation"), 6)), Running: form.Get("state") == "running",
		Elapsed: time.Duration(min(number("elapsed"), longest)) * time.Millisecond}
}
