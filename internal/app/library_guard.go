package app

import (
	"fmt"

	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/token"
)

// What a file of a library may be. The largest of the starter library is a tenth of this, and nests four deep in a line.
const (
	libraryFileLimit = 512 << 10
	nestingLimit     = 20
)

// plainYAML refuses what no library needs and what could make a small file cost much memory: references to other parts, tags, and
// deep nesting in one line.
func plainYAML(text []byte) error {
	if len(text) > libraryFileLimit {
		return fmt.Errorf("the file is larger than %d KiB", libraryFileLimit>>10)
	}
	flow, line, entries := 0, 0, 0
	for _, t := range lexer.Tokenize(string(text)) {
		if t.Position.Line != line {
			line, entries = t.Position.Line, 0
		}
		switch t.Type {
		case token.AnchorType, token.AliasType, token.MergeKeyType, token.TagType, token.DirectiveType:
			return fmt.Errorf("[%d:%d] write it out: “%s” is not read", line, t.Position.Column, t.Value)
		case token.SequenceStartType, token.MappingStartType:
			flow++
		case token.SequenceEndType, token.MappingEndType:
			flow--
		case token.SequenceEntryType, token.MappingKeyType:
			entries++
		}
		if flow > nestingLimit || entries > nestingLimit {
			return fmt.Errorf("[%d:%d] nested too deep", line, t.Position.Column)
		}
	}
	return nil
}
