package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
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

// story tells the whole job on the sample wing, from the incident to the next
// visit, through line mode, and exports and verifies each job that is closed.
func (a *app) story(ctx context.Context, dir string) (err error) {
	data, err := procedures.Sample.ReadFile(sampleStory)
	if err != nil {
		return err
	}
	sittings, err := prompt.ReadStory(sampleStory, data)
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
	hours := storyHours
	for _, s := range sittings {
		err := a.sit(ctx, folder, s, hours)
		hours = "" // nobody writes them when the wing comes back
		if err != nil {
			return fmt.Errorf("%s, the sitting at line %d: %w", sampleStory, s.Line, err)
		}
	}
	return a.storyRecords(session.Desk{Store: folder, Procedures: procedures.Files(), Who: storyPeople[0], Clock: time.Now, Elsewhere: true}, dir)
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

// storyHours are the wing's hours when the story begins: a finding is carried
// over by them.
const storyHours = "123.5"

// sit lets one person work for a while. hours are the wing's, for a new job.
func (a *app) sit(ctx context.Context, folder *store.Store, sit *prompt.Sitting, hours string) error {
	d := session.Desk{Store: folder, Procedures: procedures.Files(), Who: sit.Who, Clock: sit.Clock(), Elsewhere: true}
	s, err := sit.Begin(d, session.New{Wing: "sample", Bench: demoBench(), Demo: true, Hours: hours})
	if err != nil {
		return err
	}
	a.line("")
	a.line("===== %s, %s", sit.At.Format("2006-01-02 15:04"), sit.Who)
	err = sit.Walk(ctx, sit.Input(), a.out, s, prompt.Options{Desk: d, RecordJSON: recordJSON(d)})
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
