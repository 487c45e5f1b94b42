package studio_test

import (
	"testing"

	"rungbook/internal/studio"
)

func TestSettings(t *testing.T) {
	s := studio.DefaultSettings()
	if err := s.Validate(); err != nil {
		t.Fatalf("the defaults are refused: %v", err)
	}
	for age, back := range map[int]int{3: 9, 5: 9, 6: 15, 8: 15, 9: 24, 12: 24, 13: 30, 40: 30} {
		if got := s.CapsAt(age).Lesson.Back; got != back {
			t.Errorf("back in a lesson at %d: %d, want %d", age, got, back)
		}
	}
	spoil := map[string]func(*studio.Settings){
		"more clean than looked at": func(s *studio.Settings) { s.Secure.Clean = 6 },
		"more lessons than clean":   func(s *studio.Settings) { s.Secure.Lessons = 5 },
		"memory that shrinks":       func(s *studio.Settings) { s.Memory.Growth = 0.5 },
		"no bands":                  func(s *studio.Settings) { s.Caps = nil },
		"bands out of order":        func(s *studio.Settings) { s.Caps[2].FromAge = 4 },
		"a cap below zero":          func(s *studio.Settings) { s.Caps[0].Week.Back = -1 },
		"no cues":                   func(s *studio.Settings) { s.Cues = 0 },
		"eight days a week":         func(s *studio.Settings) { s.HomeDays = 8 },
	}
	for name, change := range spoil {
		s := studio.DefaultSettings()
		change(&s)
		if s.Validate() == nil {
			t.Errorf("%s is taken", name)
		}
	}
}
