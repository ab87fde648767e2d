package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

func (a *app) procedureCommand() *cobra.Command {
	var markdown bool
	var wingID, target string
	show := &cobra.Command{
		Use: "show PROCEDURE", Short: "A numbered sheet with blanks, for a bench without a computer", Args: takes(1, 1),
		Long: "A numbered sheet with blanks, for a bench without a computer. With --wing and\n" +
			"--target it is filled in from the plan of that wing; what is done on both brakes\n" +
			"or on the whole wing needs no target.",
		Example: "  linewright procedure show line-swap\n" +
			"  linewright procedure show line-swap --wing barn --target C1.2@left\n" +
			"  linewright procedure show damage-survey --wing barn --markdown",
		RunE: func(c *cobra.Command, args []string) error {
			if wingID == "" && target != "" {
				return usage(c, "a target is one of a wing: --wing is missing")
			}
			return a.withDesk(func(d session.Desk) error { return a.showProcedure(d, args[0], wingID, target, markdown) })
		},
	}
	show.Flags().BoolVar(&markdown, "markdown", false, "print Markdown")
	show.Flags().StringVar(&wingID, "wing", "", "`WING` of the store, which the sheet is for")
	show.Flags().StringVar(&target, "target", "", "what is worked on, `TARGET`, as C1.2@left, C@left or brakes")
	return noun("procedure", "Procedures: what is done step by step",
		&cobra.Command{Use: "list", Short: "The procedures that are offered", Args: takes(0, 0), RunE: func(*cobra.Command, []string) error {
			return a.withDesk(a.listProcedures)
		}},
		show,
		&cobra.Command{Use: "check FILE.toml", Short: "Every fault of a procedure file", Args: takes(1, 1), RunE: func(_ *cobra.Command, args []string) error {
			return a.withDesk(func(d session.Desk) error { return a.checkProcedure(d, args[0]) })
		}},
	)
}

// procedureJSON is a procedure as --json prints it.
type procedureJSON struct {
	ID      string     `json:"id"`
	Edition string     `json:"edition"`
	Title   string     `json:"title"`
	Purpose string     `json:"purpose,omitempty"`
	Target  string     `json:"target"`
	SHA256  string     `json:"sha256"`
	Steps   []stepJSON `json:"steps,omitempty"`
}

func procedureRow(p *procedure.Procedure) procedureJSON {
	return procedureJSON{ID: p.ID, Edition: p.Edition, Title: p.Title.In("en"), Purpose: p.Purpose.In("en"), Target: p.Target, SHA256: p.SHA256()}
}

func (a *app) listProcedures(d session.Desk) error {
	lib, faults := d.Library()
	rows := []procedureJSON{}
	for _, id := range lib.IDs() {
		p, _ := lib.Get(id)
		rows = append(rows, procedureRow(p))
	}
	err := a.result(rows, func() {
		for _, p := range rows {
			a.line("%s: %s, edition %s. Target: %s. %s", p.ID, p.Title, p.Edition, prompt.Targets[wing.Kind(p.Target)], p.Purpose)
		}
	})
	return errors.Join(err, faults)
}

// findProcedure finds a procedure. Faults of another file do not matter.
func findProcedure(d session.Desk, id string) (*procedure.Procedure, error) {
	lib, faults := d.Library()
	if p, ok := lib.Get(id); ok {
		return p, nil
	}
	if faults != nil {
		return nil, faults
	}
	return nil, fmt.Errorf("there is no procedure %q\nprocedures here: %s", id, strings.Join(lib.IDs(), ", "))
}

func (a *app) showProcedure(d session.Desk, id, wingID, target string, markdown bool) error {
	p, err := findProcedure(d, id)
	if err != nil {
		return err
	}
	u, on := p.Blank(), ""
	if wingID != "" {
		if u, on, err = unfoldOn(d, p, wingID, target); err != nil {
			return err
		}
	}
	value := procedureRow(p)
	value.Steps = steps(u)
	return a.result(value, func() {
		form := procedure.Plain
		if markdown {
			form = procedure.Markdown
		}
		fmt.Fprint(a.out, source.Clean(u.SheetOf(on, "en", form)))
	})
}

// unfoldOn lays a procedure out on a target of a wing, and gives the wing's name
// and serial number.
func unfoldOn(d session.Desk, p *procedure.Procedure, wingID, target string) (u *procedure.Unfolded, name string, err error) {
	ref, err := prompt.Target(wing.Kind(p.Target), target)
	if err != nil {
		return nil, "", fmt.Errorf("%w; give it with --target", err)
	}
	w, plan, err := loadWing(d, wingID)
	if err != nil {
		return nil, "", err
	}
	u, err = procedure.Unfold(p, plan, ref)
	return u, w.Name + serial(w.Serial), err
}

// stepJSON is a step as --json prints it.
type stepJSON struct {
	Key    string `json:"key"`
	Phase  string `json:"phase"`
	Action string `json:"action"`
	Ask    string `json:"ask,omitempty"`
	Kind   string `json:"kind"`
}

// steps lists the steps as they are laid out.
func steps(u *procedure.Unfolded) []stepJSON {
	out := make([]stepJSON, len(u.Slots))
	for i, s := range u.Slots {
		phase := u.Phases[s.Phase]
		out[i] = stepJSON{
			Key: s.Key, Phase: strings.TrimSpace(phase.Title.In("en") + " " + string(phase.Side)),
			Action: s.Say(s.Card.Action, "en", unanswered{}), Ask: s.Say(s.Step.Ask, "en", unanswered{}), Kind: string(s.Step.Kind),
		}
	}
	return out
}

// unanswered is a task before its first answer.
type unanswered struct{}

// Answer finds nothing.
func (unanswered) Answer(string) (any, bool) { return nil, false }

// checkProcedure reads a file beside those that it may include. It stands first,
// so that it may be the newer edition of one that is offered.
func (a *app) checkProcedure(d session.Desk, file string) error {
	data, err := readFile(file)
	if err != nil {
		return err
	}
	name := filepath.Clean(file)
	files := []procedure.File{{Name: name, Data: data}}
	for _, f := range d.Procedures {
		if f.Name != name {
			files = append(files, f)
		}
	}
	_, err = procedure.NewLibrary(files)
	var all, own source.Faults
	if err != nil && !errors.As(err, &all) {
		return err
	}
	for _, f := range all {
		if f.File == name {
			own = append(own, f)
		}
	}
	return a.checked(own, func() { a.line("%s: no faults.", file) })
}
