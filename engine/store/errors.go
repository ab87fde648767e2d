package store

import "fmt"

// Error says what is wrong with a file or a name of the store and what to do.
type Error struct {
	Path string // file or folder; empty when the fault is in what was asked
	What string
	Do   string
	Err  error // cause, or nil
}

func (e *Error) Error() string {
	text := e.What
	if e.Path != "" {
		text = e.Path + ": " + text
	}
	if e.Err != nil {
		text += ": " + e.Err.Error()
	}
	return text + "\n" + e.Do
}

func (e *Error) Unwrap() error { return e.Err }

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
