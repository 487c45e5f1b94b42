package demo

import (
	"context"
	"encoding/json"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// addHall makes what came from the hall at the last lesson of the class that meets tonight: notes, marks that a tablet sent too late, and
// an incident record; and two requests for a sign-off, of which one was declined.
func (h *house) addHall(ctx context.Context) error {
	meetings, err := h.pastMeetings(ctx)
	if err != nil {
		return err
	}
	var last *meeting
	for i, m := range meetings {
		if m.course.name == courses()[0].name {
			last = &meetings[i]
		}
	}
	if last == nil {
		return nil
	}
	if err := h.noteFromHall(ctx, last.lesson); err != nil {
		return err
	}
	if err := h.recordIncident(ctx, last.lesson); err != nil {
		return err
	}
	return h.askForSignOffs(ctx)
}

// noteFromHall sends what two tablets noted. The assistant's comes after her lesson: it waits for the teacher's look.
func (h *house) noteFromHall(ctx context.Context, l studio.Lesson) error {
	var here []pupil
	for _, p := range pupils() {
		if p.class == courses()[0].name {
			here = append(here, p)
		}
	}
	item := func(name, kind string, p pupil, more map[string]any) studio.SheetItem {
		fields := map[string]any{"id": uuid.NewSHA1(l.ID, []byte(name)).String(), "device": name, "kind": kind, "lesson": l.ID.String(), "child": h.children[p.fullName()].String()}
		for k, v := range more {
			fields[k] = v
		}
		raw, _ := json.Marshal(fields) // texts only
		return studio.ReadItem(raw)
	}
	teacher := h.as(zoeEmail, studio.TeacherRole)
	if _, err := h.use.TakeItems(ctx, teacher, []studio.SheetItem{
		item("a note", "note", here[0], map[string]any{"text": "Hands land much closer to the line now."}),
		item("another", "note", here[2], map[string]any{"text": "Needs the quiet corner to start; then all is well."}),
	}); err != nil {
		return err
	}
	_, err := h.use.TakeItems(ctx, h.as(lucjaEmail, studio.AssistantRole), []studio.SheetItem{
		item("a late mark", "mark", here[1], map[string]any{"rung": "fr-crouch", "outcome": "clean", "client_at": l.StartsAt.Add(30 * time.Minute).Format(time.RFC3339)}),
		item("a late note", "note", here[1], map[string]any{"text": "Sent from my phone on the bus: the last roll was by herself."}),
	})
	return err
}

func (h *house) recordIncident(ctx context.Context, l studio.Lesson) error {
	teacher := h.as(zoeEmail, studio.TeacherRole)
	var child uuid.UUID
	for _, p := range pupils() {
		if p.class == courses()[0].name {
			child = h.children[p.fullName()]
		}
	}
	id, err := h.use.KeepIncident(ctx, teacher, studio.Incident{LessonID: l.ID, ChildID: &child, HappenedAt: l.StartsAt.Add(25 * time.Minute),
		What: "Stepped off the edge of a mat on the way back to the group and turned the left ankle.",
		Done: "Sat out with a cold pack; no swelling after ten minutes. Did not go back to the stations.",
		Told: "The parents at the door, at the end of class. Marit by telephone the same evening.", SeenBy: "Łucja, who ran the station."})
	if err != nil {
		return err
	}
	return h.use.AddToIncident(ctx, teacher, id, "The parents wrote two days later: walks and jumps as before.")
}

func (h *house) askForSignOffs(ctx context.Context) error {
	for email, r := range map[string]studio.SignOffRequest{
		jossEmail:  {LadderKey: "bridge", Words: "I have watched it for three weeks and would like to try with somebody beside me."},
		lucjaEmail: {LadderKey: "handstand", Words: "Zoë saw me at the hold twice. I am in every week until the showcase."},
	} {
		if err := h.use.AskSignOff(ctx, h.as(email, studio.AssistantRole), r); err != nil {
			return err
		}
	}
	owner := h.as(ownerEmail, studio.OwnerRole, studio.TeacherRole)
	book, err := h.use.SignOffRequests(ctx, owner)
	if err != nil {
		return err
	}
	for _, r := range book.Requests {
		if r.LadderKey != "bridge" {
			continue
		}
		if err := h.use.DeclineRequest(ctx, owner, r.ID, "Not yet: first the two lower rungs beside Zoë, hands on the shoulder blades. Ask again at half term."); err != nil {
			return err
		}
	}
	return nil
}
