package app

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// bundleKept is for how long the files of a bundle can be had.
const bundleKept = 7 * 24 * time.Hour

// ReportBundles lists the bundles that the actor has asked for, the newest first, and the terms that one can be asked of.
func (a *App) ReportBundles(ctx context.Context, actor studio.Actor) (bundles []studio.Bundle, terms []studio.Term, day Day, err error) {
	err = a.within(ctx, actor, studio.BundleReports, func(t *postgres.Tx) error {
		day = t.Day()
		if terms, err = t.Terms(ctx); err != nil {
			return err
		}
		bundles, err = ownBundles(ctx, t)
		return err
	})
	return bundles, terms, day, err
}

// ownBundles are those that the actor has asked for: row-level security shows no others, and neither does this.
func ownBundles(ctx context.Context, t *postgres.Tx) ([]studio.Bundle, error) {
	all, err := t.Bundles(ctx)
	return slices.DeleteFunc(all, func(b studio.Bundle) bool { return b.AskedBy != t.Actor.ID }), err
}

// ownBundle is one of them, kept from everybody else until the transaction ends.
func ownBundle(ctx context.Context, t *postgres.Tx, id uuid.UUID) (studio.Bundle, error) {
	b, err := t.LockBundle(ctx, id)
	if err == nil && b.AskedBy != t.Actor.ID {
		err = studio.Missing()
	}
	return b, err
}

// ReportBundle is one bundle that the actor has asked for.
func (a *App) ReportBundle(ctx context.Context, actor studio.Actor, id uuid.UUID) (b studio.Bundle, day Day, err error) {
	err = a.within(ctx, actor, studio.BundleReports, func(t *postgres.Tx) error {
		day = t.Day()
		if b, err = t.Bundle(ctx, id); err == nil && b.AskedBy != t.Actor.ID {
			err = studio.Missing()
		}
		return err
	})
	return b, day, err
}

// AskReportBundle has the term reports of every class of a term made in the background. It is written to the trail.
func (a *App) AskReportBundle(ctx context.Context, actor studio.Actor, term uuid.UUID) (uuid.UUID, error) {
	var id uuid.UUID
	err := a.within(ctx, actor, studio.BundleReports, func(t *postgres.Tx) error {
		if _, err := t.Term(ctx, term); err != nil {
			return err
		}
		open, err := ownBundles(ctx, t)
		if err != nil {
			return err
		}
		for _, b := range open {
			if b.TermID == term && b.Open() {
				return &studio.Error{Code: studio.Conflict, Text: "The reports of this term are being made already. Wait for them, or stop them first."}
			}
		}
		if id, err = t.AskBundle(ctx, term, t.Now.Add(bundleKept)); err != nil {
			return err
		}
		b, err := t.Bundle(ctx, id)
		if err == nil && b.Classes == 0 {
			err = &studio.Error{Code: studio.Invalid, Text: "Nobody was in a class in this term, so there is nothing to report."}
		}
		if err != nil {
			return err
		}
		return t.Audit(ctx, "asked for all term reports", "term "+term.String(), map[string]any{"classes": b.Classes, "children": b.Children})
	})
	return id, err
}

// StopReportBundle ends work on a bundle and removes what was made of it; of one that is ready, the files.
func (a *App) StopReportBundle(ctx context.Context, actor studio.Actor, id uuid.UUID) error {
	return a.within(ctx, actor, studio.BundleReports, func(t *postgres.Tx) error {
		b, err := ownBundle(ctx, t, id)
		if err != nil {
			return err
		}
		if err := t.SetBundleState(ctx, id, studio.BundleStopped); err != nil {
			return err
		}
		return t.Audit(ctx, "stopped or removed all term reports", "term "+b.TermID.String(), nil)
	})
}

// MakeBundle works on a bundle until the context ends, and reports whether more is left. It acts as who asked for it, with the rights
// of now: when those are gone, the bundle fails. A class is written whole or not at all, in a transaction of its own, so that work that
// was cut off at any moment goes on with the next class.
func (a *App) MakeBundle(ctx context.Context, id uuid.UUID) (more bool, err error) {
	var actor studio.Actor
	err = a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		b, err := t.Bundle(ctx, id)
		if err != nil || !b.Open() {
			return err
		}
		actor, err = t.ActorOf(ctx, b.AskedBy)
		return err
	})
	if studio.CodeOf(err) == studio.NotFound { // stopped and removed, or the asker is locked: there is nothing to do
		return false, a.failBundle(ctx, id)
	}
	if err != nil || !actor.SignedIn() {
		return false, err
	}
	for more = true; more && err == nil && ctx.Err() == nil; {
		more, err = a.bundleStep(ctx, actor, id)
	}
	switch {
	case studio.CodeOf(err) == studio.NotFound:
		return false, a.failBundle(ctx, id)
	case err != nil && ctx.Err() != nil: // time is up in the midst of a class: it is begun again
		return true, nil
	}
	return more, err
}

// failBundle notes that a bundle cannot be made; one that is gone or finished stays as it is.
func (a *App) failBundle(ctx context.Context, id uuid.UUID) error {
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		b, err := t.LockBundle(ctx, id)
		if studio.CodeOf(err) == studio.NotFound || err == nil && !b.Open() {
			return nil
		}
		if err != nil {
			return err
		}
		return t.SetBundleState(ctx, id, studio.BundleFailed)
	})
}

// bundleStep writes the next class of a bundle, or the workbook over all of them once every class is written.
func (a *App) bundleStep(ctx context.Context, actor studio.Actor, id uuid.UUID) (more bool, err error) {
	err = a.within(ctx, actor, studio.BundleReports, func(t *postgres.Tx) error {
		b, err := ownBundle(ctx, t, id)
		if err != nil || !b.Open() {
			return err
		}
		if b.State == studio.BundleWaiting {
			if err := t.SetBundleState(ctx, id, studio.BundleWorking); err != nil {
				return err
			}
		}
		part, err := t.NextOfBundle(ctx, id)
		if studio.CodeOf(err) == studio.NotFound {
			return a.finishBundle(ctx, t, b)
		}
		if err != nil {
			return err
		}
		more = true
		return a.writePart(ctx, t, b, part)
	})
	return more, err
}

// writePart writes the files of a class: a PDF a child, and a CSV of all.
func (a *App) writePart(ctx context.Context, t *postgres.Tx, b studio.Bundle, part postgres.BundlePart) error {
	r, err := a.readReport(ctx, t, part.ClassID, uuid.Nil)
	if err != nil {
		return err
	}
	folder := fmt.Sprintf("%02d-%s/", part.Place, fileName(r.Class))
	for i, child := range r.Children {
		one := r.TermReport
		one.Children = r.Children[i : i+1]
		if err := addFile(ctx, t, b.ID, fmt.Sprintf("%s%02d-%s.pdf", folder, i+1, fileName(child.Name)), one, report.WritePDF); err != nil {
			return err
		}
	}
	if err := addFile(ctx, t, b.ID, folder+fileName("term report", r.Class)+".csv", r.TermReport, report.WriteCSV); err != nil {
		return err
	}
	return t.NotePartMade(ctx, b.ID, part.ClassID)
}

func addFile(ctx context.Context, t *postgres.Tx, bundle uuid.UUID, name string, r report.TermReport, write func(io.Writer, report.TermReport) error) error {
	var body bytes.Buffer
	if err := write(&body, r); err != nil {
		return err
	}
	return t.AddToBundle(ctx, bundle, name, body.Bytes())
}

// finishBundle writes the workbook and the table over all classes; after that the files can be had.
func (a *App) finishBundle(ctx context.Context, t *postgres.Tx, b studio.Bundle) error {
	classes, err := t.ClassesOfBundle(ctx, b.ID)
	if err != nil {
		return err
	}
	var workbook, rows bytes.Buffer
	book, err := report.NewWorkbook()
	if err != nil {
		return err
	}
	table, err := report.NewRungTable(&rows)
	if err != nil {
		return err
	}
	for _, class := range classes {
		r, err := a.readReport(ctx, t, class, uuid.Nil)
		if err != nil {
			return err
		}
		if err := errors.Join(book.Add(r.TermReport), table.Add(r.TermReport)); err != nil {
			return err
		}
	}
	if _, err := book.WriteTo(&workbook); err != nil {
		return err
	}
	if err := table.Flush(); err != nil {
		return err
	}
	name := fileName("term reports", b.Term)
	if err := t.AddToBundle(ctx, b.ID, name+".xlsx", workbook.Bytes()); err != nil {
		return err
	}
	if err := t.AddToBundle(ctx, b.ID, name+".csv", rows.Bytes()); err != nil {
		return err
	}
	if err := t.SetBundleState(ctx, b.ID, studio.BundleReady); err != nil {
		return err
	}
	return t.Audit(ctx, "made all term reports", "term "+b.TermID.String(), map[string]any{"classes": b.Classes, "children": b.Children})
}

// SaveReportBundle writes the files of a bundle as a zip to what begin answers with when it is told the name. One file at a time is in
// memory. The actor's passphrase is asked for once more, and it is written to the trail.
func (a *App) SaveReportBundle(ctx context.Context, actor studio.Actor, id uuid.UUID, passphrase string, begin func(name string) io.Writer) error {
	return a.within(ctx, actor, studio.BundleReports, func(t *postgres.Tx) error {
		b, err := ownBundle(ctx, t, id)
		if err != nil {
			return err
		}
		if !b.ReadableAt(t.Now) {
			return &studio.Error{Code: studio.Conflict, Text: "These files are not there: they are not ready yet, or their time is over. Have them made anew."}
		}
		if err := a.again(ctx, t, passphrase, "Nothing was taken out."); err != nil {
			return err
		}
		names, err := t.BundleFiles(ctx, id)
		if err != nil {
			return err
		}
		if err := t.Audit(ctx, "took out all term reports", "term "+b.TermID.String(), map[string]any{"files": len(names)}); err != nil {
			return err
		}
		z := zip.NewWriter(begin(fileName("term reports", b.Term) + ".zip"))
		for _, name := range names {
			body, err := t.BundleFile(ctx, id, name)
			if err != nil {
				return err
			}
			if err := addToZip(z, name, *b.FinishedAt, body); err != nil {
				return err
			}
		}
		return z.Close()
	})
}

// addToZip packs what is not packed already.
func addToZip(z *zip.Writer, name string, made time.Time, body []byte) error {
	head := &zip.FileHeader{Name: name, Method: zip.Store, Modified: made}
	if strings.HasSuffix(name, ".csv") {
		head.Method = zip.Deflate
	}
	w, err := z.CreateHeader(head)
	if err != nil {
		return err
	}
	_, err = w.Write(body)
	return err
}

// DropExpiredBundles removes the bundles of which the time is over, and the files of those that hold a child who was erased since.
func (a *App) DropExpiredBundles(ctx context.Context) error {
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		if err := t.StopBundlesOfErased(ctx); err != nil {
			return err
		}
		return t.DropExpiredBundles(ctx)
	})
}
