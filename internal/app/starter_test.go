package app

import (
	"io/fs"
	"testing"

	"rungbook/db"
	"rungbook/internal/studio"
)

func starter(t *testing.T) studio.Library {
	t.Helper()
	dir, err := fs.Sub(db.Library, "library")
	if err != nil {
		t.Fatal(err)
	}
	library, err := ReadLibrary(dir)
	if err != nil {
		t.Fatal(err)
	}
	return library
}

func TestStarterLibraryIsBigEnough(t *testing.T) {
	library := starter(t)
	rungs, faults := 0, 0
	for _, l := range library.Ladders {
		rungs += len(l.Rungs)
		for _, r := range l.Rungs {
			faults += len(r.Faults)
		}
	}
	t.Logf("%d ladders, %d rungs, %d drills, %d faults", len(library.Ladders), rungs, len(library.Drills), faults)
	if len(library.Ladders) < 14 || rungs < 90 || len(library.Drills) < 100 || faults < 150 {
		t.Errorf("too small: %d ladders, %d rungs, %d drills, %d faults", len(library.Ladders), rungs, len(library.Drills), faults)
	}
}
