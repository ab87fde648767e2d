package prompt

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/linewright/engine/session"
)

// Sitting is one sitting of a story: who is at the bench, when, at which job,
// and what they type. A story is a file of them:
//
//	== 2026-04-11 09:00 ann new into the hedge
//	== 2026-04-12 18:30 ann 1
//
// begins one, at a new job with its reason or at a job by its number; the lines
// behind it are typed in line mode. A line that begins with ! is typed without
// it, and is not taken; # begins a comment.
type Sitting struct {
	Line   int // of the file, where it begins
	At     time.Time
	Who    string
	Job    int // 0: a new one
	Reason string
	Typed  []string
	Wrong  []string // of Typed, those that are not taken, in their order
}

// ReadStory reads a story. The error names file and line and says what to write.
func ReadStory(file string, data []byte) ([]*Sitting, error) {
	var all []*Sitting
	lines := bufio.NewScanner(bytes.NewReader(data))
	for n := 1; lines.Scan(); n++ {
		text := strings.TrimSpace(lines.Text())
		switch {
		case strings.HasPrefix(text, "#"):
		case strings.HasPrefix(text, "=="):
			s, err := readSitting(strings.TrimSpace(text[2:]))
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w\nwrite == 2026-04-11 09:00 NAME new REASON, or the number of a job instead of new and reason", file, n, err)
			}
			s.Line = n
			all = append(all, s)
		case len(all) == 0:
			if text != "" {
				return nil, fmt.Errorf("%s:%d: nobody sits at the bench yet\nbegin with == DATE TIME NAME new REASON", file, n)
			}
		default:
			last := all[len(all)-1]
			if wrong, ok := strings.CutPrefix(text, "!"); ok {
				text = wrong
				last.Wrong = append(last.Wrong, text)
			}
			last.Typed = append(last.Typed, text)
		}
	}
	for _, s := range all {
		s.trim()
	}
	return all, lines.Err()
}

func readSitting(text string) (*Sitting, error) {
	words := strings.Fields(text)
	if len(words) < 4 {
		return nil, errors.New("a sitting has a date, a time, a name and a job")
	}
	at, err := time.Parse("2006-01-02 15:04", words[0]+" "+words[1])
	if err != nil {
		return nil, fmt.Errorf("%q is no date and time", words[0]+" "+words[1])
	}
	s := &Sitting{At: at, Who: words[2]}
	if words[3] == "new" {
		s.Reason = strings.Join(words[4:], " ")
		return s, nil
	}
	if s.Job, err = strconv.Atoi(words[3]); err != nil || s.Job < 1 {
		return nil, fmt.Errorf("%q is not the number of a job", words[3])
	}
	return s, nil
}

// trim drops empty lines at the end: they belong to the layout of the file.
func (s *Sitting) trim() {
	for n := len(s.Typed); n > 0 && s.Typed[n-1] == ""; n-- {
		s.Typed = s.Typed[:n-1]
	}
}

// Clock is the clock of the sitting: a story has one of its own, so that its
// dates are those that it tells. It goes on by 20 s each time it is read.
func (s *Sitting) Clock() func() time.Time {
	now := s.At
	return func() time.Time {
		now = now.Add(20 * time.Second)
		return now
	}
}

// Begin sits down: it takes the sitting's job up, or starts one. New says what a
// new one starts with, but for its reason.
func (s *Sitting) Begin(d session.Desk, n session.New) (*session.Session, error) {
	if s.Job != 0 {
		return d.Open(s.Job)
	}
	n.Reason = s.Reason
	return d.Start(n)
}

// Input is what the sitting types, as a pipe brings it.
func (s *Sitting) Input() *Input {
	return NewInput(strings.NewReader(strings.Join(s.Typed, "\n") + "\n"))
}

// Walk walks with the lines of the sitting, which come from in. It fails at a
// line that is not taken, and at one that is though the story says that it is
// not.
func (s *Sitting) Walk(ctx context.Context, in *Input, out io.Writer, at *session.Session, o Options) error {
	wrong := slices.Clone(s.Wrong)
	o.Foreseen = func(typed string) bool {
		if len(wrong) == 0 || wrong[0] != typed {
			return false
		}
		wrong = wrong[1:]
		return true
	}
	if err := Walk(ctx, in, out, at, o); err != nil {
		return err
	}
	if len(wrong) > 0 {
		return fmt.Errorf("%q was taken, though the story says that it is not\ntake the ! off", wrong[0])
	}
	return nil
}
