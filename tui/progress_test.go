package tui

import (
	"reflect"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/procedures"
)

// Short work says nothing; long work is told at most once a second.
func TestProgressIsToldOnlyOfLongWork(t *testing.T) {
	c := &clock{time.Date(2026, 11, 3, 10, 0, 0, 0, time.UTC)}
	var got []tea.Msg
	tell := telling(func(msg tea.Msg) { got = append(got, msg) }, c.now)
	for done := range 31 {
		tell(done, 30)
		c.t = c.t.Add(100 * time.Millisecond)
	}
	if want := []tea.Msg{far{5, 30}, far{15, 30}, far{25, 30}}; !reflect.DeepEqual(got, want) {
		t.Errorf("told %v, want %v", got, want)
	}
}

// The first list of a large store says how far it is, and then shows the jobs.
func TestALongFirstReadIsSeen(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil)
	load := u.m.goHome()
	u.send(far{400, 2000})
	u.sees("reading jobs, 400 of 2000").press("enter")
	u.run(load)
	u.sees("NO JOB YET").seesNot("reading jobs")
}
