package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/record"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

func (a *app) jobCommand() *cobra.Command {
	var n session.New
	start := &cobra.Command{
		Use: "start WING [PROCEDURE [TARGET]]", Short: "Start a job, with a first task", Args: takes(1, 4),
		Long: "Start a job on a wing. PROCEDURE and TARGET add the first task; linewright\n" +
			"procedure list names the procedures and what each is done on.",
		Example: "  linewright job start barn line-swap C1.2@left\n" +
			"  linewright job start barn link-reclosure C@right\n" +
			"  linewright job start barn damage-survey",
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withBench(func(d session.Desk) error { return a.startJob(d, args, n) })
		},
	}
	start.Flags().StringVar(&n.Reason, "reason", "", "why the wing is here, in `WORDS`; it stands in the record")
	start.Flags().StringVar(&n.Hours, "hours", "", "flying `HOURS` of the wing now, as 123.5: deferrals and rechecks go by them")
	var o prompt.Options
	walk := &cobra.Command{
		Use: "walk JOB", Short: "Work on a job in line mode", Args: takes(1, 1),
		Example: "  linewright --as ann job walk 1",
		Long: "Work on a job in line mode: one line is one entry; ? says what is asked, and\n" +
			":help has the commands by topics.\n" +
			"Without a terminal an entry that is refused or only noted ends the walk:\n" +
			"status 2 for one that was refused, 1 for one that was noted. --go-on reads on.\n" +
			"When the input ends in the middle of a task the status is 2. What was said to\n" +
			"be saved is kept in any case.",
		RunE: func(c *cobra.Command, args []string) error {
			return a.withBench(func(d session.Desk) error { return a.walkJob(c.Context(), d, args[0], o) })
		},
	}
	walk.Flags().IntVar(&o.Task, "task", 0, "`TASK` to begin with (else the first that is not done)")
	walk.Flags().BoolVar(&o.Patient, "go-on", false, "without a terminal: read on after an entry that was not taken")
	return noun("job", "Jobs: work on a wing", append([]*cobra.Command{start,
		&cobra.Command{Use: "list", Short: "Every job and where it stands", Args: takes(0, 0), RunE: func(*cobra.Command, []string) error {
			return a.withDesk(a.listJobs)
		}},
		&cobra.Command{Use: "show JOB", Short: "One job: its tasks and what is open", Args: takes(1, 1), RunE: func(_ *cobra.Command, args []string) error {
			return a.withDesk(func(d session.Desk) error { return a.showJob(d, args[0]) })
		}},
		walk,
	}, a.moveCommands()...)...)
}

// number reads the number of a job.
func number(text string) (int, error) {
	no, err := strconv.Atoi(text)
	if err != nil || no < 1 {
		return 0, fmt.Errorf("%q is not the number of a job\nlinewright job list shows the jobs", text)
	}
	return no, nil
}

func (a *app) startJob(d session.Desk, args []string, n session.New) error {
	id, target, err := firstTask(d, args)
	if err != nil {
		return err
	}
	n.Wing = args[0]
	s, err := d.Start(n)
	if err != nil {
		return err
	}
	if id != "" {
		_, err = s.AddTask(id, target, "")
	}
	no := s.No()
	if err := errors.Join(err, s.Close()); err != nil {
		return err
	}
	row, err := a.jobRow(d, no)
	if err != nil {
		return err
	}
	return a.result(row, func() {
		a.jobLines(row)
		a.line("Go on with: linewright job walk %d", no)
	})
}

// firstTask reads procedure and target. Whether they fit is found out before the
// job is begun, so that a slip leaves no empty job behind.
func firstTask(d session.Desk, args []string) (id string, target wing.Ref, err error) {
	if len(args) < 2 {
		return "", wing.Ref{}, nil
	}
	p, err := findProcedure(d, args[1])
	if err != nil {
		return "", wing.Ref{}, err
	}
	text := ""
	if len(args) > 2 {
		text = strings.Join(args[2:], " ") // "C1.2 left" may be two words, as lists say it
	}
	if target, err = prompt.Target(wing.Kind(p.Target), text); err != nil {
		return "", target, err
	}
	_, plan, err := loadWing(d, args[0])
	if err != nil {
		return "", target, err
	}
	_, err = procedure.Unfold(p, plan, target)
	return p.ID, target, err
}

func (a *app) walkJob(ctx context.Context, d session.Desk, job string, o prompt.Options) error {
	no, err := number(job)
	if err != nil {
		return err
	}
	s, err := d.Open(no)
	if err != nil {
		return err
	}
	o.Desk = d
	o.RecordJSON = recordJSON(d)
	return errors.Join(prompt.Walk(ctx, a.in, a.out, s, o), s.Close())
}

// build makes the record of a closed job.
func build(d session.Desk, no int) (record.Record, error) {
	lines, err := d.Store.ReadJob(no)
	if err != nil {
		return record.Record{}, err
	}
	photos := func(name string) ([]byte, error) { return d.Store.ReadPhoto(no, name) }
	return record.Build(lines, d.Pins(no), photos)
}
