package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// file keeps items, and lets count those that do. Where the database refuses the lot each is tried by itself, and what is refused then
// waits for a teacher.
func (b *bench) file(ctx context.Context, cases []*itemCase) error {
	if len(cases) == 0 {
		return nil
	}
	before := make([]ItemResult, len(cases))
	for i, c := range cases {
		before[i] = *c.result
	}
	err := b.t.Try(ctx, func() error { return b.fileAll(ctx, cases) })
	if err == nil || studio.CodeOf(err) == studio.Internal {
		return err
	}
	for i, c := range cases {
		*c.result = before[i]
	}
	if len(cases) > 1 {
		for _, c := range cases {
			if err := b.file(ctx, []*itemCase{c}); err != nil {
				return err
			}
		}
		return nil
	}
	if cases[0].result.Answer != studio.ItemStored {
		return err // not even kept: the whole batch is to be sent again
	}
	cases[0].result.Answer, cases[0].result.Words = studio.ItemQuarantined, notFiled
	return b.file(ctx, cases)
}

func (b *bench) fileAll(ctx context.Context, cases []*itemCase) error {
	var kept []studio.KeptItem
	for _, c := range cases {
		kept = append(kept, b.kept(c))
	}
	fresh, err := b.t.AddItems(ctx, b.receipt, kept)
	if err != nil {
		return err
	}
	var counts, old []*itemCase
	for _, c := range cases {
		switch {
		case !fresh[c.ID]:
			old = append(old, c)
		case c.result.Answer == studio.ItemStored:
			counts = append(counts, c)
		}
	}
	if err := b.compare(ctx, old); err != nil {
		return err
	}
	return b.count(ctx, counts, b.t.Actor.ID)
}

func (b *bench) kept(c *itemCase) studio.KeptItem {
	k := studio.KeptItem{ID: c.ID, Digest: c.Digest(), Content: c.Content, Answer: c.result.Answer, Words: c.result.Words}
	if lesson, ok := b.lessons[c.Lesson]; ok {
		k.LessonID = &lesson.ID
		if slices.Contains(lesson.Children, c.Child) {
			k.ChildID = &c.Child
		}
	}
	return k
}

// compare answers items whose ids were known: the same content is a duplicate, other content is kept beside the first.
func (b *bench) compare(ctx context.Context, cases []*itemCase) error {
	if len(cases) == 0 {
		return nil
	}
	var ids []uuid.UUID
	for _, c := range cases {
		ids = append(ids, c.ID)
	}
	known := map[uuid.UUID]studio.KeptItem{}
	err := b.t.AsProgram(ctx, func() error {
		items, err := b.t.KnownItems(ctx, ids)
		for _, i := range items {
			known[i.ID] = i
		}
		return err
	})
	if err != nil {
		return err
	}
	var conflicts []studio.KeptItem
	for _, c := range cases {
		k := b.kept(c)
		if first := known[c.ID]; first.Digest == k.Digest {
			c.result.Answer, c.result.Words, c.result.Was = studio.ItemDuplicate, first.Words, first.Answer
			continue
		}
		c.result.Answer, c.result.Words = studio.ItemConflict, otherContent
		k.Answer, k.Words = studio.ItemConflict, otherContent
		conflicts = append(conflicts, k)
	}
	if len(conflicts) == 0 {
		return nil
	}
	_, err = b.t.AddItems(ctx, b.receipt, conflicts)
	return err
}

// count lets items count, as the work of an account.
func (b *bench) count(ctx context.Context, cases []*itemCase, by uuid.UUID) error {
	var marks []postgres.RollMark
	var notes []studio.SheetNote
	for _, c := range cases {
		lesson := b.lessons[c.Lesson]
		switch c.Kind {
		case studio.MarkItem, studio.StrikeItem:
			marks = append(marks, b.mark(c.SheetItem, lesson, by))
		case studio.NoteItem:
			n := studio.SheetNote{ID: c.ID, LessonID: lesson.ID, Note: c.Text, WrittenBy: &by}
			if c.Child != uuid.Nil {
				n.ChildID = &c.Child
			}
			notes = append(notes, n)
		case studio.AttendanceItem: // one after the other: the last word counts
			who, staff := map[uuid.UUID]bool{c.Child: *c.Present}, map[uuid.UUID]bool(nil)
			if c.Staff != uuid.Nil {
				who, staff = nil, map[uuid.UUID]bool{c.Staff: *c.Present}
			}
			if err := b.t.SetPresent(ctx, lesson.ID, who, staff); err != nil {
				return err
			}
		}
	}
	if err := b.t.AddSheetMarks(ctx, marks); err != nil {
		return err
	}
	return b.t.AddSheetNotes(ctx, notes)
}

func (b *bench) mark(i studio.SheetItem, l postgres.SheetLesson, by uuid.UUID) postgres.RollMark {
	m := postgres.RollMark{Awaits: b.t.Settings.Confirm && !b.teaches(l)}
	m.Mark = studio.Mark{ID: i.ID, ChildID: i.Child, RungKey: i.Rung, LessonID: &l.ID, Side: i.Side, Outcome: i.Outcome, Faults: i.Faults,
		MarkedBy: &by, MarkedAt: i.SeenAt(l.Lesson, b.t.Now)}
	if i.Replaces != uuid.Nil {
		m.Replaces = &i.Replaces
	}
	if i.Kind == studio.StrikeItem {
		m.Outcome, m.Awaits, m.Faults = studio.Withdrawn, false, nil
		if old, ok := b.marks[i.Replaces]; ok {
			m.Side = old.Side
		}
	}
	return m
}
