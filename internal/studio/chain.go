package studio

import "time"

// ChainBreak is the first place at which the trail is not as it was written. What is "changed", "missing" or "unlinked" (slipped in
// past the program); At, Action and Subject are empty for a row that is missing.
type ChainBreak struct {
	Seq     int64 // place in the chain, 0 for a row outside of it
	Holds   int64 // links before it, which are as they were written
	What    string
	At      time.Time
	Action  string
	Subject string
}

// ChainHead is the last link of the trail's chain: whoever notes it elsewhere can tell later whether the end was cut off.
type ChainHead struct {
	Seq  int64
	Hash string // hex; "" for an empty trail
}
