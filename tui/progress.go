package tui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// far says how far work at the disk is that takes a while.
type far struct{ done, of int }

func (f far) words() string {
	if f.of == 0 {
		return ""
	}
	return fmt.Sprintf("reading jobs, %d of %d; keys wait until it is done", f.done, f.of)
}

// soon is how long work may last before anything is said of it; from then on it
// is said each second, since each time writes to the terminal.
const soon = 500 * time.Millisecond

// telling hands on how far work is, not more often than a person can read.
func telling(send func(tea.Msg), now func() time.Time) func(done, of int) {
	var next time.Time
	return func(done, of int) {
		t := now()
		if done == 0 {
			next = t.Add(soon)
		}
		if done < of && !t.Before(next) {
			next = t.Add(time.Second)
			send(far{done, of})
		}
	}
}
