package app

import (
	"bytes"
	"context"
	"io"
	"strings"
	"unicode"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// File is a file to save. Name is safe to save under on any system.
type File struct {
	Name, Kind string
	Body       []byte
}

// ReportPDF is the term report of a class with pages for each child to hand out. It is written to the trail.
func (a *App) ReportPDF(ctx context.Context, actor studio.Actor, class uuid.UUID) (File, error) {
	return a.exportReport(ctx, actor, class, uuid.Nil, pdfForm())
}

// ReportCSV is the term report of a class as a table. It is written to the trail.
func (a *App) ReportCSV(ctx context.Context, actor studio.Actor, class uuid.UUID) (File, error) {
	return a.exportReport(ctx, actor, class, uuid.Nil, csvForm())
}

// ReportXLSX is the term report of a class as a workbook that explains its columns. It is written to the trail.
func (a *App) ReportXLSX(ctx context.Context, actor studio.Actor, class uuid.UUID) (File, error) {
	return a.exportReport(ctx, actor, class, uuid.Nil, xlsxForm())
}

// ChildReportPDF is the term report of one child of a class. It is written to the trail.
func (a *App) ChildReportPDF(ctx context.Context, actor studio.Actor, class, child uuid.UUID) (File, error) {
	if child == uuid.Nil {
		return File{}, studio.Missing()
	}
	return a.exportReport(ctx, actor, class, child, pdfForm())
}

// ReportColumns says what stands in the columns of a report as a table; a workbook says it itself.
func ReportColumns() []report.TableColumn { return report.Meanings() }

// reportForm is a format of a report file.
type reportForm struct {
	ending, kind string
	write        func(io.Writer, report.TermReport) error
}

func pdfForm() reportForm { return reportForm{"pdf", "application/pdf", report.WritePDF} }

func csvForm() reportForm { return reportForm{"csv", "text/csv; charset=utf-8", report.WriteCSV} }

func xlsxForm() reportForm {
	return reportForm{"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", report.WriteXLSX}
}

// exportReport writes the file and then the trail, in one transaction: what the trail tells was made.
func (a *App) exportReport(ctx context.Context, actor studio.Actor, class, child uuid.UUID, form reportForm) (File, error) {
	var file File
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ExportReport, Target{Class: class}); err != nil {
			return err
		}
		r, err := a.readReport(ctx, t, class, child)
		if err != nil {
			return err
		}
		var body bytes.Buffer
		if err := form.write(&body, r.TermReport); err != nil {
			return err
		}
		about, detail := r.Class, map[string]any{"form": form.ending, "term": r.Term, "children": len(r.Children)}
		if child != uuid.Nil {
			about, detail["child"] = r.Children[0].Name, child
		}
		file = File{Name: fileName("term report", about, r.Term) + "." + form.ending, Kind: form.kind, Body: body.Bytes()}
		return t.Audit(ctx, "exported a term report", "class "+class.String(), detail)
	})
	return file, err
}

// fileName joins words to a name that every system can keep: letters, digits and single hyphens, at most 60 letters a part.
func fileName(parts ...string) string {
	var kept []string
	for _, p := range parts {
		words := strings.FieldsFunc(strings.ToLower(p), func(r rune) bool { return !unicode.In(r, unicode.L, unicode.M, unicode.Nd) })
		if letters := []rune(strings.Join(words, "-")); len(letters) > 0 {
			kept = append(kept, strings.Trim(string(letters[:min(len(letters), 60)]), "-"))
		}
	}
	return strings.Join(kept, "-")
}
