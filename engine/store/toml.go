package store

import (
	"errors"
	"fmt"
	"slices"

	"github.com/BurntSushi/toml"
)

// decodeTOML reads a flat file of the store into the struct that into points to.
// edition is the key that states the edition, keys are the others. The library
// takes keys in any case and passes over unknown ones; here both are faults.
func decodeTOML(file string, data []byte, into any, edition string, keys ...string) error {
	var head map[string]any
	meta, err := toml.Decode(string(data), &head)
	if err != nil {
		return &Error{Path: file, What: "not readable as TOML: " + tomlFault(err), Do: "mend that line"}
	}
	switch n, ok := head[edition].(int64); {
	case !ok:
		return &Error{Path: file, What: "the key " + edition + " with the edition is missing",
			Do: "see whether this is the right file"}
	case n != Edition:
		return &EditionError{Path: file, Edition: n}
	}
	keys = append(keys, edition)
	for _, key := range meta.Keys() {
		if len(key) != 1 || !slices.Contains(keys, key[0]) {
			return &Error{Path: file, What: fmt.Sprintf("the key %q is not known", clip(key.String())),
				Do: "remove it or spell it as the file format says"}
		}
	}
	if _, err := toml.Decode(string(data), into); err != nil {
		return &Error{Path: file, What: tomlFault(err), Do: "give that key a value of the right kind"}
	}
	return nil
}

// tomlFault is the library's message with its line, fit for a terminal.
func tomlFault(err error) string {
	var parse toml.ParseError
	if errors.As(err, &parse) {
		return clean(fmt.Sprintf("line %d: %s", parse.Position.Line, parse.Message))
	}
	return clean(err.Error())
}
