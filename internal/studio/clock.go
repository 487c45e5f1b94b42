package studio

import "time"

// Clock is the rotation clock that all devices of a lesson share. It never ticks: what has run follows from the moment it was started.
// The zero Clock but for Rotation 1 is a clock that nobody has started.
type Clock struct {
	Version   int // counts changes: an order that was given to an older version is refused
	Rotation  int
	StartedAt *time.Time // nil while it stands
	ElapsedMS int64      // what had run of the rotation before StartedAt
}

// ClockOrder is what somebody does to the clock.
type ClockOrder struct {
	Do       string // start, pause, next, back, restart or set
	Version  int    // that the order was given to
	Rotation int    // for set
	Elapsed  time.Duration
	Running  bool // for set
}

// longestRun bounds what a clock can show.
const longestRun = 24 * time.Hour

// Elapsed is what has run of the rotation at a moment.
func (c Clock) Elapsed(now time.Time) time.Duration {
	run := time.Duration(c.ElapsedMS) * time.Millisecond
	if c.StartedAt != nil {
		run += max(0, now.Sub(*c.StartedAt))
	}
	return min(run, longestRun)
}

// State is ready, running or paused.
func (c Clock) State() string {
	switch {
	case c.StartedAt != nil:
		return "running"
	case c.ElapsedMS > 0 || c.Rotation > 1:
		return "paused"
	}
	return "ready"
}

// Follow gives the clock after an order; rotations is how many the lesson has. An order to another version is a Conflict.
func (c Clock) Follow(o ClockOrder, rotations int, now time.Time) (Clock, error) {
	if o.Version != c.Version {
		return c, &Error{Code: Conflict, Text: "Somebody else has set the clock meanwhile. It shows theirs now; nothing of yours was changed."}
	}
	next := c
	next.Version++
	stand := func(elapsed time.Duration) { next.ElapsedMS = min(max(elapsed, 0), longestRun).Milliseconds() }
	switch o.Do {
	case "start":
		if c.StartedAt == nil {
			next.StartedAt = &now
		}
	case "pause":
		stand(c.Elapsed(now))
		next.StartedAt = nil
	case "next", "back", "restart":
		step := map[string]int{"next": 1, "back": -1}[o.Do]
		next.Rotation = min(max(c.Rotation+step, 1), max(rotations, 1))
		stand(0)
		if c.StartedAt != nil {
			next.StartedAt = &now
		}
	case "set":
		next.Rotation = min(max(o.Rotation, 1), max(rotations, 1))
		stand(o.Elapsed)
		next.StartedAt = nil
		if o.Running {
			next.StartedAt = &now
		}
	default:
		return c, Refuse("The clock was not changed.", []FieldError{{Field: "do", Problem: "Start, pause, next, back or restart."}})
	}
	return next, nil
}
