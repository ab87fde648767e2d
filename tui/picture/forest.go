package picture

import (
	"cmp"
	"slices"
	"sync/atomic"

	"example.org/linewright/engine/wing"
)

// forest is the cascade of one side, a tree for each line that hangs on
// something other than a line, and the trees of a row together. A line belongs
// to the row of its tree's foot, so that each is drawn once and nothing crosses.
type forest struct {
	rows   []*row
	byCode map[string]*node
	feet   map[wing.Anchor][]*node // what hangs on a link, tab or handle, from the centre
}

// row is the trees of one row, from the centre.
type row struct {
	name  string
	roots []*node
	nodes []*node // each tree from its foot up, from the centre
	depth int     // of the deepest line
}

// node is a line in its tree.
type node struct {
	line   wing.Line
	code   string // fit to be shown
	parent *node
	kids   []*node // from the centre
	row    int
	depth  int     // joints from the riser
	span   float64 // of its upper end, 0 centre to 1 tip
}

// grown is the forest that was asked for last. A plan is not changed once it
// is parsed, and each key of a walk asks for the same one.
var grown atomic.Pointer[struct {
	plan *wing.Plan
	f    *forest
}]

// forestOf gives the forest of a plan; an empty one without a plan.
func forestOf(plan *wing.Plan) *forest {
	if last := grown.Load(); last != nil && last.plan == plan {
		return last.f
	}
	f := grow(plan)
	grown.Store(&struct {
		plan *wing.Plan
		f    *forest
	}{plan, f})
	return f
}

func grow(plan *wing.Plan) *forest {
	f := &forest{byCode: map[string]*node{}, feet: map[wing.Anchor][]*node{}}
	if plan == nil {
		return f
	}
	spans := make(map[string]float64, len(plan.Lines))
	for _, s := range plan.Fan(wing.Left) {
		spans[s.Ref.Code] = s.Top
	}
	places := map[string]int{}
	for _, l := range plan.Lines {
		if l.On.Kind == wing.OnLine {
			continue
		}
		at, ok := places[l.Row]
		if !ok {
			at = len(f.rows)
			places[l.Row] = at
			f.rows = append(f.rows, &row{name: l.Row})
		}
		n := f.tree(plan, l, nil, at, spans)
		f.rows[at].roots = append(f.rows[at].roots, n)
		f.feet[l.On] = append(f.feet[l.On], n)
	}
	for _, foot := range f.feet {
		slices.SortStableFunc(foot, func(a, b *node) int { return cmp.Compare(a.line.Pos, b.line.Pos) })
	}
	for _, r := range f.rows {
		r.order()
	}
	return f
}

func (f *forest) tree(plan *wing.Plan, l wing.Line, parent *node, at int, spans map[string]float64) *node {
	n := &node{line: l, code: clean(l.Code), parent: parent, row: at, span: spans[l.Code]}
	if parent != nil {
		n.depth = parent.depth + 1
	}
	f.byCode[l.Code] = n
	for _, above := range plan.Carries(l.Code) {
		n.kids = append(n.kids, f.tree(plan, above, n, at, spans))
	}
	return n
}

// order puts the trees in their order along the span: what hangs on one thing
// stays together, in the order in which it hangs there.
func (r *row) order() {
	inner := map[wing.Anchor]float64{}
	for _, n := range r.roots {
		if at, ok := inner[n.line.On]; !ok || n.span < at {
			inner[n.line.On] = n.span
		}
	}
	slices.SortStableFunc(r.roots, func(a, b *node) int {
		return cmp.Or(
			cmp.Compare(inner[a.line.On], inner[b.line.On]),
			cmp.Compare(a.line.On.String(), b.line.On.String()),
			cmp.Compare(a.line.Pos, b.line.Pos))
	})
	for _, n := range r.roots {
		r.add(n)
	}
}

func (r *row) add(n *node) {
	r.nodes = append(r.nodes, n)
	r.depth = max(r.depth, n.depth)
	for _, k := range n.kids {
		r.add(k)
	}
}
