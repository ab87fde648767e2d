package store

import "example.org/linewright/engine/source"

// tomlFile is a TOML file of the store that has been read.
type tomlFile struct {
	path string
	doc  *source.Doc
}

// bound reads a file into a struct with toml tags. edition is the key that
// states the edition, found points to its field: a file of another edition is
// called that before anything else in it is.
func bound(path string, data []byte, edition string, into any, found **int64) (tomlFile, error) {
	f := tomlFile{path, source.Decode(path, data, into)}
	switch n := *found; {
	case f.doc.Unread:
	case n == nil:
		return f, &Error{Path: path, What: "the key " + edition + " with the edition is missing",
			Do: "see whether this is the right file"}
	case *n != Edition:
		return f, &EditionError{Path: path, Edition: *n}
	}
	if f.doc.Faults.Err() != nil { // in order of line now
		first := f.doc.Faults[0]
		return f, &Error{Path: path, Line: first.Line, Key: first.Key, What: first.What, Do: first.Cure}
	}
	return f, nil
}

// fault says where in the file the key of an error stands.
func (f tomlFile) fault(e *Error) error { return at(f.path, f.doc.Line(e.Key), e) }
