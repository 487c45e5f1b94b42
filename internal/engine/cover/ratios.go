// Package cover says whether enough people are here: adults for the ages present, and signed-off spotters for each rung.
//
// It helps to plan and clears nothing: the teacher present decides. Days are calendar days: of every time.Time only the
// year, month and day in its own zone count.
package cover

import (
	"fmt"
	"slices"
)

// Caution belongs beside every answer of this package that people see.
const Caution = "A planning aid, not a clearance: the teacher present decides. " +
	"Someone who is spotting is not watching the rest of the room."

// AdultAge is the age in years from which a helper counts as a supervising adult.
// Source: NSPCC Learning, Recommended adult to child ratios (only those aged 18 or over count).
const AdultAge = 18

// Band is one line of a ratio table: from FromAge years on, one adult for at most Children children.
type Band struct {
	FromAge  int
	Children int
}

// Ratios is a ratio table, youngest band first. Floor is the least number of adults however small the group.
// The zero value means NSPCC().
type Ratios struct {
	Bands []Band
	Floor int
}

// NSPCC is the default table. Source: NSPCC Learning, Recommended adult to child ratios: under 2 1:3, 2-3 1:4, 4-8 1:6,
// 9-12 1:8, 13-18 1:10, never fewer than two adults. They are minimums; additional needs may ask for more.
func NSPCC() Ratios {
	return Ratios{Bands: []Band{{0, 3}, {2, 4}, {4, 6}, {9, 8}, {13, 10}}, Floor: 2}
}

// Validate reports the first field of the table that makes no sense.
func (r Ratios) Validate() error {
	if r.Floor < 0 {
		return fmt.Errorf("cover: least number of adults is %d, want 0 or more", r.Floor)
	}
	for i, b := range r.Bands {
		if b.Children < 1 {
			return fmt.Errorf("cover: from age %d one adult for %d children, want at least 1 child", b.FromAge, b.Children)
		}
		if i > 0 && b.FromAge <= r.Bands[i-1].FromAge {
			return fmt.Errorf("cover: band from age %d must come before the band from age %d", b.FromAge, r.Bands[i-1].FromAge)
		}
		if i > 0 && b.Children < r.Bands[i-1].Children {
			return fmt.Errorf("cover: from age %d fewer children an adult than for younger ones", b.FromAge)
		}
	}
	return nil
}

// AdultsNeeded is the least number of adults free of spotting for children of these ages in years. The table does not
// define mixed groups: as the cautious choice the youngest child's band holds for all. No children need no adult.
func AdultsNeeded(ages []int, r Ratios) int {
	if len(ages) == 0 {
		return 0
	}
	per := r.childrenPerAdult(slices.Min(ages))
	return max(r.orDefault().Floor, (len(ages)+per-1)/per)
}

func (r Ratios) orDefault() Ratios {
	if len(r.Bands) == 0 {
		return Ratios{Bands: NSPCC().Bands, Floor: max(r.Floor, NSPCC().Floor)}
	}
	return r
}

func (r Ratios) childrenPerAdult(age int) int {
	bands := r.orDefault().Bands
	per := bands[0].Children
	for _, b := range bands {
		if age >= b.FromAge {
			per = b.Children
		}
	}
	return max(per, 1)
}
