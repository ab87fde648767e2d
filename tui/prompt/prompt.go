// Package prompt is line mode: the same job as at the bench, without control
// of the screen. It says one fact a line, in words and not in shapes, so that
// a screen reader, a braille line or a pipe serves as well as a terminal.
//
// Rules of line mode:
//   - one line is one entry; an empty line goes on and never stands for a value
//   - a line that begins with a colon is a command; "?" says what is asked and
//     names a few, ":help" has them all by topics
//   - "Saved" is printed only after the entry is on the disk
//   - the expected identity of a line is not said where it has to be found out;
//     the engine leaves it out of the card
//   - without a terminal nobody can mend an entry, so an entry that is refused
//     or only noted ends the walk; Patient goes on
package prompt

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/source"
)

// Options says how a walk goes.
type Options struct {
	Desk    session.Desk // opens keys and knows the procedures
	Task    int          // number of the task to begin with; 0: the first that is not done
	Patient bool         // without a terminal: go on after an entry that was not taken

	// Foreseen is asked, without a terminal, about a line that was not taken:
	// true goes on, as for a mistake that belongs to a story. Nil: none is.
	Foreseen func(line string) bool

	// RecordJSON builds the bytes that the closing signatures of a job are made
	// over. Nil: nothing is signed here after a job is closed.
	RecordJSON func(job int) ([]byte, error)
}

// Ended says that the input came to its end in the middle of a task. All that
// was said to be saved is kept.
type Ended struct {
	Job, Task, Step int
	Again           string // the command that goes on
}

func (e *Ended) Error() string {
	return fmt.Sprintf("the input ended at step %d of task %d; what was saved is kept\n"+
		"  go on with: %s", e.Step, e.Task, e.Again)
}

// NotTaken says that an entry from a pipe was refused, or noted with its step
// left open, and that nothing behind it was read.
type NotTaken struct {
	Typed   string
	Step    string       // key of the step
	Written bool         // noted: the entry is in the journal
	Because *job.Because // nil where Err says it
	Err     error
}

func (n *NotTaken) Error() string {
	word := "refused"
	if n.Written {
		word = "noted, not taken"
	}
	return source.Clean(fmt.Sprintf("%s: %s: %q: %s", n.Step, word, n.Typed, reason(n.Because, n.Err)))
}

func (n *NotTaken) Unwrap() error { return n.Err }

// Walk leads through the tasks of a job until the person quits, the input ends
// or the context does. The session stays open. The error is nil when the
// person quit or when the input ended with nothing due; else *Ended, *NotTaken,
// the context's error, or that of a write that failed.
func Walk(ctx context.Context, in *Input, out io.Writer, s *session.Session, o Options) error {
	w := &walk{ctx: ctx, in: in, out: out, s: s, o: o, task: o.Task, said: map[string]bool{}}
	if w.task == 0 {
		w.task = firstOpen(s.Job())
	}
	w.greet()
	for w.err == nil && !w.quit {
		w.turn()
	}
	if w.err == nil || errors.Is(w.err, context.Canceled) {
		w.goodbye()
	}
	return w.err
}

// walk is one walk through a job. The first error ends it.
type walk struct {
	ctx   context.Context
	in    *Input
	out   io.Writer
	s     *session.Session
	o     Options
	task  int
	shown spot // what was printed last, so that it is not printed again
	ended bool // that the job is closed was said
	quit  bool
	err   error

	hidden     int           // number of the task whose line had to be found out on the last card
	reason     string        // why the line that was read last was not taken, or left its step open
	benchAsked bool          // how to describe the bench was said
	sum        reckon.Result // the last bench sum
	last       string        // the line that was read last
	typed      typedOnce     // what has to be typed again

	alike      map[string]string // see letters
	said       map[string]bool   // of onlyOnce
	headed     string            // the task as it was named last
	shownFacts []string          // facts of the picture of the card before
}

// spot is a place in a task: the first field of a card, and the field due.
type spot struct{ card, field string }

// turn shows what is due and takes one line.
func (w *walk) turn() {
	if w.s.Job().Closed != nil {
		w.closing()
		return
	}
	var card job.Card
	if len(w.s.Job().Tasks) > 0 {
		var err error
		if card, err = w.s.Card(w.task); err != nil {
			w.err = err
			return
		}
	}
	w.show(card)
	line, ok := w.ask(card)
	if !ok {
		return
	}
	w.take(card, line)
}

// ask reads one line for the card.
func (w *walk) ask(card job.Card) (string, bool) {
	line, err := w.line()
	switch {
	case err == nil:
		return line, true
	case !errors.Is(err, io.EOF):
		w.err = err
	case w.in.Terminal() || !inWork(card) || w.gone(card) || w.away():
		w.quit = true
	default:
		w.err = &Ended{Job: w.s.No(), Task: card.Task, Step: card.Step, Again: w.again()}
	}
	return "", false
}

// inWork reports whether a step is due that somebody has begun to answer to.
func inWork(card job.Card) bool {
	return card.Task != 0 && !card.Over && card.Waiting == ""
}

// line prints the mark of the question and reads the answer. Where no terminal
// shows what is typed it is repeated, so that a transcript is whole.
func (w *walk) line() (string, error) {
	for {
		w.print("> ")
		asked := time.Now()
		line, err := w.in.Line(w.ctx)
		if err != nil {
			w.print("\n")
			return "", err
		}
		if !w.in.Terminal() {
			w.print(source.Clean(line) + "\n")
		}
		w.last = line
		if line != "" || !w.in.Terminal() || time.Since(asked) > burst {
			return line, nil
		}
	}
}

// say prints one fact. No text reaches a terminal with control characters.
func (w *walk) say(format string, args ...any) {
	w.print(fold(w.heard(source.Clean(fmt.Sprintf(format, args...))), columns(w.out)) + "\n")
}

func (w *walk) print(text string) {
	if w.err != nil {
		return
	}
	if _, err := io.WriteString(w.out, text); err != nil {
		w.err = err
	}
}

func firstOpen(j *job.Job) int {
	for _, t := range j.Tasks {
		if t.State() == job.Running {
			return t.No
		}
	}
	return len(j.Tasks)
}
