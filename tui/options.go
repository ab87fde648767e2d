// Package tui is the bench: the full-screen front end. It shows the card that
// the job computes, one step at a time, and hands what a person confirms to the
// session.
//
// Rules of the screen:
//   - nothing is written but what an Enter confirmed, and nothing is called
//     saved before the session said so
//   - one entry is under way at a time; meanwhile no key acts
//   - while a text field has the focus letters never act
//   - a caution is never cut and never scrolled away
//   - a state is said by a word or a sign; colour only repeats it
//   - a view is never taller or wider than the screen
//   - idle writes no byte
package tui

import (
	"os"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/picture"
)

// Options says what the bench works with.
type Options struct {
	// Desk is the store and what belongs to it. If Desk.Who is empty the
	// person is asked for a name, once.
	Desk session.Desk
	Rich bool // pictures with box-drawing signs; only where they are known to work

	Look     string // one of store.Looks; empty: the first of them
	LookFrom string // what named it, if it will again at the next start

	Job  int // opened at once; 0: the list of jobs
	Task int // the task to go to; 0: the one that is due

	// Demo is set on sample data: the header says so, and entries are offered.
	Demo *Demo

	// RecordJSON builds the bytes that the closing signatures of a job are made
	// over. Nil: nothing is signed at the bench after a job is closed.
	RecordJSON func(job int) ([]byte, error)

	In, Out *os.File // the terminal; nil: standard input and output
}

// Demo offers sample answers, so that Enter alone walks through.
type Demo struct {
	// Offer gives the sample answer for the field that is due: what would be
	// typed, or the name of the person who signs. ok is false where there is
	// none, or where a bare Enter is the answer.
	Offer func(card job.Card) (answer string, ok bool)
}

func (o Options) signs() picture.Signs {
	if o.Rich {
		return picture.Richer
	}
	return picture.ASCII
}
