package app

import (
	"bytes"
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// ReleaseReports lets the families of children read their term reports as they are now; the file is kept, so that it stays so. One
// that was released before is replaced. No children names all of the class. The number released comes back.
func (a *App) ReleaseReports(ctx context.Context, actor studio.Actor, class uuid.UUID, children []uuid.UUID) (int, error) {
	released := 0
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReleaseReport, Target{Class: class}); err != nil {
			return err
		}
		r, err := a.readReport(ctx, t, class, uuid.Nil)
		if err != nil {
			return err
		}
		ids := r.ids()
		for _, child := range children {
			if !slices.Contains(ids, child) {
				return studio.Missing()
			}
		}
		for i, id := range ids {
			if len(children) > 0 && !slices.Contains(children, id) {
				continue
			}
			if err := r.release(ctx, t, i); err != nil {
				return err
			}
			released++
		}
		return t.Audit(ctx, "released term reports", "class "+class.String(), map[string]any{"children": released})
	})
	return released, err
}

// release keeps the file of the i-th child and lets its family read it.
func (r classReport) release(ctx context.Context, t *postgres.Tx, i int) error {
	one := r.TermReport
	one.Children = r.Children[i : i+1]
	var body bytes.Buffer
	if err := report.WritePDF(&body, one); err != nil {
		return err
	}
	child := r.enrolments[i].ChildID
	if err := t.ReleaseReport(ctx, r.class.ID, child, r.asOf, body.Bytes()); err != nil {
		return err
	}
	return t.Audit(ctx, "released a term report", "child "+child.String(), map[string]any{"class": r.class.ID.String()})
}

// TakeBackReport keeps a family from reading a released report from now on.
func (a *App) TakeBackReport(ctx context.Context, actor studio.Actor, class, child uuid.UUID) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReleaseReport, Target{Class: class}); err != nil {
			return err
		}
		if err := t.TakeBackReport(ctx, class, child); err != nil {
			return err
		}
		return t.Audit(ctx, "took back a term report", "child "+child.String(), map[string]any{"class": class.String()})
	})
}

// ReleasedReport is the released report of one's own child, as it was released.
func (a *App) ReleasedReport(ctx context.Context, actor studio.Actor, class, child uuid.UUID) (File, error) {
	var file File
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReadOwnReport, Target{Child: child}); err != nil {
			return err
		}
		releases, err := t.ReleasesOfChild(ctx, child)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(releases, func(r studio.ReleasedReport) bool { return r.ClassID == class })
		if i < 0 {
			return studio.Missing()
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		file.Kind = pdfForm().kind
		file.Name = fileName("term report", head.GivenName, releases[i].Class, releases[i].Term) + ".pdf"
		file.Body, err = t.ReleasedFile(ctx, class, child)
		return err
	})
	return file, err
}
