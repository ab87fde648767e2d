package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/record"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
	"example.org/linewright/tui/prompt"
)

// The people of the demo. Their keys are made for it and have no pass phrase.
const (
	demoDoer   = "ann"
	demoSecond = "bea"
)

// sampleAnswers is the file of answers among the embedded files.
const sampleAnswers = "sample/answers.txt"

func (a *app) demoCommand() *cobra.Command {
	var file, keep string
	var story bool
	c := &cobra.Command{
		Use: "demo", Short: "Try it: the main job on a sample wing, to a signed record", Args: takes(0, 0),
		Example: "  linewright demo\n" +
			"  linewright demo --story",
		Long: "The main job on the sample wing, in a throw-away store. On a terminal it opens\n" +
			"the bench and offers the sample answers; Enter alone walks through. Without a\n" +
			"terminal the answers go through line mode; the record is signed, exported and\n" +
			"verified, and the last line says where it lies. An answer that is not taken\n" +
			"ends it with its refusal.",
		RunE: func(c *cobra.Command, _ []string) error {
			if story {
				return a.demoStory(c.Context(), keep)
			}
			return a.demo(c.Context(), file, keep)
		},
	}
	c.Flags().BoolVar(&story, "story", false, "the whole wing: survey, order, swaps, trim, release and the visit a month later, in line mode")
	c.Flags().StringVar(&file, "answers", "", "`FILE.txt` of answers, instead of the sample ones")
	c.Flags().StringVar(&keep, "keep", "", "new `FOLDER` for store and record (else one in the folder for temporary files)")
	return c
}

func (a *app) demo(ctx context.Context, file, keep string) error {
	list, err := readAnswers(file)
	if err != nil {
		return err
	}
	dir, err := demoFolder(keep)
	if err != nil {
		return err
	}
	err = a.demoIn(ctx, dir, list)
	if err != nil && keep == "" {
		err = errors.Join(err, os.RemoveAll(dir))
	}
	return err
}

// demoStory is demo for the whole story.
func (a *app) demoStory(ctx context.Context, keep string) error {
	dir, err := demoFolder(keep)
	if err != nil {
		return err
	}
	err = a.story(ctx, dir)
	if err != nil && keep == "" {
		err = errors.Join(err, os.RemoveAll(dir))
	}
	return err
}

// demoFolder makes a folder of its own, so that nothing that is there is
// touched. It is kept when all went well: the record is to be looked at.
func demoFolder(keep string) (string, error) {
	if keep == "" {
		return os.MkdirTemp("", "linewright-demo-")
	}
	if err := os.Mkdir(keep, 0o755); err != nil {
		return "", fmt.Errorf("%s: the folder cannot be made: %w\ngive one that is not there yet", keep, errors.Unwrap(err))
	}
	return keep, nil
}

func (a *app) demoIn(ctx context.Context, dir string, list answers) (err error) {
	folder, err := store.Open(filepath.Join(dir, "store"))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, folder.Close()) }()
	d := session.Desk{Store: folder, Procedures: procedures.Files(), Who: demoDoer, Clock: time.Now, Elsewhere: true}
	no, err := demoJob(d)
	if err != nil {
		return err
	}
	a.line("Two throw-away keys without pass phrase were made: %s and %s.", demoDoer, demoSecond)
	if err := a.demoWork(ctx, d, no, list); err != nil {
		return err
	}
	return a.demoRecord(d, no, filepath.Join(dir, "record"))
}

// demoJob puts the sample wing, the two keys and the job into the store.
func demoJob(d session.Desk) (int, error) {
	plan, err := procedures.Sample.ReadFile(samplePlan)
	if err != nil {
		return 0, err
	}
	if _, err := d.Store.AddWing(store.Wing{ID: "sample", Name: "sample wing", Serial: "none"}, plan); err != nil {
		return 0, err
	}
	for _, name := range []string{demoDoer, demoSecond} {
		if err := demoKey(d.Store, name); err != nil {
			return 0, err
		}
	}
	s, err := d.Start(session.New{Wing: "sample", Reason: "a snag cut a lower C line", Bench: demoBench(), Demo: true})
	if err != nil {
		return 0, err
	}
	_, err = s.AddTask("line-swap", wing.LineRef("C1.2", wing.Left), "")
	return s.No(), errors.Join(err, s.Close())
}

// demoBench is a bench on which the limits of the sample plan can be decided.
func demoBench() metrology.Bench {
	return metrology.Bench{
		Name: "bench of the demo, invented", Rule: metrology.RuleBudget,
		TapeClass: "I", Graduation: quantity.Millimetre, TapeMaterial: "steel",
		Pull: 50 * quantity.Newton, PullHow: metrology.PullWeight, PullError: quantity.Newton / 2, Pin: 8 * quantity.Millimetre,
		AirC: 20, AirErrorC: 2, Repeatability: quantity.Millimetre / 2, RepeatabilityDoF: 10,
	}
}

func demoKey(s *store.Store, name string) error {
	private, public, err := seal.NewKey(name, nil)
	if err != nil {
		return err
	}
	key, _, err := seal.ParsePublicKey(public)
	if err != nil {
		return err
	}
	allowed, err := trusting(s, name, key)
	if err != nil {
		return err
	}
	return errors.Join(s.WriteSigner(name, private, public), s.WriteAllowedSigners(allowed))
}

// demoLines feeds the answers, and then the closing of the job, to line mode.
func (a *app) demoLines(ctx context.Context, d session.Desk, no int, list answers) error {
	s, err := d.Open(no)
	if err != nil {
		return err
	}
	in := prompt.NewInput(strings.NewReader(list.lines()))
	err = prompt.Walk(ctx, in, a.out, s, prompt.Options{Desk: d, RecordJSON: recordJSON(d)})
	if err == nil && s.Job().Closed == nil {
		err = errors.New("the answers end before the job is closed\nlet the file end with the lines of the sample answers")
	}
	return errors.Join(err, s.Close())
}

// demoRecord exports the record of the demo and checks it as a stranger would.
func (a *app) demoRecord(d session.Desk, no int, out string) error {
	j, _, err := d.Look(no)
	if err != nil {
		return err
	}
	if j.Closed == nil {
		a.line("The job is not closed, so there is no record yet. It lies in %s", d.Store.Dir())
		return nil
	}
	if _, err := export(d, no, out); err != nil {
		return err
	}
	allowed, err := d.Store.AllowedSigners()
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(out)
	if err != nil {
		return err
	}
	report, err := record.Verify(root.FS(), allowed)
	if err = errors.Join(err, root.Close()); err != nil {
		return err
	}
	a.line("")
	a.reportLines(report)
	a.line("The record is kept in:")
	a.line("%s", out)
	if report.Status != record.Verified {
		return errNo
	}
	return nil
}
