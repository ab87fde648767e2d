package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/order"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/prompt"
)

// moveCommands hand a job on to another machine, and print its order list.
func (a *app) moveCommands() []*cobra.Command {
	var out string
	pack := &cobra.Command{
		Use: "pack JOB -o FILE.zip", Short: "Write a job that was handed on as one file", Args: takes(1, 1),
		Long: "Write a job as one file, for another person on another machine. It has to be\n" +
			"handed on first, with the state in which it is left: :hand-on NAME in line\n" +
			"mode, or at the bench.",
		Example: "  linewright job pack 1 -o job-1.zip",
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withBench(func(d session.Desk) error { return a.packJob(d, args[0], out) })
		},
	}
	pack.Flags().StringVarP(&out, "output", "o", "", "`FILE.zip` to write; it must not be there yet")
	var same bool
	take := &cobra.Command{
		Use: "take FILE.zip", Short: "Take over a job that was handed on elsewhere", Args: takes(1, 1),
		Long: "Take over a job that was handed on elsewhere, from the one file that job pack\n" +
			"wrote. What is open in it is said first.",
		Example: "  linewright --as cal job take job-1.zip",
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withBench(func(d session.Desk) error { return a.takeJob(d, args[0], same) })
		},
	}
	take.Flags().BoolVar(&same, "same-wing", false, "the wing of that name here is the job's wing, though no serial number tells")
	var asCSV bool
	parts := &cobra.Command{
		Use: "parts JOB", Short: "The order list of a job", Args: takes(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withDesk(func(d session.Desk) error { return a.jobParts(d, args[0], asCSV) })
		},
	}
	parts.Flags().BoolVar(&asCSV, "csv", false, "as CSV (RFC 4180)")
	agenda := &cobra.Command{
		Use: "agenda JOB", Short: "What is to be done next, what waits, what is void", Args: takes(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withDesk(func(d session.Desk) error { return a.jobAgenda(d, args[0]) })
		},
	}
	return []*cobra.Command{agenda, parts, pack, take}
}

func (a *app) packJob(d session.Desk, text, out string) error {
	no, err := number(text)
	if err != nil {
		return err
	}
	if out == "" {
		return errors.New("no file is named\nsay where it goes: -o FILE")
	}
	s, err := d.Open(no)
	if err != nil {
		return err
	}
	return errors.Join(a.pack(s, out), s.Close())
}

func (a *app) pack(s *session.Session, out string) error {
	if s.Job().Closed == nil && s.Job().HandedTo() == "" {
		return fmt.Errorf("job %d was not handed on\nhand it on first, in line mode: linewright job walk %d, then :hand-on NAME", s.No(), s.No())
	}
	f, err := os.OpenFile(out, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already\nname another file", out)
	}
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w\nsee that the folder is there and that you may write in it", out, err)
	}
	err = s.HandOn(session.HandOn{}, f)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, os.Remove(out))
	}
	a.line("Job %d is in %s. Whoever goes on: linewright --as NAME job take %s", s.No(), out, out)
	return nil
}

func (a *app) takeJob(d session.Desk, file string, same bool) error {
	f, err := os.Open(file)
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w\nsee that it is there and that you may read it", file, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	s, arrival, err := d.TakeOver(f, info.Size(), session.Receive{SameWing: same, Progress: a.progress("writing files")})
	if err != nil {
		return err
	}
	a.arrived(s, arrival)
	return s.Close()
}

// arrived says first what is open in a job that was taken over.
func (a *app) arrived(s *session.Session, arrival session.Arrival) {
	j := s.Job()
	if j.Closed == nil {
		a.sayOpen(j)
	}
	a.line("Taken over: %s.", session.JobName(s.No(), j.Start))
	if arrival.NewWing {
		a.line("Its wing was not here and is now: %s.", j.Start.WingID)
	}
	if j.Closed != nil {
		a.line("It is closed. Take the record out with: linewright record export %d -o FOLDER", s.No())
		return
	}
	a.line("Look at all of it on the wing. Go on with: linewright job walk %d", s.No())
}

// sayOpen says what is open, how the work was left, and what is to be done.
func (a *app) sayOpen(j *job.Job) {
	for _, l := range prompt.OpenWords(j) {
		a.line("%s", l)
	}
	for _, e := range slices.Backward(j.Events()) {
		if e.Kind != job.HandedOn {
			continue
		}
		a.line("Handed on by %s to %s: %s", e.Who, e.To, cmp.Or(e.Text, "nothing was said"))
		for _, state := range e.Safe {
			a.line("As it was left: %s.", state)
		}
		break
	}
	for _, t := range j.Agenda() {
		a.line("To be done: %s", prompt.TodoWords(t))
	}
}

func (a *app) jobParts(d session.Desk, text string, asCSV bool) error {
	j, err := lookAt(d, text)
	if err != nil {
		return err
	}
	list := order.Of(j)
	if asCSV {
		_, err := a.out.Write(list.CSV())
		return err
	}
	return a.result(list, func() {
		for l := range strings.Lines(list.Text()) {
			a.line("%s", strings.TrimRight(l, "\n"))
		}
	})
}

func (a *app) jobAgenda(d session.Desk, text string) error {
	j, err := lookAt(d, text)
	if err != nil {
		return err
	}
	todo := j.Agenda()
	return a.result(todo, func() {
		for i, t := range todo {
			a.line("%d: %s", i+1, prompt.TodoWords(t))
		}
		if len(todo) == 0 {
			a.line("Nothing is to be done.")
		}
	})
}

func lookAt(d session.Desk, text string) (*job.Job, error) {
	no, err := number(text)
	if err != nil {
		return nil, err
	}
	j, _, err := d.Look(no)
	return j, err
}
