package cover

import (
	"fmt"
	"slices"
)

// Room is who is in the hall at one moment. Adults are 18 or over; Spotting is how many of those adults are spotting.
type Room struct {
	Ages     []int
	Adults   int
	Spotting int
}

// Verdict is the count of a room. Short is how many adults are missing, 0 when Enough.
type Verdict struct {
	Needed int
	Free   int
	Short  int
	Enough bool
	Reason string
}

// Check counts the adults of a room who are free of spotting against the table.
func Check(room Room, r Ratios) Verdict {
	v := Verdict{Needed: AdultsNeeded(room.Ages, r), Free: max(0, room.Adults-room.Spotting)}
	v.Short = max(0, v.Needed-v.Free)
	v.Enough = v.Short == 0
	v.Reason = v.sentence(room)
	return v
}

func (v Verdict) sentence(room Room) string {
	if len(room.Ages) == 0 {
		return "No children are here, so no adult is needed."
	}
	s := fmt.Sprintf("%s, the youngest %d: %s needed who %s not spotting, %s.",
		count(len(room.Ages), "child", "children"), slices.Min(room.Ages),
		count(v.Needed, "adult is", "adults are"), pick(v.Needed, "is", "are"), count(v.Free, "is free", "are free"))
	if v.Short > 0 {
		s += fmt.Sprintf(" %s missing.", count(v.Short, "adult is", "adults are"))
	}
	return s
}

func count(n int, one, many string) string { return fmt.Sprintf("%d %s", n, pick(n, one, many)) }

func pick(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
