package report

import (
	"fmt"
	"io"
	"strings"

	"rungbook/internal/figure"
)

// WritePDF writes a section per child, each on pages of its own with its own page numbers, to be handed out. The same values
// give the same bytes. Letters that the fonts lack (emoji, Chinese and others) are replaced, and the page says so.
func WritePDF(w io.Writer, r TermReport) error {
	if err := r.check(); err != nil {
		return err
	}
	s, err := newSheet(fmt.Sprintf("Term report, %s, %s", r.Class, r.Term), r.Prepared)
	if err != nil {
		return err
	}
	if len(r.Children) == 0 {
		s.emptyReport(r)
	}
	for _, c := range r.Children {
		s.section(r, c)
	}
	file, err := s.bytes()
	if err != nil {
		return fmt.Errorf("term report of %s: %w", r.Class, err)
	}
	if _, err := w.Write(file); err != nil {
		return fmt.Errorf("write term report: %w", err)
	}
	return nil
}

func (s *sheet) emptyReport(r TermReport) {
	s.startSection(r.Class)
	s.heading(r, r.Class)
	s.paragraph(lead, left, []string{"Nobody was in this class in this term."})
	s.foot(1, about(r))
}

func (s *sheet) section(r TermReport, c Child) {
	s.letters.lost = false
	s.startSection(c.Name)
	first := s.pdf.PageCount()
	s.heading(r, c.Name)
	s.paragraph(lead, left, s.wrap(lead, c.attendance()+" "+c.summary(), right-left))
	s.y += 5
	s.note(c.Note)
	s.block("Secured", c.securedItems())
	s.block("Working on", c.workingItems())
	s.block("Recheck", c.recheckItems())
	s.block("What comes next", c.nextItems())
	s.block("At home", c.homeItems())
	s.ladders(c.Ladders)
	s.closing(r.Cautions)
	s.foot(first, about(r))
}

func about(r TermReport) string { return strings.Join([]string{r.Studio, r.Class, r.Term}, " · ") }

func (s *sheet) heading(r TermReport, who string) {
	s.writeRight(kicker, right, s.y, "Term report")
	s.paragraph(kicker, left, s.wrap(kicker, about(r), right-left-30))
	s.y += 3
	s.paragraph(title, left, s.wrap(title, who, right-left))
	s.y += 1
	s.paragraph(aside, left, s.wrap(aside, span(r.From, r.To)+". Prepared on "+day(r.Prepared)+".", right-left))
	s.y += 2.5
	s.rule(left, right, s.y, accent, 0.5)
	s.y += 4
}

// item is an entry of a block: a name, what it belongs to, and a sentence; figure is names of poses.
type item struct {
	name, of, words string
	figure          []string
}

func (c Child) securedItems() []item {
	if len(c.Secured) == 0 {
		return []item{{words: "No rung was secured in this term."}}
	}
	var items []item
	for _, e := range c.Secured {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.words()})
	}
	return items
}

func (c Child) workingItems() []item {
	if len(c.Working) == 0 {
		return []item{{words: "No rung is being worked on."}}
	}
	var items []item
	for _, e := range c.Working {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.words()})
	}
	return items
}

func (c Child) recheckItems() (items []item) {
	for _, e := range c.Recheck {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.words()})
	}
	return items
}

func (c Child) nextItems() (items []item) {
	for _, e := range c.Next {
		items = append(items, item{name: e.Rung, of: e.Ladder, words: e.Why})
	}
	return items
}

func (c Child) homeItems() []item {
	if len(c.HomeDrills) == 0 {
		return []item{{words: "Nothing to practise at home for now."}}
	}
	var items []item
	for _, d := range c.HomeDrills {
		items = append(items, item{name: d.Name, of: d.Dose, words: d.Caution, figure: d.Figure})
	}
	return items
}

// note sets the teacher's words, a paragraph a line.
func (s *sheet) note(text string) {
	var items []item
	for _, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) != "" {
			items = append(items, item{words: line})
		}
	}
	s.block("From the teacher", items)
}

// block sets items under a side head; without items there is no block.
func (s *sheet) block(sideHead string, items []item) {
	for i, it := range items {
		lines := s.layItem(it)
		turned := s.need(lines.height() + 3)
		if i == 0 {
			s.rule(left, right, s.y, pale, 0.15)
			s.y += 2.4
		}
		if i == 0 || turned {
			s.sideHead(sideHead)
		}
		s.setItem(lines)
	}
	if len(items) > 0 {
		s.y += 2
	}
}

func (s *sheet) sideHead(text string) {
	for i, line := range s.wrap(sidehead, text, mainColumn-left-4) {
		s.write(sidehead, left, s.y+float64(i)*sidehead.leading, line)
	}
}

// itemLines is an item broken into lines; of goes behind the name when there is room. A figure stands to the right of the lines.
type itemLines struct {
	name, of, words []string
	figure          figure.Drawing
	edge            float64 // where the lines end
}

func (s *sheet) layItem(it item) itemLines {
	drawn := figure.Draw(it.figure)
	edge := right - drawn.Width*bodyHeight
	width := edge - mainColumn
	return itemLines{s.wrap(name, it.name, width), s.wrap(aside, it.of, width), s.wrap(body, it.words, width), drawn, edge}
}

func (l itemLines) height() float64 {
	lines := float64(len(l.name))*name.leading + float64(len(l.of))*aside.leading + float64(len(l.words))*body.leading
	return max(lines, l.figure.Height*bodyHeight)
}

func (s *sheet) setItem(l itemLines) {
	end := s.y + l.height()
	s.figure(l.figure, l.edge, s.y)
	if len(l.name) == 0 {
		s.y += 0.5 // down to the base line of the side head
	}
	s.paragraph(name, mainColumn, l.name)
	if len(l.name) == 1 && len(l.of) == 1 {
		after := mainColumn + s.width(name, l.name[0]) + 3
		if after+s.width(aside, l.of[0]) <= l.edge {
			s.write(aside, after, s.y-name.leading+0.6, l.of[0])
			l.of = nil
		}
	}
	s.paragraph(aside, mainColumn, l.of)
	s.paragraph(body, mainColumn, l.words)
	if len(l.figure.Strokes) > 0 {
		s.y = max(s.y, end)
	}
	s.y += paragraphMM
}

// reading says what the words and numbers mean.
const reading = "A turn is one go at a rung, marked by a teacher or assistant as missed, supported or clean. Waiting: other rungs " +
	"come first. Open: may start. Secure: the studio's rule was met in class; what that rests on stands beside it. Recheck: was " +
	"secure, to be seen again. A range is a 95% interval: of a hundred such ranges about ninety-five hold the true share; it " +
	"takes all turns as alike, while a child who learns changes. The filled line under a rung is its share of clean turns in " +
	"this term."

const lostLetters = "Some letters cannot be printed here and show as \uFFFD; they are kept as typed."

// closing sets how to read the report and the cautions at the foot of the last page of a section.
func (s *sheet) closing(cautions []string) {
	width := right - mainColumn
	explained := s.wrap(fine, reading, width)
	if s.letters.lost {
		explained = append(explained, s.wrap(fine, lostLetters, width)...)
	}
	var warned [][]string
	height := float64(len(explained))*fine.leading + 8
	careful := style{fine.family, 7.8, 3.7, black}
	for _, c := range cautions {
		lines := s.wrap(careful, c, width-3)
		warned = append(warned, lines)
		height += float64(len(lines))*careful.leading + 0.8
	}
	s.need(height)
	s.y = max(s.y, bottom-height)
	s.rule(left, right, s.y, pale, 0.15)
	s.y += 2.4
	s.write(style{sidehead.family, 8.6, 4, grey}, left, s.y-0.3, "How to read this")
	s.paragraph(fine, mainColumn, explained)
	s.y += 2.6
	s.rule(left, right, s.y, warm, 0.5)
	s.y += 2.4
	s.write(style{sidehead.family, sidehead.size, sidehead.leading, warm}, left, s.y-0.6, "With care")
	for _, lines := range warned {
		s.write(careful, mainColumn, s.y, "–")
		s.paragraph(careful, mainColumn+3, lines)
		s.y += 0.8
	}
}
