package record

import "example.org/linewright/engine/source"

// Error says why no record could be made or written. Nothing was left behind.
type Error struct {
	What string // one line
	Do   string // one line: what to do
	Err  error  // the cause, if another package gave one
}

// Error gives one line what and one line what to do.
func (e *Error) Error() string { return source.Clean(e.What) + "\n  " + source.Clean(e.Do) }

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// NotClosed is the Error of a job whose journal does not end with its closing
// line.
var NotClosed = &Error{What: "the job is not closed", Do: "close it first; a record is made of a closed job"}
