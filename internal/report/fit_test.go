package report

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// inventedChild is a child with up to 17 ladders and everything else in any amount; seeded.
func inventedChild(r *rand.Rand, ladders int) Child {
	name := func(words int) string {
		var all []string
		for range 1 + r.IntN(words) {
			all = append(all, []string{"slow", "Ørsted", "wheel", "bridge", "handstand", "Nguyễn", "over", "a", "lowered", "wall", "straightforwardly"}[r.IntN(11)])
		}
		return strings.Join(all, " ")
	}
	c := Child{Name: name(14), Lessons: 20, Attended: r.IntN(21)}
	for range ladders {
		l := Ladder{Name: name(8)}
		for range 1 + r.IntN(14) {
			marks := r.IntN(3) * r.IntN(40)
			rung := Rung{name(10), States()[r.IntN(5)], r.IntN(marks + 1), marks}
			l.Rungs = append(l.Rungs, rung)
			switch rung.State {
			case StateSecure:
				c.Secured = append(c.Secured, Secured{l.Name, rung.Name, on(2026, 3, 1+r.IntN(28)), "Left 4 of the last 5 clean, in 3 lessons; right 4 of the last 5 clean, in 2 lessons. Seen by a teacher."})
			case StateWorking:
				c.Working = append(c.Working, Working{l.Name, rung.Name, rung.Clean, marks, 0, 1})
			case StateRecheck:
				c.Recheck = append(c.Recheck, Recheck{l.Name, rung.Name, on(2026, 1, 20), "Was secure from 6 August 2025; long unseen."})
			}
		}
		c.Ladders = append(c.Ladders, l)
	}
	for range r.IntN(5) {
		c.Next = append(c.Next, Next{name(8), name(10), "May start: “" + name(10) + "” and “" + name(10) + "” have been secured."})
	}
	for range r.IntN(9) {
		c.HomeDrills = append(c.HomeDrills, HomeDrill{name(6), "3 times 20 seconds", name(40), []string{"all-fours", "all-fours-forward"}[:r.IntN(3)]})
	}
	for len(c.Note) < 2000*r.IntN(2) {
		c.Note += name(12) + [...]string{" ", " ", " ", "\n"}[r.IntN(4)]
	}
	if letters := []rune(c.Note); len(letters) > 2000 {
		c.Note = string(letters[:2000])
	}
	return c
}

// Whatever a studio can enter for a child fits on two pages, with every heading, figure of turns and caution.
func TestPDFIsOneOrTwoPages(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 11))
	for ladders := range 18 {
		for range 3 {
			one := sample()
			one.Children = []Child{inventedChild(r, ladders)}
			s, err := newSheet("Fit", one.Prepared)
			if err != nil {
				t.Fatal(err)
			}
			s.section(one, one.Children[0])
			if n := s.pdf.PageCount(); n > mostPages {
				t.Errorf("%d ladders, a note of %d letters: %d pages at the closest", ladders, len(one.Children[0].Note), n)
			}
		}
	}
}

// The most: 17 ladders of 14 rungs that have been met, and a note of 2,000 letters a line each; a note of 2,000 wide ones alone may add
// pages.
func TestPDFAtTheMost(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	one := sample()
	c := inventedChild(r, 17)
	for i := range c.Ladders {
		for len(c.Ladders[i].Rungs) < 14 {
			c.Ladders[i].Rungs = append(c.Ladders[i].Rungs, Rung{strings.Repeat("long name ", 8), StateWorking, 3, 30})
		}
	}
	one.Children = []Child{c}
	for note, most := range map[string]int{strings.Repeat("a\n", 1000): 2, strings.Repeat("word, ", 333): 2, strings.Repeat("W", 2000): 3} {
		one.Children[0].Note = note
		all := pages(t, writePDF(t, one))
		if len(all) > most {
			t.Errorf("note %.8q: %d pages", note, len(all))
		}
		if text := all[len(all)-1]; !strings.Contains(text, "even if it eases") || !strings.Contains(text, fmt.Sprintf("page %d of %[1]d", len(all))) {
			t.Errorf("note %.8q: the last page has no caution or number", note)
		}
	}
}

// A drill is set with all of its caution or not at all, and then counted.
func TestPDFNeverCutsACaution(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 5 {
		one := sample()
		c := inventedChild(r, 17)
		for i := range c.HomeDrills {
			c.HomeDrills[i].Name, c.HomeDrills[i].Caution = fmt.Sprintf("Drill number %d", i), fmt.Sprintf("Begins %d. %s ends %[1]d.", i, c.HomeDrills[i].Caution)
		}
		one.Children = []Child{c}
		text, set := strings.Join(pages(t, writePDF(t, one)), " "), 0
		for i := range c.HomeDrills {
			begins, ends := strings.Contains(text, fmt.Sprintf("Begins %d.", i)), strings.Contains(text, fmt.Sprintf("ends %d.", i))
			if begins != ends {
				t.Errorf("the caution of drill %d is cut", i)
			}
			if begins {
				set++
			}
		}
		if left := len(c.HomeDrills) - set; left > 0 && !strings.Contains(text, count(left, "drill")+" given for home") {
			t.Errorf("%d drills are left out without a word", left)
		}
	}
}
