package report

import (
	"fmt"
	"io"
	"strings"
)

// WritePDF writes a section per child, each on one or two pages of its own with its own page numbers, to be handed out; only a note too
// long for the room may take more. Headings, lists and figures are tagged for readers who hear the page. The same values give the same
// bytes. Letters that the fonts lack (emoji, Chinese and others) are replaced, and the page says so.
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
	s.within("P", func() { s.paragraph(lead, left, []string{"Nobody was in this class in this term."}) })
	s.foot(1, about(r))
}

func (s *sheet) section(r TermReport, c Child) {
	part := func() {
		s.letters.lost = false
		s.child(r, c)
	}
	s.density = s.fitting(part)
	first := s.pdf.PageCount() + 1
	s.within("Sect", part)
	s.foot(first, about(r))
}

func (s *sheet) child(r TermReport, c Child) {
	s.startSection(c.Name)
	s.heading(r, c.Name)
	s.within("P", func() { s.paragraph(lead, left, s.wrap(lead, c.attendance()+" "+c.summary(), right-left)) })
	s.y += 4
	s.note(c.Note)
	s.block("Secured", c.securedItems())
	s.block("Working on", c.workingItems())
	s.block("Recheck", c.recheckItems())
	s.block("What comes next", c.nextItems())
	s.home(c.HomeDrills)
	s.ladders(c.Ladders)
	s.closing(r.Cautions)
}

func about(r TermReport) string { return strings.Join([]string{r.Studio, r.Class, r.Term}, " · ") }

func (s *sheet) heading(r TermReport, who string) {
	s.within("P", func() {
		s.writeRight(kicker, right, s.y, "Term report")
		width := right - left - 30
		s.paragraph(kicker, left, s.atMost(2, kicker, width, s.wrap(kicker, about(r), width)))
	})
	s.y += 2.4
	s.within("H1", func() { s.paragraph(title, left, s.atMost(2, title, right-left, s.wrap(title, who, right-left))) })
	s.y += 0.6
	s.within("P", func() {
		s.paragraph(aside, left, s.wrap(aside, span(r.From, r.To)+". Prepared on "+day(r.Prepared)+".", right-left))
	})
	s.y += 2.2
	s.rule(left, right, s.y, accent, 0.5)
	s.y += 3.4
}

// reading says what the words and numbers mean.
const reading = "A turn is one go at a rung, marked in class as missed, supported or clean. Waiting: other rungs come first. Open: may start. " +
	"Secure: the studio's rule was met in class; what that rests on stands beside it. Recheck: was secure, to be seen again. A range is a " +
	"95% interval: of a hundred such ranges about ninety-five hold the true share, were all turns alike; a child who learns changes. On a " +
	"ladder, the filled line is the share of clean turns in this term."

const lostLetters = "Some letters cannot be printed here and show as \uFFFD; they are kept as typed."

// closing sets how to read the report and the cautions at the foot of the last page of a section.
func (s *sheet) closing(cautions []string) {
	width := right - mainColumn
	careful := style{body.family, body.size, 3.9, black}
	quiet := style{body.family, body.size, 3.9, grey}
	explained := s.wrap(quiet, reading, width)
	if s.letters.lost {
		explained = append(explained, s.wrap(quiet, lostLetters, width)...)
	}
	var warned [][]string
	height := float64(len(explained))*quiet.leading + 7
	for _, c := range cautions {
		lines := s.wrap(careful, c, width-3)
		warned = append(warned, lines)
		height += float64(len(lines))*careful.leading + 0.5
	}
	s.need(height)
	s.y = max(s.y, bottom-height)
	s.rule(left, right, s.y, pale, 0.15)
	s.y += 2.2
	s.within("H2", func() { s.sideHead("How to read this") })
	s.within("P", func() { s.paragraph(quiet, mainColumn, explained) })
	s.y += 2.2
	s.rule(left, right, s.y, warm, 0.5)
	s.y += 2.2
	s.within("H2", func() {
		s.write(style{sidehead.family, sidehead.size, sidehead.leading, warm}, left, s.y-0.4, "With care")
	})
	s.within("L", func() {
		for _, lines := range warned {
			s.ornament(func() { s.write(careful, mainColumn, s.y, "–") })
			s.within("LI", func() { s.within("LBody", func() { s.paragraph(careful, mainColumn+3, lines) }) })
			s.y += 0.5
		}
	})
}
