package report

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavuserifcondensed"
)

// Measures of the A4 page in mm. Side heads stand in the left column, the text in the main one.
const (
	pageWidth   = 210.0
	left        = 18.0
	right       = pageWidth - left
	mainColumn  = left + 31
	top         = 16.0
	bottom      = 278.0 // of the text; the running foot is below
	footLine    = 286.0
	paragraphMM = 1.5
)

type ink struct{ r, g, b int }

var (
	black  = ink{32, 36, 40}
	grey   = ink{98, 104, 110}
	pale   = ink{200, 204, 208}
	paper  = ink{237, 241, 241}
	accent = ink{22, 78, 84}
	warm   = ink{156, 74, 20}
)

// style is how a text is set: size in points, leading in mm from baseline to baseline.
type style struct {
	family  string
	size    float64
	leading float64
	ink     ink
}

var (
	title    = style{"serif", 23, 9.6, black}
	kicker   = style{"sans", 9, 4.2, accent}
	sidehead = style{"serif", 10.4, 4.6, accent}
	lead     = style{"serif", 10.6, 5, black}
	name     = style{"serif", 10, 4.6, black}
	body     = style{"sans", 9, 4.1, black}
	aside    = style{"sans", 9, 4.2, grey}
	fine     = style{"sans", 8, 3.6, grey} // running heads and feet
	rungName = style{"sans", 8, 3.4, black}
	rungFact = style{"sans", 7, 2.9, grey}
)

// sheet is the paper under the pen: y is the upper edge of what comes next, in mm. A dry sheet moves the pen and draws nothing.
type sheet struct {
	pdf     *fpdf.Fpdf
	letters *letters
	tags    *tags
	density density
	dry     bool
	whole   bool // inside of one piece of marked content
	page    int  // of the section, from 1
	y       float64
	running string // said at the head of every further page of the section
}

func newSheet(heading string, made time.Time) (*sheet, error) {
	known, err := newLetters()
	if err != nil {
		return nil, err
	}
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetProducer("Rungbook", true)
	pdf.SetLang("en-GB")
	pdf.SetTitle(known.printable(heading), true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.AddUTF8FontFromBytes("sans", "", dejavusanscondensed.TTF)
	pdf.AddUTF8FontFromBytes("serif", "", dejavuserifcondensed.TTF)
	return &sheet{pdf: pdf, letters: known, tags: newTags()}, nil
}

// startSection begins a new page and a mark in the outline of the file.
func (s *sheet) startSection(running string) {
	s.running = s.letters.printable(running)
	s.page, s.y = 1, top
	if !s.dry {
		s.pdf.AddPage()
		s.pdf.Bookmark(s.running, 0, 0)
	}
}

func (s *sheet) turnPage() {
	s.page++
	s.y = top + 10
	if s.dry {
		return
	}
	s.pdf.AddPage()
	s.ornament(func() { s.write(aside, left, top, s.fit(aside, s.running, right-left-20)+", continued") })
}

// need turns the page when less than h is left on it, and says whether it did. What is taller than a page starts where it is.
func (s *sheet) need(h float64) bool {
	const rounding = 0.01
	if s.y+h <= bottom+rounding || h > bottom-top-10 && s.y < bottom-40 {
		return false
	}
	s.turnPage()
	return true
}

// write sets one printable line with its upper edge at y. A blank ends it, for readers who hear lines one after another.
func (s *sheet) write(st style, x, y float64, line string) {
	if s.dry || line == "" {
		return
	}
	const ascent = 0.3 // mm per point: the baseline under the upper edge
	drawn, actual := visual(line), ""
	if drawn != line {
		actual = line + " "
	}
	s.setFont(st, line)
	s.pdf.SetTextColor(st.ink.r, st.ink.g, st.ink.b)
	s.marked(actual, func() { s.pdf.Text(x, y+st.size*ascent, drawn+" ") })
}

func (s *sheet) writeRight(st style, x, y float64, line string) {
	s.write(st, x-s.width(st, line), y, line)
}

func (s *sheet) setFont(st style, line string) {
	s.pdf.SetFont(s.letters.family(st.family, line), "", st.size)
}

func (s *sheet) width(st style, line string) float64 {
	s.setFont(st, line)
	return s.pdf.GetStringWidth(line)
}

// wrap breaks a text into printable lines no wider than w mm: at blanks, and inside of a word that is wider than a line.
func (s *sheet) wrap(st style, text string, w float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s.letters.printable(text)) {
		if line != "" && s.width(st, line+" "+word) <= w {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for s.width(st, word) > w {
			head := s.headOf(st, word, w)
			lines = append(lines, head)
			word = word[len(head):]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// headOf is as much of a word as fits into w mm, at least one letter.
func (s *sheet) headOf(st style, word string, w float64) string {
	end := 0
	for i, r := range word {
		next := i + len(string(r))
		if end > 0 && s.width(st, word[:next]) > w {
			break
		}
		end = next
	}
	return word[:end]
}

// fit shortens a printable line to w mm.
func (s *sheet) fit(st style, line string, w float64) string {
	if s.width(st, line) <= w {
		return line
	}
	return strings.TrimSpace(s.headOf(st, line, w-s.width(st, "…"))) + "…"
}

// paragraph sets lines from s.y on and moves s.y below them. Where a page turns inside of it, at least two lines stand on either side.
func (s *sheet) paragraph(st style, x float64, lines []string) {
	for len(lines) > 0 {
		n := min(len(lines), max(int((bottom-s.y)/st.leading+0.001), 0))
		if n < len(lines) {
			n = min(n, len(lines)-2)
		}
		if n < 2 && n < len(lines) {
			n = 0
		}
		for _, line := range lines[:n] {
			s.write(st, x, s.y, line)
			s.y += st.leading
		}
		if lines = lines[n:]; len(lines) > 0 {
			s.turnPage()
		}
	}
}

func (s *sheet) rule(x1, x2, y float64, colour ink, width float64) {
	s.ornament(func() {
		s.pdf.SetDrawColor(colour.r, colour.g, colour.b)
		s.pdf.SetLineWidth(width)
		s.pdf.Line(x1, y, x2, y)
	})
}

// foot writes the running foot on the pages from first to the last: what it is, and "name, page 1 of 2".
func (s *sheet) foot(first int, about string) {
	if s.dry {
		return
	}
	last := s.pdf.PageCount()
	about = s.fit(fine, s.letters.printable(about), (right-left)*0.6)
	for n := first; n <= last; n++ {
		s.pdf.SetPage(n)
		s.rule(left, right, footLine-2.4, pale, 0.15)
		pages := fmt.Sprintf("page %d of %d", n-first+1, last-first+1)
		s.ornament(func() {
			s.write(fine, left, footLine, about)
			s.writeRight(fine, right, footLine, s.fit(fine, s.running, (right-left)*0.28)+", "+pages)
		})
	}
}

func (s *sheet) bytes() ([]byte, error) {
	var b bytes.Buffer
	if err := s.pdf.Output(&b); err != nil {
		return nil, fmt.Errorf("write PDF: %w", err)
	}
	return addTags(b.Bytes(), s.tags)
}
