package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

// limitJSON is a limit of a plan as --json prints it.
type limitJSON struct {
	For    string  `json:"for"`
	MM     float64 `json:"limit_mm"`
	Source string  `json:"source"`
}

// pathJSON is the length that the papers state for a path.
type pathJSON struct {
	Point string  `json:"point"`
	Row   string  `json:"row"`
	MM    float64 `json:"path_mm"`
}

// placeJSON says where a row sits along the chord.
type placeJSON struct {
	Row     string  `json:"row"`
	ChordMM float64 `json:"chord_mm"`
	Load    float64 `json:"load_weight,omitempty"`
	Source  string  `json:"source"`
}

func (a *app) wingShowCommand() *cobra.Command {
	var hours string
	c := &cobra.Command{
		Use: "show WING [PLACE ...]", Short: "A wing: its plan, what that serves and lacks, and its logbook", Args: takes(1, math.MaxInt),
		Example: "  linewright wing show barn\n" +
			"  linewright wing show barn C7@left --hours 123.5",
		Long: "A wing: its plan, what that serves and lacks, and its logbook. At the end the\n" +
			"lengths of each line over time are drawn, and of the paths those that are not\n" +
			"inside now; or, where a PLACE is named, of that one alone, as C1.2@left for a\n" +
			"line or C7@left for a path.",
		RunE: func(_ *cobra.Command, args []string) error {
			return a.withDesk(func(d session.Desk) error { return a.showWing(d, args[0], args[1:], hours) })
		},
	}
	c.Flags().StringVar(&hours, "hours", "", "flying `HOURS` of the wing now, as 123.5: deferrals and rechecks go by them")
	return c
}

func (a *app) showWing(d session.Desk, id string, places []string, hours string) error {
	w, p, err := loadWing(d, id)
	if err != nil {
		return err
	}
	book, err := a.book(d, id, hours)
	if err != nil {
		return err
	}
	drawn, rest, err := charts(book, places)
	if err != nil {
		return err
	}
	value := struct {
		wingJSON
		AsFound   bool         `json:"as_found"`
		Loose     []string     `json:"codes_without_place"`
		PathsFrom wing.From    `json:"stated_paths_from,omitempty"`
		Paths     []pathJSON   `json:"stated_path_lengths"`
		Places    []placeJSON  `json:"row_places"`
		PullN     float64      `json:"pull_n,omitempty"`
		Limits    []limitJSON  `json:"limits"`
		Serves    []string     `json:"serves"`
		Missing   []string     `json:"missing"`
		Logbook   logbook.Book `json:"logbook"`
	}{
		wingRow(w, p), p.AsFound, looseCodes(p), p.PathsFrom, statedPaths(p), placesOf(p), p.Pull.Force.N(), limitsOf(p),
		append([]string{}, p.Serves()...), append([]string{}, p.Missing()...), book,
	}
	return a.result(value, func() {
		a.sayWing(w, p)
		for _, l := range append([]string{""}, book.Words()...) {
			a.line("%s", l)
		}
		a.sayCharts(id, drawn, rest)
	})
}

// book is the logbook of a wing, with the flying hours as typed.
func (a *app) book(d session.Desk, id, hours string) (logbook.Book, error) {
	var now *job.Hours
	if hours != "" {
		h, err := job.ParseHours(hours)
		if err != nil {
			return logbook.Book{}, err
		}
		now = &h
	}
	d.Progress = a.progress("reading jobs")
	return d.BookAt(id, now)
}

func (a *app) sayWing(w store.Wing, p *wing.Plan) {
	a.line("%s: %s%s", w.ID, w.Name, serial(w.Serial))
	if w.HoursAtStart != nil {
		a.line("Hours when it was added: %g", *w.HoursAtStart)
	}
	a.line("Plan: %s, size %s. Source: %s, %s", p.Name, p.Size, p.Source.Text, p.Source.Date)
	if p.AsFound {
		a.line("AS FOUND: the plan was made from the wing, not from its maker's papers.")
	}
	a.showLines(p)
	if p.Pull.Force > 0 {
		a.line("Measuring pull: %s. Source: %s", p.Pull.Force, p.Pull.Source)
	}
	for _, l := range limitsOf(p) {
		a.line("Limit for %s: %g mm. Source: %s", l.For, l.MM, l.Source)
	}
	for _, s := range p.Serves() {
		a.line("It serves: %s", s)
	}
	for _, m := range p.Missing() {
		a.line("Missing: %s", m)
	}
}

func (a *app) showLines(p *wing.Plan) {
	for _, row := range p.Rows() {
		count, longest := 0, quantity.Length(0)
		for _, l := range p.Lines {
			if l.Row == row {
				count, longest = count+1, max(longest, l.Length)
			}
		}
		if count > 0 {
			a.line("Row %s: %d lines a side, the longest %s", row, count, longest)
		}
	}
	for _, l := range p.Links {
		a.line("Link %s on riser %s: %s, %d lines", l.Name, l.Branch, l.Kind, len(p.OnLink(l.Name)))
	}
	if loose := looseCodes(p); len(loose) > 0 {
		a.line("Without a place: %s", strings.Join(loose, ", "))
	}
	for _, s := range p.Stated {
		a.line("Stated path %s, row %s: %s from the %s", s.Point, s.Row, s.Length, p.PathsFrom)
	}
	for _, r := range p.Places {
		load := ""
		if r.Load > 0 {
			load = fmt.Sprintf(", load weight %g", r.Load)
		}
		a.line("Place of row %s: %s rearward along the chord%s. Source: %s", r.Row, r.At, load, r.Source)
	}
}

// looseCodes names the lines whose place the plan does not tell.
func looseCodes(p *wing.Plan) []string {
	codes := []string{}
	for _, l := range p.Loose {
		codes = append(codes, l.Code)
	}
	return codes
}

func statedPaths(p *wing.Plan) []pathJSON {
	paths := []pathJSON{}
	for _, s := range p.Stated {
		paths = append(paths, pathJSON{s.Point, s.Row, s.Length.MM()})
	}
	return paths
}

func placesOf(p *wing.Plan) []placeJSON {
	places := []placeJSON{}
	for _, r := range p.Places {
		places = append(places, placeJSON{r.Row, r.At.MM(), r.Load, r.Source})
	}
	return places
}

func limitsOf(p *wing.Plan) []limitJSON {
	limits := []limitJSON{}
	for _, name := range wing.LimitNames {
		if l, ok := p.Limit(name); ok {
			limits = append(limits, limitJSON{string(name), l.Length.MM(), l.Source})
		}
	}
	return limits
}
