package pacing

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Showcase lists what a class shows.
func (h *Handler) Showcase(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	view, err := h.app.Showcase(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, view.ID, view.Class, "Showcase")
	page.Intro = "What this class shows, and who is ready for it. " + kit.Capital(view.DayIs) + " on " + view.Day.Format("Monday 2 January") + "."
	if len(view.Pieces) > 0 {
		page.Actions = kit.LinkButton(kit.Action{Label: "Add a piece", URL: showcaseURL(id) + "/new", Icon: "plus"})
	}
	return h.kit.Render(w, r, http.StatusOK, showcasePage(page, view))
}

func showcaseURL(class uuid.UUID) string { return "/classes/" + class.String() + "/showcase" }

func pieceURL(p studio.Piece) string { return showcaseURL(p.ClassID) + "/" + p.ID.String() }

// pieceFrame is the frame of each page of a piece, below the list.
func (h *Handler) pieceFrame(w http.ResponseWriter, r *http.Request, v app.PieceView, what string) kit.Page {
	page := h.page(w, r, v.ClassID, v.Class, what)
	page.Crumbs = append(page.Crumbs, kit.Crumb{Label: "Showcase", URL: showcaseURL(v.ClassID)})
	return page
}

// readPiece reads the class and the piece of the path, and the piece itself.
func (h *Handler) readPiece(r *http.Request) (app.PieceView, error) {
	class, err := kit.ID(r, "class")
	if err != nil {
		return app.PieceView{}, err
	}
	piece, err := kit.ID(r, "piece")
	if err != nil {
		return app.PieceView{}, err
	}
	if piece == uuid.Nil {
		return app.PieceView{}, studio.Missing()
	}
	return h.app.Piece(r.Context(), kit.Actor(r), class, piece)
}

// Piece shows where each child stands for a piece.
func (h *Handler) Piece(w http.ResponseWriter, r *http.Request) error {
	view, err := h.readPiece(r)
	if err != nil {
		return err
	}
	return h.renderPiece(w, r, view, refusal{status: http.StatusOK})
}

func (h *Handler) renderPiece(w http.ResponseWriter, r *http.Request, view app.PieceView, answer refusal) error {
	page := h.pieceFrame(w, r, view, view.Name)
	page.Heading = view.Name
	page.Intro = pieceIntro(view)
	page.Actions = pieceActions(view)
	return h.kit.Render(w, r, answer.status, piecePage(page, newPieceModel(view, answer.err)))
}

// PiecePrint is the list for the dressing room, on one sheet.
func (h *Handler) PiecePrint(w http.ResponseWriter, r *http.Request) error {
	view, err := h.readPiece(r)
	if err != nil {
		return err
	}
	page := h.pieceFrame(w, r, view, view.Name)
	page.Heading = view.Name + ": who does what"
	page.Intro = view.Class + ", " + view.Day.Format("Monday 2 January 2006") + "."
	page.Crumbs = []kit.Crumb{{Label: "the piece", URL: pieceURL(view.Piece)}}
	return h.kit.Render(w, r, http.StatusOK, pieceSheet(page, newPieceModel(view, nil)))
}

// pieceChange is a posted change of a piece, with the piece as it is.
type pieceChange struct {
	view app.PieceView
	on   app.PieceRef
	form *kit.Reader
}

func (h *Handler) readPieceChange(w http.ResponseWriter, r *http.Request) (pieceChange, error) {
	values, err := kit.Form(w, r)
	if err != nil {
		return pieceChange{}, err
	}
	c := pieceChange{form: &kit.Reader{Values: values}}
	if c.view, err = h.readPiece(r); err != nil {
		return c, err
	}
	version := c.form.Whole("version", 0, 1<<30)
	if len(c.form.Errors) > 0 {
		return c, studio.Missing()
	}
	c.on = app.PieceRef{Class: c.view.ClassID, Piece: c.view.ID, Version: version}
	return c, nil
}

// answerPiece ends a change: back to the piece with a sentence, or the piece again with what stands in the way.
func (h *Handler) answerPiece(w http.ResponseWriter, r *http.Request, c pieceChange, err error, sentence string) error {
	if err == nil {
		return h.kit.Done(w, r, sentence, pieceURL(c.view.Piece))
	}
	if no, ok := refused(err); ok {
		return h.renderPiece(w, r, c.view, no)
	}
	return err
}

// NewPiece is the form of a new piece.
func (h *Handler) NewPiece(w http.ResponseWriter, r *http.Request) error {
	return h.pieceForm(w, r, nil, http.StatusOK)
}

func (h *Handler) pieceForm(w http.ResponseWriter, r *http.Request, typed *kit.Reader, status int) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	view, err := h.app.Piece(r.Context(), kit.Actor(r), class, uuid.Nil)
	if err != nil {
		return err
	}
	page := h.pieceFrame(w, r, view, "A new piece")
	return h.kit.Render(w, r, status, pieceFormPage(page, newPieceForm(view, typed)))
}

// AddPiece keeps a new piece.
func (h *Handler) AddPiece(w http.ResponseWriter, r *http.Request) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := &kit.Reader{Values: values}
	p := readPieceFields(form)
	p.ClassID = class
	if len(form.Errors) > 0 {
		return h.pieceForm(w, r, form, http.StatusUnprocessableEntity)
	}
	id, err := h.app.AddPiece(r.Context(), kit.Actor(r), p, values["rung"])
	if err != nil {
		if form.Took(err) {
			return h.pieceForm(w, r, form, http.StatusUnprocessableEntity)
		}
		return err
	}
	return h.kit.Done(w, r, "The piece is kept.", showcaseURL(class)+"/"+id.String())
}

// readPieceFields reads the name, day and note of a piece.
func readPieceFields(form *kit.Reader) studio.Piece {
	p := studio.Piece{Name: form.Text("name", 80, true), Note: form.Text("note", 500, false)}
	if day := form.Date("on_day", false); !day.IsZero() {
		p.OnDay = &day
	}
	return p
}

// EditPiece is the form of a piece's name, day and note.
func (h *Handler) EditPiece(w http.ResponseWriter, r *http.Request) error {
	view, err := h.readPiece(r)
	if err != nil {
		return err
	}
	return h.renderEdit(w, r, view, nil, http.StatusOK)
}

func (h *Handler) renderEdit(w http.ResponseWriter, r *http.Request, view app.PieceView, typed *kit.Reader, status int) error {
	page := h.pieceFrame(w, r, view, "Edit "+view.Name)
	page.Crumbs = append(page.Crumbs, kit.Crumb{Label: view.Name, URL: pieceURL(view.Piece)})
	return h.kit.Render(w, r, status, pieceFormPage(page, newPieceForm(view, typed)))
}

// SavePiece keeps the name, day and note of a piece.
func (h *Handler) SavePiece(w http.ResponseWriter, r *http.Request) error {
	c, err := h.readPieceChange(w, r)
	if err != nil {
		return err
	}
	p := readPieceFields(c.form)
	if len(c.form.Errors) > 0 {
		return h.renderEdit(w, r, c.view, c.form, http.StatusUnprocessableEntity)
	}
	err = h.app.SavePiece(r.Context(), kit.Actor(r), c.on, p)
	if c.form.Took(err) {
		return h.renderEdit(w, r, c.view, c.form, http.StatusUnprocessableEntity)
	}
	return h.answerPiece(w, r, c, err, "Saved.")
}

// RemovePiece takes a piece away.
func (h *Handler) RemovePiece(w http.ResponseWriter, r *http.Request) error {
	c, err := h.readPieceChange(w, r)
	if err != nil {
		return err
	}
	if err := h.app.RemovePiece(r.Context(), kit.Actor(r), c.on); err != nil {
		return h.answerPiece(w, r, c, err, "")
	}
	return h.kit.Done(w, r, "The piece is taken away.", showcaseURL(c.view.ClassID))
}

// NewPart is the form of another part.
func (h *Handler) NewPart(w http.ResponseWriter, r *http.Request) error {
	view, err := h.readPiece(r)
	if err != nil {
		return err
	}
	return h.renderPart(w, r, view, studio.PiecePart{}, nil, http.StatusOK)
}

// PartPage is the form of a part.
func (h *Handler) PartPage(w http.ResponseWriter, r *http.Request) error {
	view, err := h.readPiece(r)
	if err != nil {
		return err
	}
	part, err := partOf(r, view)
	if err != nil {
		return err
	}
	return h.renderPart(w, r, view, *part, nil, http.StatusOK)
}

func partOf(r *http.Request, view app.PieceView) (*studio.PiecePart, error) {
	id, err := kit.ID(r, "part")
	if err != nil {
		return nil, err
	}
	if part := view.Part(id); part != nil {
		return part, nil
	}
	return nil, studio.Missing()
}

func (h *Handler) renderPart(w http.ResponseWriter, r *http.Request, view app.PieceView, part studio.PiecePart, typed *kit.Reader, status int) error {
	what := "Another part"
	if part.ID != uuid.Nil {
		what = "Part: " + part.Name
	}
	page := h.pieceFrame(w, r, view, what)
	page.Crumbs = append(page.Crumbs, kit.Crumb{Label: view.Name, URL: pieceURL(view.Piece)})
	return h.kit.Render(w, r, status, partFormPage(page, newPartForm(view, part, typed)))
}

// AddPart keeps another part.
func (h *Handler) AddPart(w http.ResponseWriter, r *http.Request) error {
	c, err := h.readPieceChange(w, r)
	if err != nil {
		return err
	}
	return h.keepPart(w, r, c, studio.PiecePart{})
}

// SavePart keeps a part.
func (h *Handler) SavePart(w http.ResponseWriter, r *http.Request) error {
	c, err := h.readPieceChange(w, r)
	if err != nil {
		return err
	}
	part, err := partOf(r, c.view)
	if err != nil {
		return err
	}
	return h.keepPart(w, r, c, *part)
}

func (h *Handler) keepPart(w http.ResponseWriter, r *http.Request, c pieceChange, part studio.PiecePart) error {
	to := studio.PiecePart{ID: part.ID, Name: c.form.Text("part", 60, true), Everybody: c.form.Tick("everybody"), Rungs: c.form.Values["rung"], Children: c.form.IDs("child")}
	if len(c.form.Errors) > 0 {
		return h.renderPart(w, r, c.view, part, c.form, http.StatusUnprocessableEntity)
	}
	slices.Sort(to.Rungs)
	to.Rungs = slices.Compact(to.Rungs)
	err := h.app.SavePart(r.Context(), kit.Actor(r), c.on, to)
	if c.form.Took(err) {
		return h.renderPart(w, r, c.view, part, c.form, http.StatusUnprocessableEntity)
	}
	return h.answerPiece(w, r, c, err, "The part is kept.")
}

// RemovePart takes a part out of a piece.
func (h *Handler) RemovePart(w http.ResponseWriter, r *http.Request) error {
	c, err := h.readPieceChange(w, r)
	if err != nil {
		return err
	}
	part, err := partOf(r, c.view)
	if err != nil {
		return err
	}
	err = h.app.RemovePart(r.Context(), kit.Actor(r), c.on, part.ID)
	return h.answerPiece(w, r, c, err, "The part is taken out.")
}

// AcceptSwap has a child do what is offered in place of a rung, or stand in the picture.
func (h *Handler) AcceptSwap(w http.ResponseWriter, r *http.Request) error {
	c, child, err := h.readSwap(w, r)
	if err != nil {
		return err
	}
	err = h.app.AcceptSwap(r.Context(), kit.Actor(r), c.on, child, c.form.Values.Get("rung"), c.form.Values.Get("instead"))
	return h.answerPiece(w, r, c, err, "Kept for this child.")
}

// UndoSwap has a child do the rung after all.
func (h *Handler) UndoSwap(w http.ResponseWriter, r *http.Request) error {
	c, child, err := h.readSwap(w, r)
	if err != nil {
		return err
	}
	err = h.app.UndoSwap(r.Context(), kit.Actor(r), c.on, child, c.form.Values.Get("rung"))
	return h.answerPiece(w, r, c, err, "Taken back: the child is down for the rung again.")
}

func (h *Handler) readSwap(w http.ResponseWriter, r *http.Request) (pieceChange, uuid.UUID, error) {
	c, err := h.readPieceChange(w, r)
	if err != nil {
		return c, uuid.Nil, err
	}
	children := c.form.IDs("child")
	if len(children) != 1 {
		return c, uuid.Nil, studio.Missing()
	}
	return c, children[0], nil
}

// pieceIntro says when a piece is and how much time is left.
func pieceIntro(v app.PieceView) string {
	day := v.Day.Format("Monday 2 January")
	if v.Over {
		return fmt.Sprintf("%s. The day was %s; below is where everybody stands now.", v.Class, day)
	}
	return fmt.Sprintf("%s. %s on %s, %s until then. %s.", v.Class, kit.Capital(v.DayIs), day, kit.Count(v.Lessons, "lesson", "lessons"), kit.Count(len(v.Children), "child", "children"))
}

func dayValue(day *time.Time) string {
	if day == nil {
		return ""
	}
	return day.Format(time.DateOnly)
}

func versionOf(p studio.Piece) string { return strconv.Itoa(p.Version) }
