package session

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

// bare is a desk of another person on a machine without a wing.
func bare(t *testing.T, who string) Desk {
	t.Helper()
	folder, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	d := desk(t)
	return Desk{Store: folder, Who: who, Clock: d.Clock, Procedures: d.Procedures}
}

func handOn(t *testing.T, s *Session, to string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := s.HandOn(HandOn{To: to, Words: "the look is next"}, &b); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func takeOver(d Desk, data []byte) (*Session, Arrival, error) {
	return d.TakeOver(bytes.NewReader(data), int64(len(data)), Receive{})
}

func over(t *testing.T, d Desk, data []byte) (*Session, Arrival) {
	t.Helper()
	s, a, err := takeOver(d, data)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s, a
}

func TestAJobGoesToAnotherMachineAndComesHome(t *testing.T) {
	ann, bea := desk(t), bare(t, "bea")
	s := atHold(t, ann)
	data := handOn(t, s, "bea")
	left := s.Job().Lines

	there, a := over(t, bea, data)
	if (a != Arrival{Was: 1, Lines: left, NewWing: true}) || there.No() != 1 {
		t.Errorf("%+v, number %d", a, there.No())
	}
	if there.Job().HandedTo() != "" || there.Job().Lines != left+1 {
		t.Errorf("handed to %q, %d lines", there.Job().HandedTo(), there.Job().Lines)
	}
	last := there.Job().Events()[left]
	if last.Kind != job.TakenOver || last.Who != "bea" || last.Sitting != 2 {
		t.Errorf("last line %+v", last)
	}
	if _, err := there.Enter(job.Entry{Kind: job.EnterNote, Text: "seen"}); err != nil {
		t.Error(err)
	}

	// Meanwhile nothing is taken at home.
	waiting, err := ann.Open(1)
	if err != nil {
		t.Fatal(err)
	}
	var refused *job.Refusal
	if _, err := waiting.Enter(job.Entry{Kind: job.EnterNote, Text: "x"}); !errors.As(err, &refused) || refused.Code != job.HandedAway {
		t.Errorf("taken while it is elsewhere: %v", err)
	}
	if err := waiting.Close(); err != nil {
		t.Fatal(err)
	}

	back := handOn(t, there, "ann")
	home, a := over(t, ann, back)
	if (a != Arrival{Was: 1, Lines: 3, Home: true}) || home.Job().Lines != left+4 || len(home.Job().Notes) != 1 {
		t.Errorf("home: %+v, %d lines, notes %v", a, home.Job().Lines, home.Job().Notes)
	}
	// It is one job still: a hold is signed over what was done in both places.
	for _, en := range []job.Entry{{Kind: job.EnterOn, Task: 1}, {Kind: job.EnterLook, Task: 1, Text: "bea"}} {
		if _, err := home.Enter(en); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := home.SignHold(1, person(t, ann, "bea")); err != nil {
		t.Error(err)
	}
}

func TestAHandOnThatIsRefusedWritesNothing(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	lines := s.Job().Lines
	var b bytes.Buffer
	var refused *job.Refusal
	if err := s.HandOn(HandOn{}, &b); !errors.As(err, &refused) || refused.Code != job.NobodyNamed {
		t.Errorf("handed on to nobody: %v", err)
	}
	if b.Len() != 0 || s.Job().Lines != lines {
		t.Errorf("%d bytes and %d lines", b.Len(), s.Job().Lines-lines)
	}
	// A job that cannot be packed is not handed on either.
	plan := filepath.Join(d.Store.Dir(), "jobs", "0001", "pinned", s.Job().Start.Plan+".toml")
	if err := os.Remove(plan); err != nil {
		t.Fatal(err)
	}
	if err := s.HandOn(HandOn{To: "bea"}, &b); !errors.Is(err, os.ErrNotExist) || s.Job().HandedTo() != "" {
		t.Errorf("handed on without its plan: %v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestAHandOnThatCouldNotBeWrittenIsRepeated(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if err := s.HandOn(HandOn{To: "bea"}, full{}); err == nil {
		t.Fatal("written to a full disk")
	}
	lines := s.Job().Lines
	if s.Job().HandedTo() != "bea" {
		t.Errorf("handed to %q", s.Job().HandedTo())
	}
	data := handOn(t, s, "carl")
	if s.Job().Lines != lines || s.Job().HandedTo() != "bea" {
		t.Errorf("handed on twice: %d lines, to %q", s.Job().Lines-lines, s.Job().HandedTo())
	}
	over(t, bare(t, "bea"), data)
	// Or it is taken back where it is.
	again, err := d.Open(1)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := again.Enter(job.Entry{Kind: job.EnterTakeOver}); err != nil {
		t.Error(err)
	}
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
	// Then work goes on in two places, and that is told when it comes home.
	var fork *store.ForkError
	bea := bare(t, "bea")
	there, _ := over(t, bea, data)
	if _, _, err := takeOver(d, handOn(t, there, "ann")); !errors.As(err, &fork) {
		t.Errorf("two chains became one: %v", err)
	}
}

func TestATakenNumber(t *testing.T) {
	ann := desk(t)
	data := handOn(t, atHold(t, ann), "ann")
	other := desk(t)
	first, err := other.Start(New{Wing: "cloth", Bench: metrology.DefaultBench(), Reason: "another job"})
	if err != nil {
		t.Fatal(err)
	}
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	// No serial number says that it is the same wing.
	if _, _, err := takeOver(other, data); err == nil || !strings.Contains(err.Error(), "no serial number tells") {
		t.Errorf("joined unasked: %v", err)
	}
	s, a, err := other.TakeOver(bytes.NewReader(data), int64(len(data)), Receive{SameWing: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.No() != 2 || a.Was != 1 {
		t.Errorf("number %d, was %d", s.No(), a.Was)
	}
	if got := JobName(s.No(), s.Job().Start); got != "job 2 here, job 1 in its journal" {
		t.Error(got)
	}
	if got := JobName(1, first.Job().Start); got != "job 1" {
		t.Error(got)
	}
}

// A closed job is packed as it is, so that somebody elsewhere can sign it.
func TestAClosedJobIsTakenOverAsItIs(t *testing.T) {
	d := desk(t)
	s, err := d.Start(New{Wing: "cloth", Bench: metrology.DefaultBench()})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterClose, Text: "nothing was done"}); err != nil {
		t.Fatal(err)
	}
	lines := s.Job().Lines
	there, a := over(t, bare(t, "bea"), handOn(t, s, ""))
	if a.Lines != lines || there.Job().Lines != lines || there.Job().Closed == nil {
		t.Errorf("%+v, %d lines", a, there.Job().Lines)
	}
}

// A pack that is whole and still is not the job that its journal tells of.
func TestUnsoundPacks(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	picture := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(picture, []byte("picture"), 0o644); err != nil {
		t.Fatal(err)
	}
	photo, err := s.KeepPhoto(picture)
	if err != nil {
		t.Fatal(err)
	}
	plain := s.dir.Log().Lines()
	if err := s.HandOn(HandOn{To: "bea"}, io.Discard); err != nil {
		t.Fatal(err)
	}
	pins, photos, err := needs(s.Job())
	if err != nil || len(photos) != 0 {
		t.Fatal(photos, err)
	}
	good := store.Packing{Job: 1, Wing: "cloth", Lines: s.dir.Log().Lines(), Pinned: pins}
	extra, err := s.dir.Pin([]byte("extra"))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		change func(*store.Packing)
		words  string
	}{
		"good":            {func(*store.Packing) {}, ""},
		"a photo more":    {func(p *store.Packing) { p.Photos = []string{photo.Name} }, "photos: nothing in the journal names"},
		"a plan more":     {func(p *store.Packing) { p.Pinned = append(pins[:len(pins):len(pins)], extra) }, "procedures: nothing in the journal names"},
		"a plan less":     {func(p *store.Packing) { p.Pinned = pins[1:] }, "is not in it"},
		"another number":  {func(p *store.Packing) { p.Job = 2 }, "number or wing are not those of its journal"},
		"not handed on":   {func(p *store.Packing) { p.Lines = plain }, "it was not handed on"},
		"without a start": {func(p *store.Packing) { p.Lines = nil }, "nothing is written"},
	} {
		p := good
		c.change(&p)
		var b bytes.Buffer
		err := d.Store.PackJob(1, p, &b)
		bea := bare(t, "bea")
		if err == nil {
			_, _, err = takeOver(bea, b.Bytes())
		}
		if c.words == "" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.words)
		}
		if nos, _ := bea.Store.Jobs(); len(nos) != 0 {
			t.Errorf("%s: jobs %v", name, nos)
		}
		if ids, _ := bea.Store.Wings(); len(ids) != 0 {
			t.Errorf("%s: wings %v", name, ids)
		}
	}
}

const picturing = `
linewright_procedure = 1
id = "picturing"
edition = "1"
title.en = "Picturing"
target = "line"
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "see"
action.en = "TAKE A PICTURE"
reason.en = "It shows more than words."
[[phase.card.step]]
id = "photo"
kind = "photo"
ask.en = "Photo"
`

func TestPhotosGoWithTheJob(t *testing.T) {
	ann, bea := desk(t), bare(t, "bea")
	ann.Procedures = append(ann.Procedures, procedure.File{Name: "picturing.toml", Data: []byte(picturing)})
	s, err := ann.Start(New{Wing: "cloth", Bench: metrology.DefaultBench()})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddTask("picturing", wing.LineRef("C1.2", wing.Left), ""); err != nil {
		t.Fatal(err)
	}
	picture := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(picture, []byte("picture"), 0o644); err != nil {
		t.Fatal(err)
	}
	e, err := s.AddPhoto(1, "photo", picture)
	if err != nil {
		t.Fatal(err)
	}
	there, _ := over(t, bea, handOn(t, s, "bea"))
	if data, err := bea.Store.ReadPhoto(there.No(), e.Photo.Name); string(data) != "picture" || err != nil {
		t.Errorf("%q, error %v", data, err)
	}
}

// A journal of a stranger may name a photo by a path.
func TestPhotosOfAStranger(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if err := s.HandOn(HandOn{To: "bea", Words: "WORDS"}, io.Discard); err != nil {
		t.Fatal(err)
	}
	pins, _, err := needs(s.Job())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"../../x.jpg", "x.jpg", `\u001b[2J.jpg`, strings.Repeat("a", 64)} {
		lines := s.dir.Log().Lines()
		last := lines[len(lines)-1]
		photo := `"text":"WORDS","photo":{"name":"` + name + `","sha256":"` + strings.Repeat("a", 64) + `"}`
		event := strings.Replace(string(last.Event), `"text":"WORDS"`, photo, 1)
		line, err := journal.Encode(journal.Head{N: last.N - 1, Hash: last.Prev}, []byte(event))
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		what := store.Packing{Job: 1, Wing: "cloth", Lines: append(lines[:len(lines)-1:len(lines)-1], line), Pinned: pins}
		if err := d.Store.PackJob(1, what, &b); err != nil {
			t.Fatal(err)
		}
		_, _, err = takeOver(bare(t, "bea"), b.Bytes())
		if err == nil || !strings.Contains(err.Error(), "the journal names a photo") || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q: error %v", name, err)
		}
	}
}

// An answer has one photo, a finding may have several; none is packed twice.
func TestPhotosOfEvents(t *testing.T) {
	photo := func(ext string) job.Photo {
		sha := strings.Repeat("a", 64)
		return job.Photo{Name: sha + ext, SHA256: sha}
	}
	one := photo(".jpg")
	var got []string
	for _, e := range []*job.Event{
		{Kind: job.Answered, Photo: &one},
		{Kind: job.FoundOne, Found: &job.Found{Photos: []job.Photo{photo(".png"), photo(".jpg")}}},
		{Kind: job.Noted},
	} {
		for _, p := range e.Photos() {
			got = append(got, p.Name)
		}
	}
	if diff := cmp.Diff([]string{photo(".jpg").Name, photo(".png").Name}, sortedOnce(got)); diff != "" {
		t.Error(diff)
	}
}

func TestTooManyTasksAreRefused(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	lines := s.dir.Log().Lines()
	if err := notTooLong(lines); err != nil {
		t.Error(err)
	}
	add := lines[1]
	if !strings.Contains(string(add.Event), `"kind":"add"`) {
		t.Fatalf("line 2 is %s", add.Event)
	}
	for range mostTasks {
		lines = append(lines[:len(lines):len(lines)], add)
	}
	if err := notTooLong(lines); err == nil || !strings.Contains(err.Error(), "1001 tasks") {
		t.Errorf("error %v", err)
	}
}
