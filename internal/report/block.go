package report

import (
	"fmt"
	"strings"

	"rungbook/internal/figure"
)

// item is an entry of a block: a name, what it belongs to, and a sentence, which is said in brief where it has no room; figure is names
// of poses.
type item struct {
	name, of, words, brief string
	figure                 []string
}

func (c Child) securedItems() []item {
	if len(c.Secured) == 0 {
		return []item{{words: "No rung was secured in this term."}}
	}
	var items []item
	for _, e := range c.Secured {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.words(), brief: e.brief()})
	}
	return items
}

func (c Child) workingItems() []item {
	if len(c.Working) == 0 {
		return []item{{words: "No rung is being worked on."}}
	}
	var items []item
	for _, e := range c.Working {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.words(), brief: e.brief()})
	}
	return items
}

func (c Child) recheckItems() (items []item) {
	for _, e := range c.Recheck {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.words(), brief: e.brief()})
	}
	return items
}

func (c Child) nextItems() (items []item) {
	for _, e := range c.Next {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.Why})
	}
	return items
}

// note sets the teacher's words, a paragraph a line.
func (s *sheet) note(text string) {
	lines := strings.Split(text, "\n")
	if s.density.joinsNote {
		lines = []string{text}
	}
	begun := false
	for _, line := range lines {
		set := s.wrap(body, line, right-mainColumn)
		if len(set) == 0 {
			continue
		}
		if !begun {
			s.beginBlock("From the teacher", 4*body.leading)
			s.y += 0.5 // down to the base line of the side head
		}
		begun = true
		s.within("P", func() { s.paragraph(body, mainColumn, set) })
		s.y += paragraphMM
	}
	if begun {
		s.y += 1.6
	}
}

// block sets items under a side head; without items there is no block. Those beyond the density's rows are only named.
func (s *sheet) block(sideHead string, items []item) {
	rows := items
	if most := s.density.rows; most > 0 && len(items) > most {
		rows = items[:most]
	}
	s.items(sideHead, s.layItems(rows), s.also(items[len(rows):]))
}

// home sets the drills for home. A drill is set with all that is said of it or not at all: a caution is never cut.
func (s *sheet) home(drills []HomeDrill) {
	const mostLines = 6 // of a drill where room is scarce
	if len(drills) == 0 {
		s.items("At home", s.layItems([]item{{words: "Nothing to practise at home for now."}}), nil)
		return
	}
	var set []itemLines
	for _, d := range drills {
		it := item{name: d.Name, of: d.Dose, words: d.Caution}
		if s.density.figures {
			it.figure = d.Figure
		}
		if s.density.beside {
			it = item{name: d.Name, words: strings.TrimSpace(d.Dose + ". " + d.Caution), figure: it.figure}
		}
		l := s.layItem(it, 0)
		if most := s.density.rows; most > 0 && (len(set) == most || len(l.words) > mostLines) {
			continue
		}
		set = append(set, l)
	}
	var more []string
	if n := len(drills) - len(set); n > 0 {
		more = s.wrap(body, fmt.Sprintf("%s given for home %s not printed here for want of room: ask the teacher.", count(n, "drill"), areIs(n)), right-mainColumn)
	}
	s.items("At home", set, more)
}

func areIs(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// items sets a block of items that are laid out, and lines after them.
func (s *sheet) items(sideHead string, items []itemLines, after []string) {
	if len(items)+len(after) == 0 {
		return
	}
	first := float64(len(after)) * body.leading
	if len(items) > 0 {
		first = items[0].height()
	}
	s.beginBlock(sideHead, first)
	s.list(items, func(i int, l itemLines) {
		if i > 0 && s.need(l.height()) {
			s.ornament(func() { s.sideHead(sideHead) })
		}
		s.setItem(l)
	})
	if len(after) > 0 {
		s.within("P", func() { s.paragraph(body, mainColumn, after) })
		s.y += paragraphMM
	}
	s.y += 1.6
}

// list tells named items as a list, a sentence alone as a paragraph.
func (s *sheet) list(items []itemLines, set func(int, itemLines)) {
	if len(items) == 1 && len(items[0].name) == 0 {
		s.within("P", func() { set(0, items[0]) })
		return
	}
	if len(items) == 0 {
		return
	}
	s.within("L", func() {
		for i, l := range items {
			s.within("LI", func() { s.within("LBody", func() { set(i, l) }) })
		}
	})
}

// beginBlock rules off what came before and sets the side head, with room for what stands first beside it.
func (s *sheet) beginBlock(sideHead string, first float64) {
	s.need(first + 3)
	s.rule(left, right, s.y, pale, 0.15)
	s.y += 2.2
	s.within("H2", func() { s.sideHead(sideHead) })
}

func (s *sheet) sideHead(text string) {
	for i, line := range s.wrap(sidehead, text, mainColumn-left-4) {
		s.write(sidehead, left, s.y+float64(i)*sidehead.leading, line)
	}
}

// also names the items that are not set, in three lines at most, or one where the density is that of one line.
func (s *sheet) also(items []item) []string {
	most := 3
	if s.density.lines == 1 {
		most = 1
	}
	for named := len(items); named >= 0; named-- {
		text := "Also: "
		for i, it := range items[:named] {
			if i > 0 {
				text += " · "
			}
			text += it.name
		}
		switch left := len(items) - named; {
		case named == 0:
			text = fmt.Sprintf("And %d more.", left)
		case left > 0:
			text += fmt.Sprintf(" · and %d more", left)
		}
		if lines := s.wrap(body, text, right-mainColumn); len(items) > 0 && len(lines) <= most {
			return lines
		}
	}
	return nil
}

// itemLines is an item broken into lines; of goes behind the name when there is room. A figure stands to the right of the lines.
// Where beside is set, the words begin at it, next to the name.
type itemLines struct {
	name, of, words []string
	behind          float64 // where of begins behind the name; 0 for below it
	figure          figure.Drawing
	edge            float64 // where the lines end
	beside          float64
}

// besideColumn is where words begin that stand next to a name.
const besideColumn = mainColumn + 57

func (s *sheet) layItems(items []item) []itemLines {
	var laid []itemLines
	for _, it := range items {
		laid = append(laid, s.layItem(it, s.density.lines))
	}
	return laid
}

// layItem breaks an item into lines, its words into at most most of them (0 is all).
func (s *sheet) layItem(it item, most int) itemLines {
	drawn := figure.Draw(it.figure)
	l := itemLines{figure: drawn, edge: right - drawn.Width*bodyHeight}
	wide := l.edge - mainColumn
	if s.density.beside && it.name != "" {
		l.beside = besideColumn
		narrow := besideColumn - mainColumn - 3
		l.name = s.atMost(2, name, narrow, s.wrap(name, it.name, narrow))
		wide = l.edge - besideColumn
	} else {
		l.name = s.atMost(2, name, wide, s.wrap(name, it.name, wide))
		l.of = s.atMost(2, aside, wide, s.wrap(aside, it.of, wide))
		l.behind = s.behind(l)
	}
	l.words = s.wrap(body, it.words, wide)
	if most > 0 && len(l.words) > most {
		l.words = s.atMost(most, body, wide, s.wrap(body, it.brief, wide))
	}
	return l
}

func (l itemLines) height() float64 {
	names, words := float64(len(l.name))*name.leading, float64(len(l.words))*body.leading
	if l.behind == 0 {
		names += float64(len(l.of)) * aside.leading
	}
	lines := names + words
	if l.beside > 0 {
		lines = max(names, words+besideDrop)
	}
	return max(lines, l.figure.Height*bodyHeight)
}

// besideDrop puts words on the base line of the name next to them.
const besideDrop = 0.5

func (s *sheet) setItem(l itemLines) {
	begin, page := s.y, s.page
	s.figure(l.figure, l.edge, s.y)
	switch {
	case len(l.name) == 0:
		s.y += 0.5 // down to the base line of the side head
		s.paragraph(body, mainColumn, l.words)
	case l.beside > 0:
		s.within("P", func() { s.paragraph(name, mainColumn, l.name) })
		s.y = begin + besideDrop
		s.told(l.words, l.beside)
	default:
		s.within("P", func() { s.setNames(l) })
		s.told(l.words, mainColumn)
	}
	if s.page == page {
		s.y = max(s.y, begin+l.height())
	}
	s.y += paragraphMM
}

func (s *sheet) told(words []string, x float64) {
	if len(words) > 0 {
		s.within("P", func() { s.paragraph(body, x, words) })
	}
}

// behind is where the line of what an item belongs to begins, when name and line are one each and fit beside each other.
func (s *sheet) behind(l itemLines) float64 {
	if len(l.name) != 1 || len(l.of) != 1 {
		return 0
	}
	after := mainColumn + s.width(name, l.name[0]) + 3
	if after+s.width(aside, l.of[0]) > l.edge {
		return 0
	}
	return after
}

func (s *sheet) setNames(l itemLines) {
	s.paragraph(name, mainColumn, l.name)
	if l.behind > 0 {
		s.write(aside, l.behind, s.y-name.leading+0.4, l.of[0])
		return
	}
	s.paragraph(aside, mainColumn, l.of)
}
