package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

func (a *app) wingCommand() *cobra.Command {
	var w store.Wing
	var hours float64
	var sample bool
	add := &cobra.Command{
		Use: "add ID FILE.toml", Short: "Add a wing with its plan", Args: takes(1, 2),
		Example: "  linewright wing add barn plan.toml --name \"Ann's wing\" --serial 0042\n" +
			"  linewright wing add trial --sample",
		Long: "Add a wing with its plan. ID is a short name of your own: lower case letters,\n" +
			"digits and hyphens. The file is a plan; wing check says what is wrong with it.",
		RunE: func(c *cobra.Command, args []string) error {
			w.ID = args[0]
			if c.Flags().Changed("hours") {
				w.HoursAtStart = &hours
			}
			switch {
			case sample && len(args) == 1:
				plan, err := procedures.Sample.ReadFile(samplePlan)
				return errors.Join(err, a.addWing(w, samplePlan, plan))
			case sample || len(args) == 1:
				return usage(c, "a plan is wanted: FILE, or --sample")
			}
			plan, err := readFile(args[1])
			if err != nil {
				return err
			}
			return a.addWing(w, args[1], plan)
		},
	}
	add.Flags().StringVar(&w.Name, "name", "", "`NAME` that its owner calls it by (else the name of the plan)")
	add.Flags().StringVar(&w.Serial, "serial", "", "`SERIAL` number as it stands on the wing")
	add.Flags().Float64Var(&hours, "hours", 0, "`HOURS` of airtime so far")
	add.Flags().BoolVar(&sample, "sample", false, "take the plan of the sample wing, which is invented")
	return noun("wing", "Wings and their line plans", add,
		&cobra.Command{Use: "list", Short: "The wings of the store", Args: takes(0, 0), RunE: func(*cobra.Command, []string) error {
			return a.withDesk(a.listWings)
		}},
		a.wingShowCommand(),
		&cobra.Command{Use: "check FILE.toml", Short: "Every fault of a plan file", Args: takes(1, 1), RunE: func(_ *cobra.Command, args []string) error {
			return a.checkWing(args[0])
		}},
		a.importCommand(), a.exportCommand(), a.foundCommand(), a.wingLoopsCommand(),
	)
}

// samplePlan is the plan of the sample wing among the embedded files.
const samplePlan = "sample/plan.toml"

func (a *app) addWing(w store.Wing, file string, data []byte) error {
	plan, err := wing.ParsePlan(data, file)
	if err != nil {
		return err
	}
	if w.Name == "" {
		w.Name = plan.Name + " " + plan.Size
	}
	return a.withDesk(func(d session.Desk) error {
		added, err := d.Store.AddWing(w, data)
		if err != nil {
			return err
		}
		return a.result(wingRow(added, plan), func() {
			a.line("Wing %s is added: %s, %d lines a side.", added.ID, added.Name, len(plan.Lines))
		})
	})
}

// readFile reads a file that a person named.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err == nil && info.Size() > store.MaxText {
		return nil, fmt.Errorf("%s: the file has more than %d bytes\nsee whether this is the right file", path, store.MaxText)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		var in *os.PathError
		if errors.As(err, &in) {
			err = in.Err
		}
		return nil, fmt.Errorf("%s: the file cannot be read: %w\nsee that it is there and that you may read it", path, err)
	}
	return data, nil
}

// wingJSON is a wing as --json prints it.
type wingJSON struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"`
	Serial     string   `json:"serial,omitempty"`
	Hours      *float64 `json:"hours_at_start,omitempty"`
	Plan       string   `json:"plan"`
	Size       string   `json:"size"`
	PlanSHA256 string   `json:"plan_sha256"`
	Source     string   `json:"source"`
	SourceDate string   `json:"source_date,omitempty"`
	Partial    bool     `json:"partial"`
	Lines      int      `json:"lines_a_side"`
}

func wingRow(w store.Wing, p *wing.Plan) wingJSON {
	return wingJSON{
		ID: w.ID, Name: w.Name, Serial: w.Serial, Hours: w.HoursAtStart, Plan: p.Name, Size: p.Size, PlanSHA256: w.Plan,
		Source: p.Source.Text, SourceDate: p.Source.Date, Partial: p.Partial, Lines: len(p.Lines),
	}
}

func loadWing(d session.Desk, id string) (store.Wing, *wing.Plan, error) {
	w, err := d.Store.Wing(id)
	if err != nil {
		return w, nil, err
	}
	data, err := d.Store.PlanBytes(w)
	if err != nil {
		return w, nil, err
	}
	plan, err := wing.ParsePlan(data, "plan of "+id)
	return w, plan, err
}

func (a *app) listWings(d session.Desk) error {
	ids, err := d.Store.Wings()
	if err != nil {
		return err
	}
	rows := []wingJSON{}
	var bad error
	for _, id := range ids {
		w, plan, err := loadWing(d, id)
		if err != nil {
			bad = errors.Join(bad, err)
			continue
		}
		rows = append(rows, wingRow(w, plan))
	}
	err = a.result(rows, func() {
		if len(ids) == 0 {
			a.line("There is no wing yet. Add one: linewright wing add ID FILE")
		}
		for _, r := range rows {
			a.line("%s: %s%s. Plan %s %s.", r.ID, r.Name, serial(r.Serial), r.Plan, r.Size)
		}
	})
	return errors.Join(err, bad)
}

func serial(s string) string {
	if s == "" {
		return ""
	}
	return ", serial " + s
}

func (a *app) checkWing(file string) error {
	data, err := readFile(file)
	if err != nil {
		return err
	}
	p, err := wing.ParsePlan(data, filepath.Clean(file))
	var faults source.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	return a.checked(faults, func() {
		a.line("%s: no faults. %s, size %s, %d lines a side.", file, p.Name, p.Size, len(p.Lines))
		for _, m := range p.Missing() {
			a.line("Missing: %s", m)
		}
	})
}

// faultJSON is a fault of a file as --json prints it.
type faultJSON struct {
	File string `json:"file"`
	Line int    `json:"line,omitempty"`
	Key  string `json:"key,omitempty"`
	What string `json:"what"`
	Cure string `json:"cure"`
}

// checked prints what a check of a file found. Faults are a no.
func (a *app) checked(faults source.Faults, sound func()) error {
	list := []faultJSON{}
	for _, f := range faults {
		list = append(list, faultJSON(f))
	}
	err := a.result(struct {
		Sound  bool        `json:"sound"`
		Faults []faultJSON `json:"faults"`
	}{len(faults) == 0, list}, func() {
		if len(faults) == 0 {
			sound()
			return
		}
		for _, f := range faults {
			a.line("%s", f.Error())
		}
		a.line("%s", count(len(faults), "fault", "faults"))
	})
	if err == nil && len(faults) > 0 {
		return errNo
	}
	return err
}
