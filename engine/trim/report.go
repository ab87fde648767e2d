package trim

import (
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Report is the trim of a wing in one state. All of it is plain data; Words
// says it for a person. Lengths in mm come from whole micrometres.
type Report struct {
	Wing        string    `json:"wing"`
	Source      string    `json:"source"` // of the plan
	From        wing.From `json:"from"`
	Trimmers    string    `json:"trimmers,omitempty"`
	SpeedSystem string    `json:"speed_system,omitempty"`

	Limits  Limits      `json:"limits"`
	Planned int         `json:"planned_paths"` // of both sides
	Paths   []PathTrim  `json:"paths"`         // in the order of the plan, the left one first
	Sides   []SidesTrim `json:"sides"`         // each point that was measured left and right
	Offset  *Offset     `json:"offset,omitempty"`
	Rows    []RowTrim   `json:"rows"`
	Pitch   []Incidence `json:"incidence"`
	Index   *Asymmetry  `json:"asymmetry,omitempty"`
	Again   []Again     `json:"measure_again"`
	Missing []string    `json:"missing"` // what could not be reckoned, and why; and what is only a fallback
}

// Finding is a deviation, its uncertainty and what the two prove.
type Finding struct {
	DeviationMM float64           `json:"deviation_mm"` // positive: long
	UMM         float64           `json:"expanded_uncertainty_mm"`
	LimitMM     float64           `json:"limit_mm"`
	Verdict     metrology.Verdict `json:"verdict"`
	Probability float64           `json:"probability_inside"`
	// Sentence is the judgement in words: "2 mm long, sure within 4 mm, limit
	// 10: inside".
	Sentence string `json:"sentence"`
}

func finding(j metrology.Judgement) Finding {
	return Finding{
		DeviationMM: j.Deviation.MM(), UMM: j.U.MM(), LimitMM: j.Limit.MM(),
		Verdict: j.Verdict, Probability: j.Probability, Sentence: j.Words(),
	}
}

// Inside says that all that was judged is inside: paths, sides and rows, of
// readings that agree.
func (r Report) Inside() bool {
	for _, t := range r.Rows {
		if t.Against != nil && t.Against.Verdict != metrology.Inside {
			return false
		}
	}
	return len(r.Paths) > 0 && len(r.Again) == 0
}

// PathTrim is a path against the plan.
type PathTrim struct {
	PathRef
	Row string `json:"row"`
	// Span is where the point lies, 0 centre to 1 tip; nil where the plan does
	// not give it. It is the plan's, and so not in the record of what was measured.
	Span       *float64 `json:"-"`
	ExpectedMM float64  `json:"expected_mm"`
	MeasuredMM float64  `json:"measured_mm"`
	Finding
	// BeyondMM is the deviation less the common offset, where there is one.
	BeyondMM *float64 `json:"beyond_offset_mm,omitempty"`
	Composed bool     `json:"composed,omitempty"` // made of its segments
	Stated   bool     `json:"stated,omitempty"`   // the papers state the expected length; else it is the sum of the lines
}

// SidesTrim is the left path of a point minus the right one: the plan's own
// difference of the sides, if it states one, is taken out.
type SidesTrim struct {
	Point string `json:"point"`
	Row   string `json:"row"`
	Finding
}

// Offset is what all rows have in common: the mean deviation of their paths.
// Stabilo and brakes are not in it.
type Offset struct {
	MeanMM float64 `json:"mean_mm"`
	UMM    float64 `json:"expanded_uncertainty_mm"`
	Paths  int     `json:"paths"`
	// LowMM and HighMM say how far below and above it the paths lie.
	LowMM  float64 `json:"low_mm"`
	HighMM float64 `json:"high_mm"`
}

// RowTrim is the mean deviation of a row: of one side, or of both where Side
// is empty.
type RowTrim struct {
	Row    string    `json:"row"`
	Side   wing.Side `json:"side,omitempty"`
	MeanMM float64   `json:"mean_mm"`
	UMM    float64   `json:"expanded_uncertainty_mm"`
	Paths  int       `json:"paths"`
	Of     int       `json:"of"`              // paths that the plan has
	Apart  bool      `json:"apart,omitempty"` // stabilo, brakes and the like: not compared with A
	// Against is the mean minus that of row A on the same side or sides.
	Against *Finding `json:"against_a,omitempty"`
}

// NewReport reckons the trim. The chord may be empty: then no incidence.
func NewReport(plan *wing.Plan, set Set, chord Chord) (Report, error) {
	if err := chord.check(); err != nil {
		return Report{}, err
	}
	r, err := read(plan, set)
	if err != nil {
		return Report{}, err
	}
	return reckon(r, chord)
}

// reckoner builds the report of what a reader found.
type reckoner struct {
	*reader
	chord  Chord
	pool   *pool
	report Report
	pairs  [][2]int          // left and right path of a point
	rows   map[rowSide][]int // paths of the main rows and the others
	order  []string          // rows in the order of the plan
	all    map[string]int    // paths of one side that the plan has, by row
}

type rowSide struct {
	row  string
	side wing.Side
}

func reckon(r *reader, chord Chord) (Report, error) {
	k := &reckoner{reader: r, chord: chord, pool: newPool(r.paths), rows: map[rowSide][]int{}, all: map[string]int{}}
	k.report = Report{
		Wing: r.plan.Name + " " + r.plan.Size, Source: r.plan.Source.Text,
		From: r.set.From, Trimmers: r.set.Trimmers, SpeedSystem: r.set.SpeedSystem,
		Limits: LimitsOf(r.plan), Planned: r.planned,
		Paths: make([]PathTrim, 0, len(r.paths)), Sides: []SidesTrim{}, Rows: []RowTrim{}, Pitch: []Incidence{}, Again: []Again{},
	}
	k.sort()
	k.missing()
	for _, step := range []func() error{k.judgePaths, k.judgeSides, k.judgeRows} {
		if err := step(); err != nil {
			return Report{}, err
		}
	}
	k.incidence()
	k.asymmetry()
	k.again()
	return k.report, nil
}

// sort groups the paths by row and side and finds the pairs.
func (k *reckoner) sort() {
	for i := range k.paths {
		p := &k.paths[i]
		for _, key := range []rowSide{{p.row, p.Side}, {p.row, ""}} {
			k.rows[key] = append(k.rows[key], i)
		}
		if i > 0 && k.paths[i-1].Point == p.Point {
			k.pairs = append(k.pairs, [2]int{i - 1, i})
		}
	}
	for _, p := range k.left {
		if k.all[p.Row] == 0 {
			k.order = append(k.order, p.Row)
		}
		k.all[p.Row]++
	}
}

func (k *reckoner) judgePaths() error {
	limit := um(k.report.Limits.Path.MM)
	k.report.Offset = k.offset()
	for i := range k.paths {
		p := &k.paths[i]
		j, err := p.m.Judge(p.expected, limit)
		if err != nil {
			return err
		}
		t := PathTrim{
			PathRef: p.PathRef, Row: p.row, Span: given(p.span), ExpectedMM: p.expected.MM(), MeasuredMM: p.m.Value.MM(),
			Finding: finding(j), Composed: p.composed, Stated: p.stated,
		}
		if k.report.Offset != nil && p.main {
			beyondMM := (p.deviation() - um(k.report.Offset.MeanMM)).MM()
			t.BeyondMM = &beyondMM
		}
		k.report.Paths = append(k.report.Paths, t)
	}
	return nil
}

// offset is the mean over all paths of the main rows.
func (k *reckoner) offset() *Offset {
	var main []int
	for i := range k.paths {
		if k.paths[i].main {
			main = append(main, i)
		}
	}
	if len(main) == 0 {
		return nil
	}
	mean, u := k.mean(main)
	o := &Offset{MeanMM: mean.MM(), UMM: u.MM(), Paths: len(main)}
	for _, i := range main {
		beyondMM := (k.paths[i].deviation() - mean).MM()
		o.LowMM, o.HighMM = min(o.LowMM, beyondMM), max(o.HighMM, beyondMM)
	}
	return o
}

// judgeSides compares what was measured in the same way on both sides.
func (k *reckoner) judgeSides() error {
	limit := um(k.report.Limits.Sides.MM)
	for _, pair := range k.pairs {
		left, right := &k.paths[pair[0]], &k.paths[pair[1]]
		d, err := metrology.Compare(left.m, right.m)
		if err != nil {
			k.note(left.Point + ": left and right are not compared: " + err.Error())
			continue
		}
		d.Value -= left.expected - right.expected
		j, err := d.Judge(limit)
		if err != nil {
			return err
		}
		k.report.Sides = append(k.report.Sides, SidesTrim{Point: left.Point, Row: left.row, Finding: finding(j)})
	}
	return nil
}

// mean gives the mean deviation of paths and its uncertainty.
func (k *reckoner) mean(paths []int) (mean, u quantity.Length) {
	return k.sum(k.weigh(paths, 1), float64(len(paths)))
}

// weigh gives each path the same weight.
func (k *reckoner) weigh(paths []int, weight float64) []weighed {
	sum := make([]weighed, len(paths))
	for i, p := range paths {
		sum[i] = weighed{p, weight}
	}
	return sum
}

// sum gives Σ weight·deviation / scale and its uncertainty. Weights of a mean
// are whole numbers, so that only the division rounds and every processor
// comes to the same micrometre.
func (k *reckoner) sum(ws []weighed, scale float64) (value, u quantity.Length) {
	total := 0.0
	for _, w := range ws {
		total += w.weight * float64(k.paths[w.path].deviation())
	}
	return um(total / scale / 1000), roundUp(k.pool.u(ws, scale))
}

func (k *reckoner) note(text string) { k.report.Missing = append(k.report.Missing, text) }
