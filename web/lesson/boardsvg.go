package lesson

import (
	"fmt"
	"html"
	"strings"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Measures of the picture, in px. Text is set in whatever sans-serif the reader has, so lines are broken early.
const (
	cellWidth  = 310
	sideWidth  = 118
	margin     = 24
	lineHeight = 18
	cellPad    = 12
	cellChars  = 42 // characters of small text that fit a cell
	sideChars  = 14
)

// BoardSVG draws the plan of a lesson as a picture: stations across, rotations down, and one line on top that says how good it is. It
// holds names, so it is for those who may see the plan. It needs no font and no style of its own.
func BoardSVG(s app.LessonSheet) string {
	board := newBoard(s, false)
	width := 2*margin + sideWidth + cellWidth*len(board.Stations)
	d := &drawing{}
	y := margin + 24
	d.text(margin, y, 24, true, ink, s.Class.Name+", "+s.Lesson.StartsAt.Format(day)+", "+span(s.Lesson.StartsAt, s.Lesson.EndsAt()))
	for _, line := range kit.SplitWords(quality(*s.Plan)+" "+people(s), (width-2*margin)/8, 2) {
		y += 24
		d.text(margin, y, 15, false, ink, line)
	}
	for _, sentence := range s.Plan.Breaches {
		y = d.breach(margin, y+lineHeight, (width-2*margin)/8, sentence)
	}
	y += 18
	y = d.head(y, board)
	for _, row := range board.Rows {
		y = d.row(y, row)
	}
	d.line(margin, y, width-margin, y, 2)
	y += 26
	for _, line := range kit.SplitWords(app.CoverCaution, (width-2*margin)/7, 2) {
		d.text(margin, y, 13, false, soft, line)
		y += lineHeight
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%[1]d" height="%[2]d" viewBox="0 0 %[1]d %[2]d" role="img" font-family="system-ui, 'Segoe UI', Roboto, 'Noto Sans', 'Liberation Sans', Arial, sans-serif">
<title>%[3]s</title>
<rect width="%[1]d" height="%[2]d" fill="#ffffff"/>
%[4]s</svg>
`, width, y+margin-lineHeight, html.EscapeString("Lesson plan: "+s.Class.Name), d.String())
}

func people(s app.LessonSheet) string {
	children, staff := 0, 0
	for _, c := range s.Children {
		if c.Present {
			children++
		}
	}
	for _, p := range s.Staff {
		if p.Present {
			staff++
		}
	}
	return kit.Count(children, "child", "children") + ", " + kit.Count(staff, "grown-up or helper", "grown-ups and helpers") + "."
}

const (
	ink  = "#1e1c2b"
	soft = "#565369"
	deep = "#312a7d"
	warm = "#a13604"
)

// drawing collects the parts of a picture.
type drawing struct{ strings.Builder }

func (d *drawing) text(x, y, size int, bold bool, colour, text string) {
	weight := ""
	if bold {
		weight = ` font-weight="700"`
	}
	fmt.Fprintf(d, `<text x="%d" y="%d" font-size="%d"%s fill="%s">%s</text>`+"\n", x, y, size, weight, colour, html.EscapeString(text))
}

func (d *drawing) line(x1, y1, x2, y2, thick int) {
	fmt.Fprintf(d, `<path d="M%d %dL%d %d" stroke="%s" stroke-width="%d"/>`+"\n", x1, y1, x2, y2, ink, thick)
}

func (d *drawing) box(x, y, width, height int, stroke, fill string, thick int) {
	fmt.Fprintf(d, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s" stroke="%s" stroke-width="%d"/>`+"\n", x, y, width, height, fill, stroke, thick)
}

// head draws the names of the stations and gives the y beneath them.
func (d *drawing) head(y int, board kit.BoardView) int {
	right := margin + sideWidth + cellWidth*len(board.Stations)
	d.line(margin, y, right, y, 2)
	for i, station := range board.Stations {
		d.text(margin+sideWidth+cellWidth*i+cellPad, y+26, 17, true, deep, station.Name)
	}
	d.line(margin, y+38, right, y+38, 2)
	return y + 38
}

// row draws a rotation and gives the y beneath it.
func (d *drawing) row(y int, row kit.BoardRow) int {
	cells := make([]*drawing, len(row.Cells))
	height := 4 * lineHeight
	for i, c := range row.Cells {
		cells[i] = &drawing{}
		height = max(height, cells[i].cell(margin+sideWidth+cellWidth*i+cellPad, y+cellPad, c)-y)
	}
	for i, c := range row.Cells {
		x := margin + sideWidth + cellWidth*i
		d.box(x, y, cellWidth, height, "#7b788a", "none", 1)
		if len(c.Breaches) > 0 {
			d.box(x+2, y+2, cellWidth-4, height-4, warm, "none", 3)
		}
		d.WriteString(cells[i].String())
	}
	d.text(margin, y+cellPad+14, 15, true, ink, row.Name)
	for i, line := range kit.SplitWords(row.Time, sideChars, 2) {
		d.text(margin, y+cellPad+14+lineHeight*(i+1), 13, false, soft, line)
	}
	d.line(margin, y+height, margin+sideWidth, y+height, 1)
	return y + height
}

// cell draws a group at its station from y on and gives the y beneath it.
func (d *drawing) cell(x, y int, c kit.BoardCell) int {
	write := func(size int, bold bool, colour, text string) {
		for _, line := range kit.SplitWords(text, cellChars*13/size, 3) {
			y += lineHeight
			d.text(x, y-4, size, bold, colour, line)
		}
	}
	if c.Group == "" {
		write(13, false, soft, "No group")
		return y + cellPad
	}
	group := c.Group
	if c.Pinned {
		group += ", pinned"
	}
	write(15, true, ink, group)
	if c.Lead != "" {
		write(13, false, soft, "Runs it: "+c.Lead)
	}
	if c.Spotter != "" {
		write(13, false, soft, "Spots: "+c.Spotter)
	}
	y += 4
	for _, child := range c.Children {
		write(14, true, ink, child.Name)
		write(13, false, ink, child.Activity)
		if child.Limit != "" {
			write(13, true, warm, "Mind: "+child.Limit)
		}
		y += 3
	}
	write(13, false, soft, c.Turns)
	write(13, false, soft, c.Wait)
	for _, sentence := range c.Breaches {
		y = d.breach(x, y+2, cellChars-8, sentence)
	}
	return y + cellPad
}

// breach writes a broken rule behind a warning mark and gives the y beneath it.
func (d *drawing) breach(x, y, chars int, sentence string) int {
	fmt.Fprintf(d, `<path d="M%d %dl7 12h-14zm0 4v4m0 2v.5" fill="none" stroke="%s" stroke-width="1.5"/>`+"\n", x+7, y+4, warm)
	for _, line := range kit.SplitWords(sentence, chars, 4) {
		y += lineHeight
		d.text(x+20, y-4, 13, true, warm, line)
	}
	return y
}
