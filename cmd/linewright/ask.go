package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"example.org/linewright/engine/source"
	"example.org/linewright/tui/prompt"
)

// asking is where questions are printed: beside the result, where that is for
// a program.
func (a *app) asking() io.Writer {
	if a.json {
		return a.errs
	}
	return a.out
}

func (a *app) say(format string, args ...any) {
	fmt.Fprintln(a.asking(), source.Clean(fmt.Sprintf(format, args...)))
}

// read prints the mark of a question and reads the answer. Where no terminal
// shows what is typed it is repeated, so that a transcript is whole.
func (a *app) read(ctx context.Context) (string, error) {
	fmt.Fprint(a.asking(), "> ")
	text, err := a.in.Line(ctx)
	switch {
	case errors.Is(err, io.EOF):
		a.say("")
	case err == nil && !a.in.Terminal():
		a.say("%s", text)
	}
	return text, err
}

// reply reads a line where questions are put in turn; say puts the one that is
// due once more. Without a terminal nobody can mend a slip, and it is an error.
func (a *app) reply(ctx context.Context, say func()) (string, prompt.Reply, error) {
	for {
		text, err := a.read(ctx)
		if err != nil {
			return "", prompt.BreakOff, err
		}
		r, err := prompt.ReplyOf(text)
		switch {
		case err != nil && !a.in.Terminal():
			return "", prompt.BreakOff, err
		case err != nil:
			a.report(err)
		case r == prompt.Explain:
			say()
			a.say(prompt.ReplyRule)
		default:
			return strings.TrimSpace(text), r, nil
		}
	}
}

// over reports whether the questions end here, and says how in a word.
func over(r prompt.Reply, err error) (how string, ended bool) {
	switch {
	case errors.Is(err, io.EOF):
		return "the input ended", true
	case err == nil && r == prompt.BreakOff:
		return "broken off", true
	}
	return "", false
}

// typed reads one line; wanted says what was missing at the end of the input.
func (a *app) typed(ctx context.Context, wanted string) (string, error) {
	text, err := a.read(ctx)
	if errors.Is(err, io.EOF) {
		return "", fmt.Errorf("the input ended; nothing was written\nwanted: %s", wanted)
	}
	return text, err
}

// absent refuses a file that is there already: nothing of a person's is
// written over.
func absent(path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s is there already\ngive another name with -o", path)
	}
	return nil
}

func notWritten(path string, err error) error {
	return fmt.Errorf("%s cannot be written: %w\nsee that the folder is there and that you may write to it", path, err)
}
