package lesson

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// blockKinds are the parts of a lesson in their order, and the kind of drill that fills each.
var blockKinds = []struct {
	kind   studio.BlockKind
	drills studio.DrillKind
}{
	{studio.ArriveBlock, ""},
	{studio.WarmUpBlock, studio.WarmUp},
	{studio.ConditioningBlock, studio.Conditioning},
	{studio.StationsBlock, ""},
	{studio.CoolDownBlock, studio.CoolDown},
}

// mostMinutes is the longest that a part of a lesson may be.
const mostMinutes = 120

// Blocks shows the parts of a lesson for changes.
func (h *Handler) Blocks(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	return h.blocksPage(w, r, id, http.StatusOK, nil, nil)
}

// KeepBlocks writes the parts of a lesson.
func (h *Handler) KeepBlocks(w http.ResponseWriter, r *http.Request) error {
	id, form, err := posted(w, r)
	if err != nil {
		return err
	}
	blocks := readBlocks(form)
	err = form.Err()
	if err == nil {
		err = h.app.KeepBlocks(r.Context(), kit.Actor(r), id, blocks)
	}
	var no *studio.Error
	if errors.As(err, &no) && no.Code == studio.Invalid {
		return h.blocksPage(w, r, id, http.StatusUnprocessableEntity, form.Values, no)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The times and drills are kept. Propose the plan again if the stations are longer or shorter now.", "/lessons/"+id.String())
}

// readBlocks reads the parts that have time; a part of 0 minutes is left out.
func readBlocks(form *kit.Reader) []studio.Block {
	var blocks []studio.Block
	for _, k := range blockKinds {
		b := studio.Block{Position: len(blocks) + 1, Kind: k.kind, Minutes: form.Whole(minutesField(k.kind), 0, mostMinutes)}
		if k.drills != "" {
			b.Drills = slices.Clone(form.Values[drillsField(k.kind)])
		}
		if b.Minutes > 0 {
			blocks = append(blocks, b)
		}
	}
	return blocks
}

func minutesField(k studio.BlockKind) string { return "minutes-" + string(k) }
func drillsField(k studio.BlockKind) string  { return "drills-" + string(k) }

// blocksView is the form of a lesson's parts.
type blocksView struct {
	URL     string
	Minutes int
	Parts   []partView
	Errors  []kit.FieldError
}

// partView is a part of the lesson on the form.
type partView struct {
	Minutes kit.Field
	Drills  *kit.ChoiceField
	Chosen  string
}

func (h *Handler) blocksPage(w http.ResponseWriter, r *http.Request, id uuid.UUID, status int, typed url.Values, no *studio.Error) error {
	sheet, err := h.app.Lesson(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	library, err := h.app.Library(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	if typed == nil {
		typed = keptBlocks(sheet)
	}
	page := h.kit.Page(w, r, "Times and drills", kit.SectionClasses)
	page.Intro = fmt.Sprintf("%s, %s: %d minutes to share out.", sheet.Class.Name, sheet.Lesson.StartsAt.Format(day), sheet.Lesson.Minutes)
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: sheet.Class.Name, URL: "/classes/" + sheet.Class.ID.String()},
		{Label: "Lesson", URL: lessonURL(sheet.Lesson)}}
	return h.kit.Render(w, r, status, blocksPage(page, newBlocksView(sheet, library.Drills, typed, no)))
}

// keptBlocks are the parts as the form would send them.
func keptBlocks(s app.LessonSheet) url.Values {
	minutes, kept := map[studio.BlockKind]int{}, url.Values{}
	for _, b := range s.Blocks {
		minutes[b.Kind] += b.Minutes
		kept[drillsField(b.Kind)] = append(kept[drillsField(b.Kind)], b.Drills...)
	}
	for _, k := range blockKinds {
		kept.Set(minutesField(k.kind), strconv.Itoa(minutes[k.kind]))
	}
	return kept
}

func newBlocksView(s app.LessonSheet, drills []studio.Drill, typed url.Values, no *studio.Error) blocksView {
	v := blocksView{URL: lessonURL(s.Lesson), Minutes: s.Lesson.Minutes}
	for _, k := range blockKinds {
		name := minutesField(k.kind)
		part := partView{Minutes: kit.Field{Name: name, Label: blockNames[k.kind], Type: "number", Value: typed.Get(name), Unit: "minutes",
			Min: "0", Max: strconv.Itoa(mostMinutes), Short: true, Required: true, Error: problemOf(no, name)}}
		if k.kind == studio.StationsBlock && part.Minutes.Error == "" {
			part.Minutes.Error = problemOf(no, "stations")
		}
		if k.drills != "" {
			part.Drills = drillChoice(k.kind, k.drills, drills, typed)
			part.Chosen = kit.Count(len(part.Drills.Values), "drill", "drills") + " chosen"
		}
		v.Parts = append(v.Parts, part)
	}
	if no != nil {
		v.Errors = blockErrors(no)
	}
	return v
}

func problemOf(no *studio.Error, field string) string {
	if no == nil {
		return ""
	}
	return no.Problem(field)
}

// blockErrors leads from each problem to its field; that of the sum leads to the first.
func blockErrors(no *studio.Error) []kit.FieldError {
	var lines []kit.FieldError
	for _, f := range no.Fields {
		field := f.Field
		switch field {
		case "minutes":
			field = minutesField(studio.ArriveBlock)
		case "stations":
			field = minutesField(studio.StationsBlock)
		}
		lines = append(lines, kit.FieldError{ID: kit.FieldID(field), Text: f.Problem})
	}
	return lines
}

func drillChoice(block studio.BlockKind, kind studio.DrillKind, drills []studio.Drill, typed url.Values) *kit.ChoiceField {
	c := &kit.ChoiceField{Name: drillsField(block), Label: "Drills for " + string(block), Values: typed[drillsField(block)]}
	for _, d := range drills {
		if d.Kind == kind {
			c.Choices = append(c.Choices, kit.Choice{Value: d.Key, Label: d.Name, Hint: dose(d.Dose)})
		}
	}
	return c
}

func dose(d studio.Dose) string {
	switch {
	case d.Sets == 0:
		return ""
	case d.HoldSeconds > 0:
		return fmt.Sprintf("%s of %d, held for %d s", kit.Count(d.Sets, "set", "sets"), d.Repeats, d.HoldSeconds)
	}
	return fmt.Sprintf("%s of %d", kit.Count(d.Sets, "set", "sets"), d.Repeats)
}
