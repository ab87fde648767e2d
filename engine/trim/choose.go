package trim

import (
	"fmt"
	"math"
	"slices"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// LoopRule is how loops are chosen, as it stands in a record.
const LoopRule = "all limits kept, then fewest changed loops, then smallest spread of the deviations, then least sum of their amounts; " +
	"of equal choices the one that keeps the earlier line as it is, else gives it the loop that stands earlier in the table; row A first, then in the order of the plan, left before right"

// Demand says what a choice of loops may do.
type Demand struct {
	// Free names the lower lines whose loops may change; empty: all that are on
	// a link and whose loop is known.
	Free []wing.Ref
	// EachSide lets left and right differ. Else a line gets the same loop on
	// both sides, or stays as it is.
	EachSide bool
	// Whole takes each limit whole. Else it is narrowed by the uncertainty of
	// what it limits, so that the verdict afterwards is "inside".
	Whole bool
	// Aim is the deviation that paths are held to; 0: the plan. The common
	// offset stands here where a whole set is long or short and stays so.
	Aim quantity.Length
	// NodeLimit ends the search; 0: DefaultNodeLimit.
	NodeLimit int
}

// DefaultNodeLimit is where the search gives up the proof.
const DefaultNodeLimit = 3_000_000

// Outcome says what became of a choice.
type Outcome string

const (
	Found      Outcome = "found"
	Impossible Outcome = "impossible" // proved: no choice keeps all limits
	Undecided  Outcome = "undecided"  // the node limit came first
)

// Choice is the choice of loops.
type Choice struct {
	Outcome Outcome `json:"outcome"`
	// Proved says that no better choice exists, or, if impossible, none at all.
	Proved    bool `json:"proved"`
	Nodes     int  `json:"nodes"`
	NodeLimit int  `json:"node_limit"`

	Changes []LoopChange `json:"changes"`
	Before  Evenness     `json:"before"`
	After   Evenness     `json:"after"`
	Paths   []PathAfter  `json:"paths"` // measured paths of the lines on links
	Rows    []RowAfter   `json:"rows"`  // means against row A, each side

	Obstacles []Obstacle `json:"obstacles"` // what is in the way, if impossible
	Notes     []string   `json:"notes"`

	Limits       Limits  `json:"limits"`
	Guarded      bool    `json:"guarded"` // limits narrowed by the uncertainty
	AimMM        float64 `json:"aim_mm"`
	EachSide     bool    `json:"each_side"`
	LoopSource   string  `json:"loop_source"`
	LoopFallback bool    `json:"loop_fallback,omitempty"`
	Rule         string  `json:"rule"`
}

// LoopChange is one loop to change.
type LoopChange struct {
	Line    wing.Ref `json:"line"`
	From    string   `json:"from"`
	To      string   `json:"to"`
	MovesMM float64  `json:"moves_mm"` // positive: longer
}

// Evenness is how the deviations of the paths lie together.
type Evenness struct {
	SpreadMM float64 `json:"spread_mm"` // greatest minus least
	TotalMM  float64 `json:"total_mm"`  // sum of their amounts, from the aim
}

// PathAfter is a path as the loops leave it.
type PathAfter struct {
	PathRef
	BeforeMM float64 `json:"before_deviation_mm"`
	AfterMM  float64 `json:"after_deviation_mm"`
}

// RowAfter is the mean of a row of one side against row A as the loops leave it.
type RowAfter struct {
	Row      string    `json:"row"`
	Side     wing.Side `json:"side"`
	BeforeMM float64   `json:"before_against_a_mm"`
	AfterMM  float64   `json:"after_against_a_mm"`
}

// Obstacle says which limit is in the way, and where.
type Obstacle struct {
	Limit wing.LimitName `json:"limit"`          // path, sides or rows
	Line  string         `json:"line,omitempty"` // code of a lower line
	Side  wing.Side      `json:"side,omitempty"`
	What  string         `json:"what"`
	Cure  string         `json:"cure"`
}

// Choose finds the loops for the lower lines that keep the limits of the
// report by LoopRule. A loop only shortens: a line gets longer only by a loop
// that takes less than the one it has.
func Choose(plan *wing.Plan, report Report, loops Loops, demand Demand) (Choice, error) {
	p, err := newProblem(plan, report, loops, demand)
	if err != nil {
		return Choice{}, err
	}
	c := Choice{
		NodeLimit: demand.NodeLimit, Limits: report.Limits, Guarded: !demand.Whole, AimMM: demand.Aim.MM(), EachSide: demand.EachSide,
		LoopSource: loops.Table.Source, LoopFallback: loops.Table.Fallback, Rule: LoopRule,
		Changes: []LoopChange{}, Paths: []PathAfter{}, Rows: []RowAfter{}, Obstacles: []Obstacle{}, Notes: p.notes,
	}
	if c.NodeLimit == 0 {
		c.NodeLimit = DefaultNodeLimit
	}
	if c.Obstacles = p.obstacles(); len(c.Obstacles) > 0 {
		c.Outcome, c.Proved = Impossible, true
		return c, nil
	}
	s := &search{problem: p, limit: c.NodeLimit}
	best, outcome := s.best()
	c.Outcome, c.Proved, c.Nodes = outcome, !s.spent, s.nodes
	switch outcome {
	case Impossible:
		c.Obstacles = p.rowObstacles(c.NodeLimit)
	case Found:
		p.tell(&c, best)
	}
	return c, nil
}

func (d Demand) check(plan *wing.Plan) error {
	for _, ref := range d.Free {
		if !plan.Has(ref) || ref.Kind != wing.KindLine {
			return refuse(fmt.Sprintf("there is no line %s in the plan", ref), "correct code and side; C1 and c1 are two codes")
		}
		if l, _ := plan.Line(ref.Code); l.On.Kind != wing.OnLink {
			return refuse(fmt.Sprintf("%s is not on a link: no loop sets it", ref), "name lower lines on links")
		}
	}
	if d.Aim.Abs() > quantity.Metre {
		return refuse(fmt.Sprintf("an aim %s off the plan cannot be", d.Aim), "give up to 1 m")
	}
	if d.NodeLimit < 0 {
		return refuse("a node limit below zero cannot be", "give a whole number above zero, or none")
	}
	return nil
}

// tell writes the solution down.
func (p *problem) tell(c *Choice, s solution) {
	after := evenness{low: math.MaxInt64, high: math.MinInt64}
	before := after
	for i := range p.units {
		u := &p.units[i]
		o := u.options[s.pick[i]]
		for side := range wing.Sides {
			shift := u.shift(p.table, side, o.loop[side])
			if o.loop[side] != u.now[side] {
				c.Changes = append(c.Changes, LoopChange{
					Line: wing.LineRef(u.code, wing.Sides[side]), From: p.table.Loops[u.now[side]].Code,
					To: p.table.Loops[o.loop[side]].Code, MovesMM: quantity.Length(-shift).MM(),
				})
			}
			for _, m := range u.paths[side] {
				before.add(m.deviation, p.aim)
				after.add(m.deviation-shift, p.aim)
				c.Paths = append(c.Paths, PathAfter{PathRef{m.point, wing.Sides[side]}, quantity.Length(m.deviation).MM(), quantity.Length(m.deviation - shift).MM()})
			}
		}
	}
	c.Before, c.After = before.plain(), after.plain()
	order := make(map[PathRef]int, len(p.order))
	for i, ref := range p.order {
		order[ref] = i
	}
	slices.SortFunc(c.Paths, func(a, b PathAfter) int { return order[a.PathRef] - order[b.PathRef] })
	c.Rows = p.rowsAfter(s)
}

// evenness gathers Evenness in whole micrometres.
type evenness struct{ low, high, total int64 }

func (e *evenness) add(deviation, aim int64) {
	e.low, e.high = min(e.low, deviation), max(e.high, deviation)
	e.total += max(deviation-aim, aim-deviation)
}

func (e *evenness) plain() Evenness {
	return Evenness{quantity.Length(e.high - e.low).MM(), quantity.Length(e.total).MM()}
}

// rowsAfter gives the means of the rows against A, before and after.
func (p *problem) rowsAfter(s solution) []RowAfter {
	sums := make([][2][2]int64, len(p.rows)) // row, side, before and after
	for i := range p.units {
		u := &p.units[i]
		for side := range wing.Sides {
			shift := u.shift(p.table, side, u.options[s.pick[i]].loop[side])
			for _, m := range u.paths[side] {
				if m.row >= 0 {
					sums[m.row][side][0] += m.deviation
					sums[m.row][side][1] += m.deviation - shift
				}
			}
		}
	}
	var out []RowAfter
	for r, row := range p.rows {
		for side := range wing.Sides {
			if r == p.reference || p.reference < 0 || row.paths[side] == 0 || p.rows[p.reference].paths[side] == 0 {
				continue
			}
			against := func(when int) float64 {
				mean := float64(sums[r][side][when]) / float64(row.paths[side])
				of := float64(sums[p.reference][side][when]) / float64(p.rows[p.reference].paths[side])
				return um((mean - of) / 1000).MM()
			}
			out = append(out, RowAfter{row.name, wing.Sides[side], against(0), against(1)})
		}
	}
	return out
}
