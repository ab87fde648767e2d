package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/table"
	"example.org/linewright/engine/wing"
)

// importFlags is what the command line says of a table.
type importFlags struct {
	columns   []string
	titles    int
	noTitles  bool
	separator string
	output    string
	yes       bool
	answers   table.Answers
}

func (a *app) importCommand() *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		Use: "import FILE.csv [-o FILE.toml]", Short: "Make a plan from a CSV table of lines or paths", Args: takes(1, 1),
		Long: "Make a plan from a CSV table, as manuals and check sheets give them: lengths\n" +
			"of lines, lengths of whole paths, or both; commas, semicolons or tabs; decimals\n" +
			"with a point or a comma. What the columns hold is guessed and shown before\n" +
			"anything is written. A column is named as ROLE=COLUMN, counted from 1; of a\n" +
			"grid as path:A=2 for row A.\n" +
			strings.Join(reckon.Fold([]string{"Roles: " + roleNames() + "."}), "\n"),
		Example: "  linewright wing import lines.csv\n" +
			"  linewright wing import lines.csv --column code=1 --column length=3 --unit cm",
		RunE: func(c *cobra.Command, args []string) error { return a.importTable(c.Context(), args[0], f) },
	}
	flags := c.Flags()
	flags.StringArrayVar(&f.columns, "column", nil, "what a column holds, `ROLE=COLUMN`, as length=3; may be given again")
	flags.IntVar(&f.titles, "titles", 0, "`NUMBER` of the line with the titles of the columns")
	flags.BoolVar(&f.noTitles, "no-titles", false, "the table has no titles")
	flags.StringVar(&f.separator, "separator", "", "what is between the fields: `comma|semicolon|tab`")
	flags.StringVarP(&f.output, "output", "o", "", "`FILE.toml` to write the plan to (else the name of the table with .toml)")
	flags.BoolVar(&f.yes, "yes", false, "take the columns as guessed and ask nothing")
	flags.StringVar(&f.answers.Name, "name", "", "`NAME` of the wing, as the maker writes it")
	flags.StringVar(&f.answers.Size, "size", "", "its `SIZE`")
	flags.StringVar(&f.answers.Source, "source", "", "where the table comes from, in `WORDS`")
	flags.StringVar(&f.answers.Date, "date", "", "the `DATE` that it bears")
	flags.StringVar(&f.answers.Unit, "unit", "", "unit of lengths that name none: `mm|cm|m|in|ft`")
	flags.StringVar(&f.answers.StrengthUnit, "strength-unit", "", "unit of the strengths: `N|daN|kgf|lbf`")
	flags.StringVar(&f.answers.PathsFrom, "paths-from", "", "where the lengths of paths begin: `link|riser`")
	flags.StringVar(&f.answers.LinkKind, "links", "", "kind of the links: `screw|soft`")
	flags.StringVar(&f.answers.Sheath, "sheath", "", "lines with a sheath: `all|none|upper` (upper: all but the upper tier)")
	flags.BoolVar(&f.answers.Partial, "partial", false, "the table holds some lines of the wing only")
	return c
}

func roleNames() string {
	names := make([]string, len(table.Roles))
	for i, r := range table.Roles {
		names[i] = string(r)
	}
	return strings.Join(names, ", ")
}

var separators = map[string]rune{"": 0, "comma": ',', "semicolon": ';', "tab": '\t'}

// importTable reads the table, has its columns confirmed, asks what it does not
// tell, and writes the plan.
func (a *app) importTable(ctx context.Context, file string, f importFlags) error {
	if f.output == "" {
		base := filepath.Base(file)
		f.output = strings.TrimSuffix(base, filepath.Ext(base)) + ".toml"
	}
	if err := absent(f.output); err != nil {
		return err
	}
	if err := f.check(); err != nil {
		return err
	}
	sheet, told, err := readSheet(file, f)
	if err != nil {
		return err
	}
	im, err := a.confirmed(ctx, sheet, told, f.yes)
	if err != nil {
		return err
	}
	if err := im.Check(); err != nil {
		return err
	}
	if err := a.answerNeeds(ctx, im, &f); err != nil {
		return err
	}
	r, err := im.Plan(f.answers)
	if err != nil {
		return err
	}
	if err := store.WriteFile(f.output, r.TOML); err != nil {
		return notWritten(f.output, err)
	}
	return a.imported(im, r, f.output)
}

// check refuses a wrong answer on the command line before anything is read.
func (f *importFlags) check() error {
	if _, ok := separators[f.separator]; !ok {
		return fmt.Errorf("%q is no separator\nsay --separator comma, semicolon or tab", f.separator)
	}
	var given table.Answers
	for key, text := range map[string]string{
		"unit": f.answers.Unit, "strength_unit": f.answers.StrengthUnit, "paths_from": f.answers.PathsFrom,
		"links": f.answers.LinkKind, "sheath": f.answers.Sheath,
	} {
		if text == "" {
			continue
		}
		if err := given.Set(key, text); err != nil {
			return err
		}
	}
	return nil
}

func readSheet(file string, f importFlags) (*table.Sheet, []table.Column, error) {
	var told []table.Column
	for _, text := range f.columns {
		c, err := table.ParseColumn(text)
		if err != nil {
			return nil, nil, err
		}
		told = append(told, c)
	}
	data, err := readFile(file)
	if err != nil {
		return nil, nil, err
	}
	layout := table.Layout{Comma: separators[f.separator], Head: f.titles}
	if f.noTitles {
		layout.Head = table.NoHead
	}
	sheet, err := table.Read(filepath.Clean(file), data, layout)
	return sheet, told, err
}

// confirmed shows what the columns are taken for until a person agrees.
func (a *app) confirmed(ctx context.Context, s *table.Sheet, told []table.Column, yes bool) (*table.Import, error) {
	im, err := s.Guess(told)
	if err != nil {
		return nil, err
	}
	if yes {
		if !a.json {
			a.sayColumns(im)
		}
		return im, nil
	}
	for {
		a.sayColumns(im)
		a.say("Is this right? yes, no, or a change such as length=3")
		text, err := a.typed(ctx, "yes to take the columns, or give --yes")
		if err != nil {
			return nil, err
		}
		switch strings.ToLower(strings.TrimSpace(text)) {
		case "yes", "y":
			return im, nil
		case "no", "n":
			a.say("Nothing was written. Say what the columns hold with --column.")
			return nil, errNo
		}
		changed, more, err := change(s, told, text)
		if err != nil {
			if !a.in.Terminal() {
				return nil, err
			}
			a.report(err)
			continue
		}
		im, told = changed, more
	}
}

// change guesses anew with one more column said; what is said again replaces
// what was said before.
func change(s *table.Sheet, told []table.Column, text string) (*table.Import, []table.Column, error) {
	c, err := table.ParseColumn(text)
	if err != nil {
		return nil, nil, err
	}
	more := append(append([]table.Column{}, told...), c)
	im, err := s.Guess(more)
	return im, more, err
}

func (a *app) sayColumns(im *table.Import) {
	s := im.Sheet
	titles := "no titles"
	if n := s.HeadLine(); n > 0 {
		titles = fmt.Sprintf("titles on line %d", n)
	}
	a.say("%s: %d records, separated by %s, %s", s.Name, len(s.Records), s.SeparatorWords(), titles)
	for _, c := range im.Columns {
		a.say("  %s: %s", c.Words(), columnWords(c))
	}
}

// columnWords says what a column is taken for, and why.
func columnWords(c table.Column) string {
	words := string(c.Role)
	if c.Role == table.RoleNone {
		words = "left out"
	}
	if c.At != "" {
		words += " of " + c.At
	}
	if c.Unit != "" {
		words += " in " + c.Unit
	}
	switch c.Why {
	case table.ByTitle:
		words += ", by its title"
	case table.ByContent:
		words += ", by what stands in it"
	case table.ByPerson:
		words += ", as told"
	}
	if len(c.First) == 0 {
		return words
	}
	words += ": " + strings.Join(c.First, " | ") + " ..."
	if first, ok := c.FirstLength(); ok {
		words += " The first is " + first.String() + "."
	}
	return words
}

// answerNeeds asks what only a person can say.
func (a *app) answerNeeds(ctx context.Context, im *table.Import, f *importFlags) error {
	open := im.Needs(f.answers)
	if f.yes && len(open) > 0 {
		var all []error
		for _, n := range open {
			all = append(all, fmt.Errorf("not said: %s\ngive it with --%s", n.Ask, strings.ReplaceAll(n.Key, "_", "-")))
		}
		return errors.Join(all...)
	}
	for len(open) > 0 {
		n := open[0]
		a.say("%s%s", n.Ask, choices(n.Choices))
		text, err := a.typed(ctx, "an answer, or give it with --"+strings.ReplaceAll(n.Key, "_", "-"))
		if err != nil {
			return err
		}
		if err := f.answers.Set(n.Key, text); err != nil {
			if !a.in.Terminal() {
				return err
			}
			a.report(err)
		}
		open = im.Needs(f.answers)
	}
	return nil
}

func choices(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return ": " + strings.Join(list, ", ")
}

// importJSON is an import as --json prints it.
type importJSON struct {
	Plan      string         `json:"plan_file"`
	Separator string         `json:"separator"`
	Titles    int            `json:"titles_line,omitempty"`
	Columns   []table.Column `json:"columns"`
	LeftOut   []table.Note   `json:"left_out"`
	Notes     []string       `json:"notes"`
	madeJSON
}

// madeJSON is a plan that was made, as --json prints it.
type madeJSON struct {
	Name    string   `json:"name"`
	Size    string   `json:"size"`
	Partial bool     `json:"partial"`
	AsFound bool     `json:"as_found"`
	Lines   int      `json:"lines_a_side"`
	Loose   int      `json:"lines_without_place"`
	Paths   int      `json:"stated_paths"`
	Serves  []string `json:"serves"`
	Missing []string `json:"missing"`
}

func madeRow(p *wing.Plan) madeJSON {
	return madeJSON{
		p.Name, p.Size, p.Partial, p.AsFound, len(p.Lines), len(p.Loose), len(p.Stated),
		append([]string{}, p.Serves()...), append([]string{}, p.Missing()...),
	}
}

func (a *app) imported(im *table.Import, r *table.Result, file string) error {
	row := importJSON{
		file, im.Sheet.SeparatorWords(), im.Sheet.HeadLine(), im.Columns,
		append([]table.Note{}, r.LeftOut...), append([]string{}, r.Notes...), madeRow(r.Plan),
	}
	return a.result(row, func() {
		for _, n := range row.LeftOut {
			a.line("Left out: line %d: %s", n.Line, n.Text)
		}
		for _, n := range row.Notes {
			a.line("Note: %s", n)
		}
		a.sayMade(row.madeJSON, file)
	})
}

// sayMade says what a new plan can and cannot do, and what to do with it.
func (a *app) sayMade(row madeJSON, file string) {
	for _, s := range row.Serves {
		a.line("It serves: %s", s)
	}
	for _, m := range row.Missing {
		a.line("Missing: %s", m)
	}
	word := "complete"
	if row.Partial {
		word = "partial"
	}
	a.line("The plan is %s. It is in %s", word, file)
	a.line("Add a wing with it: linewright wing add ID %s", file)
}

func (a *app) exportCommand() *cobra.Command {
	var output string
	c := &cobra.Command{
		Use: "export WING|FILE.toml [-o FILE.csv]", Short: "Write the lines and paths of a plan as CSV", Args: takes(1, 1),
		Long: "Write the lines and paths of a plan as CSV (RFC 4180), which wing import takes\n" +
			"back. WING is the id of a wing, the other a plan file. A table does not carry\n" +
			"the name, size and source of the plan, its limits, its pull, its brakes and\n" +
			"the measures of its links.",
		RunE: func(_ *cobra.Command, args []string) error { return a.exportTable(args[0], output) },
	}
	c.Flags().StringVarP(&output, "output", "o", "", "`FILE.csv` to write (else it is printed)")
	return c
}

func (a *app) exportTable(name, output string) error {
	p, err := a.planOf(name)
	if err != nil {
		return err
	}
	csv := table.Export(p)
	if output == "" {
		return a.result(struct {
			CSV string `json:"csv"`
		}{string(csv)}, func() { fmt.Fprintf(a.out, "%s", csv) })
	}
	if err := absent(output); err != nil {
		return err
	}
	if err := store.WriteFile(output, csv); err != nil {
		return notWritten(output, err)
	}
	return a.result(struct {
		File string `json:"csv_file"`
	}{output}, func() { a.line("The table is in %s", output) })
}

// planOf gives the plan of a wing of the store, or that of a file: a name with
// a point or a slash is no id of a wing.
func (a *app) planOf(name string) (*wing.Plan, error) {
	if strings.ContainsAny(name, `./\`) {
		data, err := readFile(name)
		if err != nil {
			return nil, err
		}
		return wing.ParsePlan(data, filepath.Clean(name))
	}
	var p *wing.Plan
	err := a.withDesk(func(d session.Desk) error {
		var err error
		_, p, err = loadWing(d, name)
		return err
	})
	return p, err
}
