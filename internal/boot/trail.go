package boot

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"rungbook/internal/studio"
)

// ErrBroken is the answer of CheckTrail to a trail that is not as it was written.
var ErrBroken = errors.New("the trail is broken")

// CheckTrail works the chain of hashes over the trail out again and says how many lines hold, or where it breaks first. head is a hash
// that an earlier check has told, or "": without it nobody can tell whether the end was cut off.
func (h *House) CheckTrail(ctx context.Context, head string, out io.Writer) error {
	check, err := h.App.CheckTrail(ctx, studio.ProgramActor())
	if err != nil {
		return err
	}
	if b := check.Broken; b != nil {
		fmt.Fprintf(out, "%d lines of the trail hold, up to the first break: %s\n", b.Holds, broken(*b))
		return ErrBroken
	}
	if head = strings.ToLower(strings.TrimSpace(head)); head != "" {
		there, err := h.App.TrailHas(ctx, studio.ProgramActor(), head)
		if err != nil {
			return err
		}
		if !there {
			fmt.Fprintf(out, "The %d lines of the trail hold together, but the hash that was noted is none of theirs: the end was cut off, or all was written anew.\n", check.Head.Seq)
			return ErrBroken
		}
	}
	fmt.Fprintf(out, "All %d lines of the trail are as they were written. The last hash is\n%s\nNote it elsewhere: a later check with -head can tell whether the end was cut off.\n", check.Head.Seq, check.Head.Hash)
	return nil
}

// broken says what became of a line.
func broken(b studio.ChainBreak) string {
	line := fmt.Sprintf("%q about %q, of %s", b.Action, b.Subject, b.At.UTC().Format("2 January 2006, 15:04:05 MST"))
	switch b.What {
	case "unlinked":
		return "a line was slipped in past the program, " + line
	case "missing":
		return fmt.Sprintf("a line was removed at place %d, or right before it", b.Seq)
	}
	return fmt.Sprintf("line %d was changed, or exchanged for another: %s", b.Seq, line)
}
