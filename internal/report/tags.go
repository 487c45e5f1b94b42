package report

import "fmt"

// element is a piece of the file's structure, told to readers who hear the page: a heading, a paragraph, a list, a figure. alt is what
// a figure says. role is a standard structure type (ISO 32000-1, 14.8.4).
type element struct {
	role, alt string
	kids      []kid
}

// kid is an element, or, where that is nil, the marked content of that number on a page.
type kid struct {
	element      *element
	page, number int
}

// tags collects the structure while pages are drawn, in reading order.
type tags struct {
	root   *element
	open   []*element
	owners map[int][]*element // by page, in the order of the numbers of its marked content
}

func newTags() *tags {
	root := &element{role: "Document"}
	return &tags{root: root, open: []*element{root}, owners: map[int][]*element{}}
}

// within draws an element, inside of the one that is open.
func (s *sheet) within(role string, draw func()) { s.element(&element{role: role}, draw) }

func (s *sheet) element(e *element, draw func()) {
	if s.dry {
		draw()
		return
	}
	last := s.tags.open[len(s.tags.open)-1]
	last.kids = append(last.kids, kid{element: e})
	s.tags.open = append(s.tags.open, e)
	draw()
	s.tags.open = s.tags.open[:len(s.tags.open)-1]
}

// picture draws a figure that reads as its words; all of it is one piece of content on one page.
func (s *sheet) picture(alt string, draw func()) {
	if s.dry {
		return
	}
	s.element(&element{role: "Figure", alt: alt}, func() { s.marked("", draw) })
}

// marked draws content of the innermost open element; actual is what its letters say where they do not stand in reading order.
func (s *sheet) marked(actual string, draw func()) {
	if s.whole {
		draw()
		return
	}
	page, owner := s.pdf.PageNo(), s.tags.open[len(s.tags.open)-1]
	number := len(s.tags.owners[page])
	s.tags.owners[page] = append(s.tags.owners[page], owner)
	owner.kids = append(owner.kids, kid{page: page, number: number})
	said := ""
	if actual != "" {
		said = " /ActualText " + hexText(actual)
	}
	s.pdf.RawWriteStr(fmt.Sprintf("/Span <</MCID %d%s>> BDC", number, said))
	s.whole = true
	draw()
	s.whole = false
	s.pdf.RawWriteStr("EMC")
}

// ornament draws what says nothing to those who do not see it: rules, running heads and feet.
func (s *sheet) ornament(draw func()) {
	if s.dry {
		return
	}
	if s.whole {
		draw()
		return
	}
	s.pdf.RawWriteStr("/Artifact BMC")
	s.whole = true
	draw()
	s.whole = false
	s.pdf.RawWriteStr("EMC")
}
