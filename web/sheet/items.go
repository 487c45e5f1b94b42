package sheet

import (
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// batchLimit bounds the bytes of a batch.
const batchLimit = 256 << 10

// answersJSON is the answer to a batch, an answer for each item in order.
type answersJSON struct {
	Now     int64        `json:"now"`
	Receipt uuid.UUID    `json:"receipt"`
	Answers []answerJSON `json:"answers"`
}

type answerJSON struct {
	ID     string            `json:"id"`
	Answer studio.ItemAnswer `json:"answer"`
	Words  string            `json:"words,omitempty"`
	Was    studio.ItemAnswer `json:"was,omitempty"`
}

// Items takes a batch of what a device noted, and answers for each item.
func (h *Handler) Items(w http.ResponseWriter, r *http.Request) error {
	actor := kit.Actor(r)
	if tapped := r.Header.Get("Tapped-By"); tapped != "" && tapped != actor.ID.String() {
		return &studio.Error{Code: studio.Conflict, Text: "Somebody else is signed in than the one who tapped these marks. They stay on this device until that person signs in."}
	}
	items, status, err := readBatch(w, r)
	if err != nil {
		h.kit.FailJSON(w, r, status, err, nil)
		return nil
	}
	receipt, err := h.app.TakeItems(r.Context(), actor, items)
	if err != nil {
		return err
	}
	return kit.WriteJSON(w, http.StatusOK, newAnswersJSON(receipt))
}

func newAnswersJSON(receipt app.ItemReceipt) answersJSON {
	out := answersJSON{Now: receipt.Now.UnixMilli(), Receipt: receipt.ID, Answers: []answerJSON{}}
	for _, a := range receipt.Answers {
		out.Answers = append(out.Answers, answerJSON(a))
	}
	return out
}

// readBatch reads the items of a batch. Only JSON that is broken as a whole, or too much of it, is refused: an item that makes no sense
// is kept like any other.
func readBatch(w http.ResponseWriter, r *http.Request) ([]studio.SheetItem, int, error) {
	refuse := func(status int, text string, cause error) ([]studio.SheetItem, int, error) {
		return nil, status, &studio.Error{Code: studio.Invalid, Text: text, Cause: cause}
	}
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return refuse(http.StatusUnsupportedMediaType, "Send JSON. Nothing was kept.", err)
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, batchLimit))
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		return refuse(http.StatusRequestEntityTooLarge, "The batch is larger than 256 KiB. Nothing was kept; send fewer items at once.", err)
	}
	if err != nil {
		return refuse(http.StatusBadRequest, "The batch did not arrive whole. Nothing was kept; send it again.", err)
	}
	var batch struct {
		Items []json.RawMessage `json:"items"`
	}
	if err := json.Unmarshal(body, &batch); err != nil {
		return refuse(http.StatusBadRequest, "The batch is no JSON of items. Nothing was kept.", err)
	}
	if len(batch.Items) > studio.MostItems {
		return refuse(http.StatusRequestEntityTooLarge, "More than 200 items at once. Nothing was kept; send fewer.", nil)
	}
	items := make([]studio.SheetItem, len(batch.Items))
	for i, raw := range batch.Items {
		items[i] = studio.ReadItem(raw)
	}
	return items, 0, nil
}
