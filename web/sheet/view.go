package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// sheetView is the class sheet in the hall. Every cell is on the page; all but one are hidden where scripts run.
type sheetView struct {
	Lesson, You string
	URL         string
	SignIn      string // back to the sheet
	Stop        string
	Cancelled   bool
	Confirm     bool
	Clock       *clockView // nil while there are no rotations
	Here        hereView
	Empty       kit.EmptyState // where there are no cells
	Groups      []chooseView
	Rotations   []chooseView
	Cells       []cellView
	Note        noteView
}

type clockView struct {
	Action, Version string
	Face, Words     string
	Do, DoWords     string // of the first button
	Rotations       int
}

type hereView struct {
	Summary   string
	Action    string
	Children  []herePerson
	Staff     []herePerson // for teachers
	Plan      string       // where a teacher plans again; "" for assistants
	PlanAgain bool
}

// herePerson is a child or somebody of the staff: Field is "child" or "staff", Other what a tap notes.
type herePerson struct {
	Field, ID, Name string
	Word, Other     string
	Label           string
	Item            string
}

// chooseView is a group or rotation to choose. Exactly one of Group and Rotation is set.
type chooseView struct {
	Group, Rotation string
	Label, URL      string
	Current         bool
}

type cellView struct {
	ID              string
	Rotation, Group string
	Current         bool
	Heading, Place  string
	Rows            []rowView
	Work            []workView
}

// rowView is a child at a station. Rung is empty where it does a drill.
type rowView struct {
	ID, Action, Back string
	Child, Name      string
	Rung, Does       string
	Figure           []string
	Away             bool
	Limits, Cues     []string
	Sided            bool
	Faults           []studio.Fault
	Item             string
	Seen             []seenView
	Undo, UndoWords  string // the reader's last mark, "" for none
	UndoItem         string
	Note             noteView
}

// seenView is a mark that was made.
type seenView struct {
	Outcome, Icon string
	Words, Side   string
}

// workView is what to know of an activity.
type workView struct {
	Title     string
	Shape     []string
	LookTitle string
	Look      []string
	Spot      string
	NotYou    string
	Caution   string
}

type noteView struct {
	ID, Title, Label string
	Action           string
	Child            string // "" for the lesson
	Item             string
}

// drawer makes the view of a state.
type drawer struct {
	app.SheetState
	url string
}

func newSheetView(s app.SheetState) sheetView {
	d := drawer{s, "/lessons/" + s.Lesson.ID.String() + "/sheet"}
	v := sheetView{Lesson: s.Lesson.ID.String(), You: s.You.String(), URL: d.url, SignIn: "/sign-in?next=" + d.url,
		Stop: strings.TrimSuffix(d.url, "sheet") + "stop", Cancelled: s.Lesson.CancelledAt != nil, Confirm: s.Confirm, Here: d.here(), Empty: d.empty(),
		Note: noteView{ID: "lesson-note", Title: "Note about the lesson", Label: "About the lesson", Action: d.url + "/item", Item: newItem()}}
	if s.Rotations > 0 && s.Work > 0 && len(s.Cells) > 0 {
		v.Clock = d.clock()
	}
	d.cells(&v)
	return v
}

// newItem is the id of the item that a form will send, so that sending it twice counts once.
func newItem() string { return uuid.Must(uuid.NewV7()).String() }

func (d drawer) empty() kit.EmptyState {
	switch {
	case d.Teacher:
		return kit.EmptyState{Title: "No plan yet", Text: "The sheet shows each group with what its children do. Plan the stations first.",
			Button: &kit.Action{Label: "Plan the lesson", URL: d.lessonURL()}}
	case d.Shared:
		return kit.EmptyState{Title: "You are at no station in this plan", Text: "Ask the teacher where you are needed.",
			Button: &kit.Action{Label: "Back to today", URL: "/", Kind: kit.Quiet}}
	}
	return kit.EmptyState{Title: "The plan is not out yet", Text: "The teacher has not saved the plan of this lesson for you. Ask, and open this page again.",
		Button: &kit.Action{Label: "Open it again", URL: d.url, Kind: kit.Quiet}}
}

func (d drawer) lessonURL() string { return strings.TrimSuffix(d.url, "/sheet") }

func (d drawer) clock() *clockView {
	c := &clockView{Action: d.url + "/clock", Version: strconv.Itoa(d.Clock.Version), Rotations: d.Rotations, Do: "start", DoWords: "Start",
		Words: fmt.Sprintf("Rotation %d of %d", d.Clock.Rotation, d.Rotations)}
	if d.Clock.StartedAt != nil {
		c.Do, c.DoWords = "pause", "Pause"
	}
	left, sign := int(math.Ceil((d.Work - d.Clock.Elapsed(d.Now)).Seconds())), ""
	if left < 0 {
		left, sign = -left, "+"
	}
	c.Face = fmt.Sprintf("%s%d:%02d", sign, left/60, left%60)
	return c
}

func (d drawer) here() hereView {
	v := hereView{Action: d.url + "/item"}
	here, noted := 0, false
	for _, c := range d.Children {
		v.Children = append(v.Children, newHerePerson("child", c.ID, c.Name, c.Present))
		here, noted = here+1, noted || c.Present != nil
		if c.Present != nil && !*c.Present {
			here--
			v.PlanAgain = v.PlanAgain || c.Group > 0
		} else if c.Present != nil {
			v.PlanAgain = v.PlanAgain || c.Group == 0
		}
	}
	for _, s := range d.Staff {
		v.Staff = append(v.Staff, newHerePerson("staff", s.ID, s.Name, s.Present))
	}
	v.Summary = fmt.Sprintf("Who is here: %d of %d", here, len(d.Children))
	if !noted {
		v.Summary = "Who is here: nobody noted yet"
	}
	if d.Teacher {
		v.Plan = d.lessonURL() + "#plan"
	}
	v.PlanAgain = v.PlanAgain && len(d.Cells) > 0
	return v
}

func newHerePerson(field string, id uuid.UUID, name string, present *bool) herePerson {
	p := herePerson{Field: field, ID: id.String(), Name: name, Word: "not noted", Other: "yes", Item: newItem()}
	if present != nil {
		p.Word = "away"
		if *present {
			p.Word, p.Other = "here", "no"
		}
	}
	p.Label = name + ": " + p.Word + ". Note " + map[string]string{"yes": "here", "no": "away"}[p.Other]
	return p
}

// cells puts every group and rotation into the view, and chooses the one to begin with: the reader's own in the running rotation.
func (d drawer) cells(v *sheetView) {
	current := d.current()
	groups, rotations := map[int]bool{}, map[int]bool{}
	for i, c := range d.Cells {
		v.Cells = append(v.Cells, d.cell(c, i == current))
		if at := "#" + cellID(c); !groups[c.Group] {
			groups[c.Group] = true
			v.Groups = append(v.Groups, chooseView{Group: strconv.Itoa(c.Group), Label: "Group " + strconv.Itoa(c.Group), URL: at, Current: c.Group == d.Cells[current].Group})
		}
		if at := "#" + cellID(c); !rotations[c.Rotation] {
			rotations[c.Rotation] = true
			v.Rotations = append(v.Rotations, chooseView{Rotation: strconv.Itoa(c.Rotation), Label: "Rotation " + strconv.Itoa(c.Rotation), URL: at, Current: c.Rotation == d.Cells[current].Rotation})
		}
	}
}

func (d drawer) current() int {
	best := 0
	for i, c := range d.Cells {
		if c.Rotation != d.Clock.Rotation {
			continue
		}
		if c.Yours {
			return i
		}
		if d.Cells[best].Rotation != d.Clock.Rotation {
			best = i
		}
	}
	return best
}

func cellID(c app.RollCell) string { return fmt.Sprintf("cell-%d-%d", c.Rotation, c.Group) }

func (d drawer) cell(c app.RollCell, current bool) cellView {
	v := cellView{ID: cellID(c), Rotation: strconv.Itoa(c.Rotation), Group: strconv.Itoa(c.Group), Current: current,
		Heading: fmt.Sprintf("%s, group %d", c.Ladder, c.Group), Place: peopleOf(c)}
	done := map[string]bool{}
	for _, e := range c.Entries {
		v.Rows = append(v.Rows, d.row(c, e))
		if !done[e.Activity] {
			done[e.Activity] = true
			v.Work = append(v.Work, d.work(d.activity(e.Activity)))
		}
	}
	return v
}

func peopleOf(c app.RollCell) string {
	var words []string
	if len(c.Lead) > 0 {
		words = append(words, kit.List(c.Lead)+" runs it")
	}
	if len(c.Spots) > 0 {
		words = append(words, kit.List(c.Spots)+map[bool]string{true: " spots", false: " spot"}[len(c.Spots) == 1])
	}
	text := fmt.Sprintf("Rotation %d", c.Rotation)
	if len(words) > 0 {
		text += ": " + strings.Join(words, ", ")
	}
	return text + "."
}

func (d drawer) row(c app.RollCell, e app.RollEntry) rowView {
	child, work := d.child(e.Child), d.activity(e.Activity)
	id := fmt.Sprintf("row-%d-%s", c.Rotation, e.Child)
	r := rowView{ID: id, Action: d.url + "/item", Back: "#" + id, Child: e.Child.String(), Name: child.Name, Rung: work.Rung, Away: child.Present != nil && !*child.Present,
		Does: work.Name + ", " + kit.Count(e.Turns, "turn", "turns"), Figure: work.Figure, Limits: child.Limits, Cues: e.Cues, Sided: work.Sided, Faults: work.Faults,
		Item: newItem(), UndoItem: newItem(),
		Note: noteView{ID: id + "-note", Title: "Note", Label: "About " + child.Name, Action: d.url + "/item", Child: e.Child.String(), Item: newItem()}}
	for _, m := range d.Marks {
		if m.Child == e.Child && m.Rung == r.Rung {
			r.Seen = append(r.Seen, newSeenView(m))
			if m.Mine {
				r.Undo, r.UndoWords = m.ID.String(), "Undo: "+string(m.Outcome)
			}
		}
	}
	return r
}

func (d drawer) activity(key string) app.RollActivity {
	for _, a := range d.Activities {
		if a.Key == key {
			return a
		}
	}
	return app.RollActivity{Key: key}
}

func (d drawer) child(id uuid.UUID) app.RollChild {
	for _, c := range d.Children {
		if c.ID == id {
			return c
		}
	}
	return app.RollChild{ID: id}
}

var outcomeIcons = map[studio.Outcome]string{studio.Missed: "cross", studio.Supported: "spotter", studio.Clean: "check"}

func newSeenView(m app.RollMark) seenView {
	v := seenView{Outcome: string(m.Outcome), Icon: outcomeIcons[m.Outcome], Words: string(m.Outcome)}
	switch m.Side {
	case studio.Left:
		v.Side, v.Words = "L", v.Words+", left"
	case studio.Right:
		v.Side, v.Words = "R", v.Words+", right"
	}
	if !m.Mine {
		v.Words += ", by " + m.By
	}
	return v
}

func (d drawer) work(a app.RollActivity) workView {
	w := workView{Title: "About " + a.Name, Look: a.Look, LookTitle: "Look for", Spot: kit.SpotWords(a.Spot), Caution: a.Caution}
	if a.Drill != "" {
		w.LookTitle = "How it goes"
	}
	if a.Start != "" && a.Finish != "" {
		w.Shape = []string{"From: " + a.Start, "To: " + a.Finish}
	}
	if a.Spot.People > 0 && a.Rung != "" && !a.MaySpot {
		w.NotYou = "You hold no sign-off for this today: leave the spotting to somebody who does."
	}
	return w
}

// currentOf is the aria-current of something to choose.
func currentOf(c chooseView) string { return strconv.FormatBool(c.Current) }
