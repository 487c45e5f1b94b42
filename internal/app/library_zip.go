package app

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strings"

	"rungbook/internal/studio"
)

// ladderFilesLimit is how many files an import may hold.
const ladderFilesLimit = 200

// ExportLibrary gives the studio's library as a zip of YAML files, a ladder a file.
func (a *App) ExportLibrary(ctx context.Context, actor studio.Actor) ([]byte, error) {
	library, err := a.Library(ctx, actor)
	if err != nil {
		return nil, err
	}
	if len(library.Ladders) == 0 {
		return nil, &studio.Error{Code: studio.Conflict, Text: "The library is empty, so there is nothing to export yet. Add a ladder or import a library first."}
	}
	files, err := WriteLibrary(library)
	if err != nil {
		return nil, err
	}
	return packFiles(files)
}

func packFiles(files map[string][]byte) ([]byte, error) {
	var out bytes.Buffer
	zw := zip.NewWriter(&out)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		w, err := zw.Create(name)
		if err == nil {
			_, err = w.Write(files[name])
		}
		if err != nil {
			return nil, fmt.Errorf("pack %s: %w", name, err)
		}
	}
	if err := zw.Close(); err != nil {
		return nil, fmt.Errorf("pack the library: %w", err)
	}
	return out.Bytes(), nil
}

// ReadUpload reads a library from one file: a zip of ladders, whatever folder they are in, or one ladder. name is for messages.
func ReadUpload(name string, body []byte) (studio.Library, error) {
	var library studio.Library
	files, err := unpackFiles(name, body)
	if err != nil {
		return library, err
	}
	for _, file := range slices.Sorted(maps.Keys(files)) {
		part, err := readLadderFile(file, files[file])
		if err != nil {
			return library, err
		}
		library.Ladders = append(library.Ladders, part.Ladder)
		library.Drills = append(library.Drills, part.Drills...)
	}
	return library, nil
}

func unpackFiles(name string, body []byte) (map[string][]byte, error) {
	if !bytes.HasPrefix(body, []byte("PK")) {
		return map[string][]byte{name: body}, nil
	}
	zr, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil {
		return nil, unreadable(name, "the zip file is damaged", err)
	}
	files := map[string][]byte{}
	for _, f := range zr.File {
		if hidden := strings.HasPrefix(path.Base(f.Name), "."); hidden || path.Ext(f.Name) != ".yaml" && path.Ext(f.Name) != ".yml" {
			continue
		}
		if len(files) == ladderFilesLimit {
			return nil, unreadable(name, fmt.Sprintf("it holds more than %d ladders", ladderFilesLimit), nil)
		}
		if files[f.Name], err = unpackFile(f); err != nil {
			return nil, unreadable(f.Name, "it cannot be unpacked", err)
		}
	}
	if len(files) == 0 {
		return nil, unreadable(name, "it holds no ladder; one .yaml file a ladder is expected", nil)
	}
	return files, nil
}

// unpackFile reads one byte more than a ladder may have, so that a longer one is refused as such.
func unpackFile(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(io.LimitReader(r, libraryFileLimit+1))
}

func unreadable(name, why string, cause error) error {
	return &studio.Error{Code: studio.Invalid, Text: "Nothing was imported. " + path.Base(name) + ": " + why + ".", Cause: cause}
}
