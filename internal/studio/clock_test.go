package studio_test

import (
	"testing"
	"time"

	"rungbook/internal/studio"
)

func TestClockKeepsTimeWithoutTicking(t *testing.T) {
	now := time.Date(2026, 3, 4, 16, 30, 0, 0, time.UTC)
	c := studio.Clock{Rotation: 1}
	for _, step := range []struct {
		do       string
		after    time.Duration
		state    string
		rotation int
		elapsed  time.Duration
	}{
		{"start", 0, "running", 1, 0},
		{"start", 3 * time.Minute, "running", 1, 3 * time.Minute}, // twice is once
		{"pause", time.Minute, "paused", 1, 4 * time.Minute},
		{"pause", time.Hour, "paused", 1, 4 * time.Minute},
		{"start", time.Minute, "running", 1, 4 * time.Minute},
		{"next", 2 * time.Minute, "running", 2, 0},
		{"next", time.Minute, "running", 3, 0},
		{"next", time.Minute, "running", 3, 0}, // there is no fourth
		{"back", 30 * time.Second, "running", 2, 0},
		{"restart", time.Minute, "running", 2, 0},
		{"pause", 90 * time.Second, "paused", 2, 90 * time.Second},
	} {
		now = now.Add(step.after)
		var err error
		if c, err = c.Follow(studio.ClockOrder{Do: step.do, Version: c.Version}, 3, now); err != nil {
			t.Fatal(err)
		}
		if c.State() != step.state || c.Rotation != step.rotation || c.Elapsed(now) != step.elapsed {
			t.Errorf("after %s: %s, rotation %d, %s; want %+v", step.do, c.State(), c.Rotation, c.Elapsed(now), step)
		}
	}
}

func TestClockRefusesAnOldOrder(t *testing.T) {
	c := studio.Clock{Version: 4, Rotation: 2}
	next, err := c.Follow(studio.ClockOrder{Do: "next", Version: 3}, 3, time.Now())
	if studio.CodeOf(err) != studio.Conflict || next != c {
		t.Errorf("%+v, %v", next, err)
	}
	if _, err := c.Follow(studio.ClockOrder{Do: "stop", Version: 4}, 3, time.Now()); studio.CodeOf(err) != studio.Invalid {
		t.Errorf("an unknown order: %v", err)
	}
}

// A tablet that ran the clock without network hands it over as it was; senseless values are bounded.
func TestClockIsHandedOver(t *testing.T) {
	now := time.Date(2026, 3, 4, 16, 50, 0, 0, time.UTC)
	c, err := studio.Clock{Rotation: 1}.Follow(studio.ClockOrder{Do: "set", Rotation: 2, Elapsed: 90 * time.Second, Running: true}, 3, now)
	if err != nil || c.Rotation != 2 || c.Elapsed(now.Add(time.Minute)) != 150*time.Second || c.State() != "running" {
		t.Errorf("%+v, %v", c, err)
	}
	c, err = c.Follow(studio.ClockOrder{Do: "set", Version: 1, Rotation: 99, Elapsed: -time.Hour}, 3, now)
	if err != nil || c.Rotation != 3 || c.Elapsed(now) != 0 {
		t.Errorf("%+v, %v", c, err)
	}
}
