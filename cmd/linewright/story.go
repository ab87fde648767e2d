package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
	"example.org/linewright/tui/prompt"
)

// sampleStory is the story among the embedded files.
const sampleStory = "sample/story.txt"

// storyPeople have a key in the store of the story.
var storyPeople = []string{"ann", "bea", "cal", "pia"}

// sitting is one sitting of the story: who is at the bench, when, at which job,
// and what they type. A story is a file of them:
//
//	== 2026-04-11 09:00 ann new into the hedge
//	== 2026-04-12 18:30 ann 1
//
// begins one, at a new job with its reason or at a job by its number; the lines
// behind it are typed in line mode. A line that begins with ! is typed without
// it, and is not taken; # begins a comment.
type sitting struct {
	line   int
	at     time.Time
	who    string
	job    int
	reason string
	typed  []string
	wrong  []string // of typed, those that are not taken
}

func parseStory(file string, data []byte) ([]*sitting, error) {
	var all []*sitting
	lines := bufio.NewScanner(bytes.NewReader(data))
	for n := 1; lines.Scan(); n++ {
		text := strings.TrimSpace(lines.Text())
		switch {
		case strings.HasPrefix(text, "#"):
		case strings.HasPrefix(text, "=="):
			s, err := parseSitting(strings.TrimSpace(text[2:]))
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w\nwrite == 2026-04-11 09:00 NAME new REASON, or the number of a job instead of new and reason", file, n, err)
			}
			s.line = n
			all = append(all, s)
		case len(all) == 0:
			if text != "" {
				return nil, fmt.Errorf("%s:%d: nobody sits at the bench yet\nbegin with == DATE TIME NAME new REASON", file, n)
			}
		default:
			last := all[len(all)-1]
			if wrong, ok := strings.CutPrefix(text, "!"); ok {
				text = wrong
				last.wrong = append(last.wrong, text)
			}
			last.typed = append(last.typed, text)
		}
	}
	return all, lines.Err()
}

func parseSitting(text string) (*sitting, error) {
	words := strings.Fields(text)
	if len(words) < 4 {
		return nil, errors.New("a sitting has a date, a time, a name and a job")
	}
	at, err := time.Parse("2006-01-02 15:04", words[0]+" "+words[1])
	if err != nil {
		return nil, fmt.Errorf("%q is no date and time", words[0]+" "+words[1])
	}
	s := &sitting{at: at, who: words[2]}
	if words[3] == "new" {
		s.reason = strings.Join(words[4:], " ")
		return s, nil
	}
	s.job, err = number(words[3])
	return s, err
}

// lines is what is typed; empty lines at the end belong to the layout of the
// file.
func (s *sitting) lines() string {
	typed := s.typed
	for len(typed) > 0 && typed[len(typed)-1] == "" {
		typed = typed[:len(typed)-1]
	}
	return strings.Join(typed, "\n") + "\n"
}

// story tells the whole job on the sample wing, from the incident to the next
// visit, through line mode, and exports and verifies each job that is closed.
func (a *app) story(ctx context.Context, dir string) (err error) {
	data, err := procedures.Sample.ReadFile(sampleStory)
	if err != nil {
		return err
	}
	sittings, err := parseStory(sampleStory, data)
	if err != nil {
		return err
	}
	folder, err := store.Open(filepath.Join(dir, "store"))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, folder.Close()) }()
	if err := storyStore(folder); err != nil {
		return err
	}
	a.line("Throw-away keys without pass phrase were made: %s.", strings.Join(storyPeople, ", "))
	for _, s := range sittings {
		if err := a.sit(ctx, folder, s); err != nil {
			return fmt.Errorf("%s, the sitting at line %d: %w", sampleStory, s.line, err)
		}
	}
	return a.storyRecords(session.Desk{Store: folder, Procedures: procedures.Files(), Who: storyPeople[0], Clock: time.Now}, dir)
}

// storyStore puts the sample wing, its loop table and the keys into a store.
func storyStore(folder *store.Store) error {
	plan, err := procedures.Sample.ReadFile(samplePlan)
	if err != nil {
		return err
	}
	if _, err := folder.AddWing(store.Wing{ID: "sample", Name: "sample wing", Serial: "none"}, plan); err != nil {
		return err
	}
	for _, name := range storyPeople {
		if err := demoKey(folder, name); err != nil {
			return err
		}
	}
	return nil
}

// sit lets one person work for a while.
func (a *app) sit(ctx context.Context, folder *store.Store, sit *sitting) (err error) {
	now := sit.at
	d := session.Desk{Store: folder, Procedures: procedures.Files(), Who: sit.who, Clock: func() time.Time {
		now = now.Add(20 * time.Second) // the story has a clock of its own, so that its dates are those it tells
		return now
	}}
	var s *session.Session
	if sit.job == 0 {
		s, err = d.Start(session.New{Wing: "sample", Reason: sit.reason, Bench: demoBench(), Demo: true})
	} else {
		s, err = d.Open(sit.job)
	}
	if err != nil {
		return err
	}
	a.line("")
	a.line("===== %s, %s", sit.at.Format("2006-01-02 15:04"), sit.who)
	wrong := slices.Clone(sit.wrong)
	o := prompt.Options{Desk: d, RecordJSON: recordJSON(d), Foreseen: func(typed string) bool {
		if len(wrong) == 0 || wrong[0] != typed {
			return false
		}
		wrong = wrong[1:]
		return true
	}}
	err = prompt.Walk(ctx, prompt.NewInput(strings.NewReader(sit.lines())), a.out, s, o)
	if err == nil && len(wrong) > 0 {
		err = fmt.Errorf("%q was taken, though the story says that it is not\ntake the ! off", wrong[0])
	}
	return errors.Join(err, s.Close())
}

// storyRecords exports and verifies every job that was closed.
func (a *app) storyRecords(d session.Desk, dir string) error {
	jobs, err := d.Store.Jobs()
	if err != nil {
		return err
	}
	for _, no := range jobs {
		j, _, err := d.Look(no)
		if err != nil {
			return err
		}
		if j.Closed == nil {
			continue
		}
		if err := a.demoRecord(d, no, filepath.Join(dir, fmt.Sprintf("record-%d", no))); err != nil {
			return err
		}
	}
	return nil
}
