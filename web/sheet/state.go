package sheet

import (
	"net/http"
	"strconv"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// stateJSON is the class sheet for scripts. Times are Unix milliseconds of the server's clock; lists are never null.
type stateJSON struct {
	Now        int64                   `json:"now"`
	Lesson     lessonJSON              `json:"lesson"`
	You        youJSON                 `json:"you"`
	Clock      clockJSON               `json:"clock"`
	Rotations  int                     `json:"rotations"`
	Work       int                     `json:"work_seconds"`
	Changeover int                     `json:"changeover_seconds"`
	Shared     bool                    `json:"shared"`
	Children   []childJSON             `json:"children"`
	Staff      []staffJSON             `json:"staff"`
	Cells      []cellJSON              `json:"cells"`
	Activities map[string]activityJSON `json:"activities"`
	Marks      []markJSON              `json:"marks"`
	Stop       []string                `json:"stop"`
}

type lessonJSON struct {
	ID        uuid.UUID `json:"id"`
	Class     string    `json:"class"`
	Starts    int64     `json:"starts"`
	Ends      int64     `json:"ends"`
	OpenUntil int64     `json:"open_until"`
	Cancelled bool      `json:"cancelled"`
	Zone      string    `json:"zone"`
}

type youJSON struct {
	ID      uuid.UUID `json:"id"`
	Name    string    `json:"name"`
	Teacher bool      `json:"teacher"`
	Confirm bool      `json:"confirm"`
}

type clockJSON struct {
	Version  int    `json:"version"`
	State    string `json:"state"`
	Rotation int    `json:"rotation"`
	Started  *int64 `json:"started"`
	Elapsed  int64  `json:"elapsed"`
}

type childJSON struct {
	ID      uuid.UUID `json:"id"`
	Name    string    `json:"name"`
	Present *bool     `json:"present"`
	Group   int       `json:"group"`
	Limits  []string  `json:"limits"`
}

type staffJSON struct {
	ID      uuid.UUID `json:"id"`
	Name    string    `json:"name"`
	Present *bool     `json:"present"`
}

type cellJSON struct {
	Rotation int         `json:"rotation"`
	Group    int         `json:"group"`
	Ladder   string      `json:"ladder"`
	Lead     []string    `json:"lead"`
	Spots    []string    `json:"spots"`
	Yours    bool        `json:"yours"`
	Entries  []entryJSON `json:"entries"`
}

type entryJSON struct {
	Child    uuid.UUID `json:"child"`
	Activity string    `json:"activity"`
	Turns    int       `json:"turns"`
	Cues     []string  `json:"cues"`
}

type activityJSON struct {
	Kind    string      `json:"kind"`
	Key     string      `json:"key"`
	Name    string      `json:"name"`
	Start   string      `json:"start"`
	Finish  string      `json:"finish"`
	Look    []string    `json:"look"`
	Sided   bool        `json:"sided"`
	Spot    string      `json:"spot"`
	MaySpot bool        `json:"may_spot"`
	Caution string      `json:"caution"`
	Faults  []faultJSON `json:"faults"`
}

type faultJSON struct {
	Key    string `json:"key"`
	Name   string `json:"name"`
	Safety bool   `json:"safety"`
}

type markJSON struct {
	ID      uuid.UUID      `json:"id"`
	Child   uuid.UUID      `json:"child"`
	Rung    string         `json:"rung"`
	Side    studio.Side    `json:"side"`
	Outcome studio.Outcome `json:"outcome"`
	Faults  []string       `json:"faults"`
	By      string         `json:"by"`
	Mine    bool           `json:"mine"`
	At      int64          `json:"at"`
	Awaits  bool           `json:"awaits"`
}

// State is the class sheet for scripts. It is asked for every two seconds or less: a held connection would not pass every proxy, and would need
// every copy of the program to tell the others; a tag that has not changed costs one small query.
func (h *Handler) State(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	seen := r.Header.Get("If-None-Match")
	state, changed, err := h.app.SheetSince(r.Context(), kit.Actor(r), id, untagged(seen))
	if err != nil {
		return err
	}
	w.Header().Set("ETag", `"`+state.Tag+`"`)
	w.Header().Set("Server-Time", strconv.FormatInt(state.Now.UnixMilli(), 10))
	if !changed {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	return kit.WriteJSON(w, http.StatusOK, newStateJSON(state))
}

// untagged takes the quotes, and the mark of a weak tag, from an ETag.
func untagged(tag string) string {
	if len(tag) > 2 && tag[:2] == "W/" {
		tag = tag[2:]
	}
	if unquoted, err := strconv.Unquote(tag); err == nil {
		return unquoted
	}
	return ""
}

func newStateJSON(s app.SheetState) stateJSON {
	out := stateJSON{
		Now: s.Now.UnixMilli(),
		Lesson: lessonJSON{s.Lesson.ID, s.Class, s.Lesson.StartsAt.UnixMilli(), s.Lesson.EndsAt().UnixMilli(), s.OpenUntil.UnixMilli(),
			s.Lesson.CancelledAt != nil, s.Zone},
		You:        youJSON{s.You, s.YourName, s.Teacher, s.Confirm},
		Clock:      newClockJSON(s.Clock),
		Rotations:  s.Rotations,
		Work:       int(s.Work / time.Second),
		Changeover: int(s.Changeover / time.Second),
		Shared:     s.Shared,
		Children:   []childJSON{}, Staff: []staffJSON{}, Cells: []cellJSON{}, Marks: []markJSON{},
		Activities: map[string]activityJSON{},
		Stop:       filled(s.Stop),
	}
	for _, c := range s.Children {
		out.Children = append(out.Children, childJSON{c.ID, c.Name, c.Present, c.Group, filled(c.Limits)})
	}
	for _, p := range s.Staff {
		out.Staff = append(out.Staff, staffJSON(p))
	}
	for _, c := range s.Cells {
		cell := cellJSON{c.Rotation, c.Group, c.Ladder, filled(c.Lead), filled(c.Spots), c.Yours, []entryJSON{}}
		for _, e := range c.Entries {
			cell.Entries = append(cell.Entries, entryJSON{e.Child, e.Activity, e.Turns, filled(e.Cues)})
		}
		out.Cells = append(out.Cells, cell)
	}
	for _, a := range s.Activities {
		out.Activities[a.Key] = newActivityJSON(a)
	}
	for _, m := range s.Marks {
		out.Marks = append(out.Marks, markJSON{m.ID, m.Child, m.Rung, m.Side, m.Outcome, filled(m.Faults), m.By, m.Mine, m.At.UnixMilli(), m.Awaits})
	}
	return out
}

func newClockJSON(c studio.Clock) clockJSON {
	out := clockJSON{Version: c.Version, State: c.State(), Rotation: c.Rotation, Elapsed: c.ElapsedMS}
	if c.StartedAt != nil {
		ms := c.StartedAt.UnixMilli()
		out.Started = &ms
	}
	return out
}

func newActivityJSON(a app.RollActivity) activityJSON {
	out := activityJSON{Kind: "rung", Key: a.Rung, Name: a.Name, Start: a.Start, Finish: a.Finish, Look: filled(a.Look), Sided: a.Sided,
		Spot: kit.SpotWords(a.Spot), MaySpot: a.MaySpot, Caution: a.Caution, Faults: []faultJSON{}}
	if a.Drill != "" {
		out.Kind, out.Key = "drill", a.Drill
	}
	for _, f := range a.Faults {
		out.Faults = append(out.Faults, faultJSON{f.Key, f.Name, f.Safety})
	}
	return out
}

// filled is a list that is never null.
func filled(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
