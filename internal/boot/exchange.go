package boot

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"rungbook/internal/app"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Migrate brings the database up to this version as the owning role.
func Migrate(c Config) error {
	if c.OwnerURL == "" {
		return errors.New("RUNGBOOK_OWNER_URL is not set: name the database as the role that owns its tables")
	}
	return postgres.Migrate(c.OwnerURL)
}

// ImportRoster reads a roster file; dryRun says what would happen and changes nothing.
func (h *House) ImportRoster(ctx context.Context, name string, dryRun bool, out io.Writer) error {
	file, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("open the roster: %w", err)
	}
	defer file.Close()
	result, err := h.App.ImportRoster(ctx, studio.ProgramActor(), file, dryRun)
	if err != nil {
		return err
	}
	fmt.Fprintln(out, result.Summary())
	return nil
}

// ImportLibrary reads a folder of ladders into the studio's library.
func (h *House) ImportLibrary(ctx context.Context, dir fs.FS, out io.Writer) error {
	library, err := app.ReadLibrary(dir)
	if err != nil {
		return err
	}
	if err := h.App.ImportLibrary(ctx, studio.ProgramActor(), library); err != nil {
		return err
	}
	fmt.Fprintf(out, "Imported %d ladders and %d drills.\n", len(library.Ladders), len(library.Drills))
	return nil
}

// ExportLibrary writes the studio's library into a folder, a file a ladder. Files of other names are left alone.
func (h *House) ExportLibrary(ctx context.Context, dir string, out io.Writer) error {
	library, err := h.App.Library(ctx, studio.ProgramActor())
	if err != nil {
		return err
	}
	files, err := app.WriteLibrary(library)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("make the folder: %w", err)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			return fmt.Errorf("write the library: %w", err)
		}
	}
	fmt.Fprintf(out, "Wrote %d files to %s.\n", len(files), dir)
	return nil
}
