package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ItemReceipt is the answer to a batch of items.
type ItemReceipt struct {
	ID      uuid.UUID
	Now     time.Time
	Answers []ItemResult // one for each item, in order
}

// ItemResult is what became of one item. Was is how a duplicate was answered first.
type ItemResult struct {
	ID     string
	Answer studio.ItemAnswer
	Words  string
	Was    studio.ItemAnswer
}

// What an item is answered that does not count at once.
const (
	notYours      = "Kept for a teacher to look at: you do not run this lesson now."
	notOn         = "Kept for a teacher to look at: the lesson is not on."
	notYourMark   = "Kept for a teacher to look at: somebody else made that mark."
	notFiled      = "Kept for a teacher to look at: it could not be filed."
	otherContent  = "Something else was sent under the same number. Both are kept for a teacher to look at."
	noNumber      = "It has no number that can be kept. This is a fault of the program: write it down, and tell whoever looks after it."
	notInClass    = "Not counted: the child is not in the class of this lesson."
	notOnRoster   = "Not counted: that person is not on the roster of this lesson."
	staffByOthers = "Not counted: a teacher notes who of the staff is here."
)

// TakeItems takes what a device noted, item by item: nothing that was acknowledged is lost, counted twice or altered, however often and
// in whatever order it is sent. Every item with an id is kept, whatever the answer.
func (a *App) TakeItems(ctx context.Context, actor studio.Actor, items []studio.SheetItem) (ItemReceipt, error) {
	var receipt ItemReceipt
	if len(items) > studio.MostItems {
		return receipt, &studio.Error{Code: studio.Invalid, Text: "More than 200 items at once. Nothing was kept; send fewer."}
	}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SendMarks, Target{}); err != nil {
			return err
		}
		var err error
		receipt, err = takeItems(ctx, t, items)
		return err
	})
	return receipt, err
}

func takeItems(ctx context.Context, t *postgres.Tx, items []studio.SheetItem) (ItemReceipt, error) {
	receipt := ItemReceipt{Now: t.Now, Answers: make([]ItemResult, len(items))}
	if err := t.LockLessons(ctx, lessonsOf(items)); err != nil {
		return receipt, err
	}
	bench, err := newBench(ctx, t, items)
	if err != nil {
		return receipt, err
	}
	if receipt.ID, err = t.AddReceipt(ctx, len(items)); err != nil {
		return receipt, err
	}
	bench.receipt = receipt.ID
	var cases []*itemCase
	first := map[uuid.UUID]bool{}
	var again []*itemCase // ids that occur before in the batch
	for i, item := range items {
		c := &itemCase{SheetItem: item, result: &receipt.Answers[i]}
		c.result.ID = item.GivenID
		switch {
		case item.ID == uuid.Nil:
			c.result.Answer, c.result.Words = studio.ItemInvalid, noNumber
		case first[item.ID]:
			again = append(again, c)
		default:
			first[item.ID] = true
			bench.judge(c)
			cases = append(cases, c)
		}
	}
	if err := bench.file(ctx, cases); err != nil {
		return receipt, err
	}
	for _, c := range again {
		c.result.Answer = studio.ItemInvalid // whatever it is, its id is known by now
		if err := bench.file(ctx, []*itemCase{c}); err != nil {
			return receipt, err
		}
	}
	return receipt, nil
}

// itemCase is an item on its way.
type itemCase struct {
	studio.SheetItem
	result *ItemResult
}

func lessonsOf(items []studio.SheetItem) []uuid.UUID {
	var ids []uuid.UUID
	for _, i := range items {
		ids = append(ids, i.Lesson)
	}
	return ids
}

// bench judges the items of a batch and files them.
type bench struct {
	t       *postgres.Tx
	receipt uuid.UUID
	lessons map[uuid.UUID]postgres.SheetLesson
	rungs   map[string]postgres.MarkedRung
	marks   map[uuid.UUID]postgres.KeptMark // also those that come with the batch
}

func newBench(ctx context.Context, t *postgres.Tx, items []studio.SheetItem) (*bench, error) {
	var rungs []string
	var marks []uuid.UUID
	for _, i := range items {
		rungs, marks = append(rungs, i.Rung), append(marks, i.Replaces)
	}
	var ground postgres.ItemGround
	err := t.AsProgram(ctx, func() (err error) {
		ground, err = t.ItemGround(ctx, lessonsOf(items), rungs, marks)
		return err
	})
	b := &bench{t: t, lessons: map[uuid.UUID]postgres.SheetLesson{}, rungs: map[string]postgres.MarkedRung{}, marks: map[uuid.UUID]postgres.KeptMark{}}
	for _, l := range ground.Lessons {
		b.lessons[l.ID] = l
	}
	for _, r := range ground.Rungs {
		b.rungs[r.Key] = r
	}
	for _, m := range ground.Marks {
		b.marks[m.ID] = m
	}
	return b, err
}

// judge says what is to become of an item, were it new.
func (b *bench) judge(c *itemCase) {
	c.result.Answer, c.result.Words = b.answer(c.SheetItem)
	if c.result.Answer == studio.ItemStored && c.Kind == studio.MarkItem {
		b.marks[c.ID] = postgres.KeptMark{ID: c.ID, ChildID: c.Child, RungKey: c.Rung, Side: c.Side, MarkedBy: &b.t.Actor.ID}
	}
}

func (b *bench) answer(i studio.SheetItem) (studio.ItemAnswer, string) {
	lesson, known := b.lessons[i.Lesson]
	teacher := known && b.teaches(lesson)
	switch {
	case i.Problem != "":
		return studio.ItemInvalid, "Not counted. " + i.Problem
	case !known || !teacher && !b.t.Scope.HelpsAt(i.Lesson): // not there and not yours look the same
		return studio.ItemQuarantined, notYours
	}
	if words := b.fault(i, lesson, teacher); words != "" {
		return studio.ItemInvalid, words
	}
	if i.Kind == studio.MarkItem || i.Kind == studio.StrikeItem {
		if lesson.CancelledAt != nil || b.t.Now.Before(lesson.StartsAt.Add(-studio.SheetOpensBefore)) || b.t.Now.After(sheetOpenUntil(lesson.Lesson, teacher)) {
			return studio.ItemQuarantined, notOn
		}
		if old, ok := b.marks[i.Replaces]; ok && !teacher && (old.MarkedBy == nil || *old.MarkedBy != b.t.Actor.ID) {
			return studio.ItemQuarantined, notYourMark
		}
	}
	return studio.ItemStored, ""
}

func (b *bench) teaches(l postgres.SheetLesson) bool {
	return b.t.Scope.Owner || b.t.Scope.Takes(l.ClassID)
}

// fault is why an item can never count, in words; "" when it can.
func (b *bench) fault(i studio.SheetItem, l postgres.SheetLesson, teacher bool) string {
	inClass := slices.Contains(l.Children, i.Child)
	switch i.Kind {
	case studio.MarkItem, studio.StrikeItem:
		if !inClass {
			return notInClass
		}
		return b.markFault(i)
	case studio.AttendanceItem:
		switch {
		case i.Present == nil:
			return "Not counted: it does not say whether somebody is here."
		case i.Staff != uuid.Nil && !teacher:
			return staffByOthers
		case i.Staff != uuid.Nil && !slices.Contains(l.Staff, i.Staff):
			return notOnRoster
		case i.Staff == uuid.Nil && !inClass:
			return notInClass
		}
	case studio.NoteItem:
		switch n := len([]rune(i.Text)); {
		case n == 0:
			return "Not kept as a note: it is empty."
		case n > studio.MostNote:
			return "Not kept as a note: it is longer than 500 characters."
		case i.Child != uuid.Nil && !inClass:
			return notInClass
		}
	default:
		return "Not counted: it is of no kind that is known here."
	}
	return ""
}

func (b *bench) markFault(i studio.SheetItem) string {
	rung, ok := b.rungs[i.Rung]
	sided := i.Side == studio.Left || i.Side == studio.Right
	switch {
	case !ok:
		return "Not counted: the rung is not in the library any more."
	case i.Kind == studio.StrikeItem && i.Replaces == uuid.Nil:
		return "Not counted: it does not say which mark to take back."
	}
	if old, known := b.marks[i.Replaces]; known && (old.ChildID != i.Child || old.RungKey != i.Rung) {
		return "Not counted: it stands for a mark of another child or rung."
	}
	if i.Kind == studio.StrikeItem {
		return ""
	}
	switch {
	case !slices.Contains([]studio.Outcome{studio.Missed, studio.Supported, studio.Clean}, i.Outcome):
		return "Not counted: it does not say how the turn went."
	case rung.TwoSided && !sided:
		return "Not counted: it does not say which side led."
	case !rung.TwoSided && i.Side != studio.NoSide:
		return "Not counted: this rung has no sides."
	case slices.ContainsFunc(i.Faults, func(f string) bool { return !slices.Contains(rung.Faults, f) }):
		return "Not counted: it names a fault that this rung does not have."
	case i.Replaces == i.ID:
		return "Not counted: it stands for itself."
	}
	return ""
}
