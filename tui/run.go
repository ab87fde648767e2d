package tui

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
)

// framesPerSecond is how often bubbletea looks whether there is a picture to
// write, 120 at most: the first picture and the answer to a key wait for its
// next look.
const framesPerSecond = 120

// Run shows the bench until the person leaves, a signal ends it, or ctx does.
// On every way out it waits for the entry that is being written, closes the
// session and gives the terminal back as it was. The error says what kept the
// bench from going on; leaving is none.
func Run(ctx context.Context, o Options) error {
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	clock := o.Desk.Clock
	if clock == nil {
		clock = time.Now
		o.Desk.Clock = clock
	}
	m := newModel(o, clock)
	m.can = shows(o.Out)
	m.dress(cmp.Or(o.Look, store.Looks[0]))
	p := tea.NewProgram(m, tea.WithAltScreen(), tea.WithoutSignalHandler(), tea.WithFPS(framesPerSecond),
		tea.WithInput(o.In), tea.WithOutput(&screen{File: o.Out}))
	m.desk.Progress = telling(p.Send, clock)
	stop := endWith(ctx, p)
	_, err := p.Run()
	stop()
	if cerr := m.hands.leave(); err == nil {
		err = cerr
	}
	farewell(o.Out, m)
	return err
}

// endWith ends the program when ctx does, or a signal asks for it. The program
// ends by a message, so that the terminal is given back as it was.
func endWith(ctx context.Context, p *tea.Program) (stop func()) {
	ctx, cancel := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	done := make(chan struct{})
	go func() {
		defer close(done)
		<-ctx.Done()
		p.Quit()
	}()
	return func() { cancel(); <-done }
}

// farewell says what a person has to know who leaves.
func farewell(out *os.File, m *model) {
	if m.at.start.Job != 0 && m.session != nil {
		fmt.Fprintf(out, "%s: everything that was said to be saved is on the disk.\n", procedure.Capital(session.JobName(m.at.no, m.at.start)))
	}
	if m.dropped != "" {
		fmt.Fprintf(out, "What stood in the field was not saved and is gone: %s\n", cell(m.dropped, 60))
	}
}
