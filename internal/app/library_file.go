package app

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"github.com/goccy/go-yaml"
	"rungbook/internal/studio"
)

// libraryFile is one file of a library: a ladder with the drills that are introduced beside it.
type libraryFile struct {
	Ladder ladderPart `yaml:"ladder"`
}

type ladderPart struct {
	studio.Ladder `yaml:",inline"`
	Drills        []studio.Drill `yaml:"drills"`
}

// ReadLibrary reads every *.yaml of a folder, a ladder a file, in order of file names. Unknown fields are refused. The error names
// the file and the line.
func ReadLibrary(dir fs.FS) (studio.Library, error) {
	var library studio.Library
	names, err := fs.Glob(dir, "*.yaml")
	if err != nil || len(names) == 0 {
		return library, &studio.Error{Code: studio.Invalid, Text: "The folder holds no library: one .yaml file a ladder is expected.", Cause: err}
	}
	for _, name := range names {
		text, err := fs.ReadFile(dir, name)
		if err != nil {
			return library, fmt.Errorf("read %s: %w", name, err)
		}
		part, err := readLadderFile(name, text)
		if err != nil {
			return library, err
		}
		library.Ladders = append(library.Ladders, part.Ladder)
		library.Drills = append(library.Drills, part.Drills...)
	}
	return library, nil
}

// readLadderFile reads the text of one file.
func readLadderFile(name string, text []byte) (ladderPart, error) {
	var file libraryFile
	err := plainYAML(text)
	if err == nil {
		err = yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(&file)
	}
	if err != nil {
		return file.Ladder, &studio.Error{Code: studio.Invalid, Text: "Nothing was imported. " + path.Base(name) + ": " + yaml.FormatError(err, false, false)}
	}
	return file.Ladder, nil
}

// WriteLibrary gives a library as files, name to content, in the form that ReadLibrary reads. A drill stands in the file of the
// ladder of the first rung that it prepares, or of the first ladder.
func WriteLibrary(library studio.Library) (map[string][]byte, error) {
	if len(library.Ladders) == 0 {
		return nil, errors.New("the library has no ladder")
	}
	home := map[string]string{}
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			home[r.Key] = l.Key
		}
	}
	files := map[string][]byte{}
	for i, l := range library.Ladders {
		part := ladderPart{Ladder: l}
		for _, d := range library.Drills {
			at := library.Ladders[0].Key
			if j := slices.IndexFunc(d.Prepares, func(key string) bool { return home[key] != "" }); j >= 0 {
				at = home[d.Prepares[j]]
			}
			if at == l.Key {
				part.Drills = append(part.Drills, d)
			}
		}
		text, err := yaml.MarshalWithOptions(libraryFile{part}, yaml.UseLiteralStyleIfMultiline(true))
		if err != nil {
			return nil, fmt.Errorf("write ladder %s: %w", l.Key, err)
		}
		files[fmt.Sprintf("%02d-%s.yaml", i+1, l.Key)] = text
	}
	return files, nil
}
