package lesson

import (
	"github.com/a-h/templ"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// PrintPage is the printed plan of a sheet.
func PrintPage(s app.LessonSheet) templ.Component {
	view := newPrintView(s)
	return printPage(kit.Page{Title: view.Title, Studio: "Tidebell Dance Studio", Intro: view.Words}, view)
}
