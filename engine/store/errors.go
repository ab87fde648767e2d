package store

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
)

// Error says what is wrong with a file or a name of the store and what to do.
type Error struct {
	Path string // file or folder; empty when the fault is in what was asked
	Line int    // line in the file; 0: none
	Key  string // key in the file; empty: none
	What string
	Do   string
	Err  error // cause, or nil
}

func (e *Error) Error() string {
	var text strings.Builder
	if e.Path != "" {
		text.WriteString(clean(e.Path))
		if e.Line > 0 {
			fmt.Fprintf(&text, ":%d", e.Line)
		}
		text.WriteString(": ")
		if e.Key != "" {
			text.WriteString(clean(clip(e.Key)) + ": ")
		}
	}
	text.WriteString(e.What)
	if e.Err != nil {
		text.WriteString(": " + cause(e.Err))
	}
	text.WriteString("\n" + e.Do)
	return text.String()
}

func (e *Error) Unwrap() error { return e.Err }

// cause is an error of the library on one line and fit for a terminal. The name
// of the file is left out: the library has it from the store's folder on only,
// and as it is.
func cause(err error) string {
	var in *fs.PathError
	if errors.As(err, &in) {
		err = in.Err
	}
	return clean(strings.ReplaceAll(err.Error(), "\n", "; "))
}

// at says where an error stands that names none.
func at(path string, line int, err error) error {
	var e *Error
	if !errors.As(err, &e) || e.Path != "" {
		return err
	}
	placed := *e
	placed.Path, placed.Line = path, line
	return &placed
}

// EditionError says that a file was written in a format that this program does
// not know.
type EditionError struct {
	Path    string
	Edition int64
}

func (e *EditionError) Error() string {
	return fmt.Sprintf("%s: edition %d, this program reads edition %d\n"+
		"use the newer linewright that wrote it", e.Path, e.Edition, Edition)
}

// LockedError says that the job is open elsewhere.
type LockedError struct {
	Job    int
	Holder string // "Anna, process 4711 on bench-1"
}

func (e *LockedError) Error() string {
	return fmt.Sprintf("job %d is open elsewhere: %s\n"+
		"close it there, then open it here", e.Job, e.Holder)
}
