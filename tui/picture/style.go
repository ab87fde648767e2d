package picture

import (
	"slices"
	"strings"
)

// style says how much of a row is drawn.
type style struct {
	gap    int
	names  amount // which lines carry their code
	trees  amount // which lines show what they carry
	storey int    // the deepest one that is drawn
}

// amount is how much of a row, from all of it down to the line in hand.
type amount int

const (
	everything amount = iota
	most              // not the far ends near the canopy
	family            // the line in hand, what it hangs on and carries, its neighbours
	chain             // the line in hand and what it hangs on
)

// styles lists what is tried in turn, the richest first.
var styles = []style{
	{gap: 3}, {gap: 2}, {gap: 1},
	{gap: 1, names: most},
	{gap: 1, names: family},
	{gap: 2, names: everything, trees: family},
	{gap: 1, names: everything, trees: family},
	{gap: 1, names: most, trees: family},
	{gap: 1, names: family, trees: family},
	{gap: 1, names: family, trees: chain},
	{gap: 1, names: chain, trees: chain},
}

// faint are the styles of a row that stands behind the one that is looked at:
// strands and marks, no codes.
var faint = []style{{gap: 1, names: chain}}

// sketch is one row under way to its drawing.
type sketch struct {
	style
	row    *row
	f      *forest
	left   bool // the tip is on the left
	marked map[string]Mark
	kin    map[*node]kin
	begins []string // by storey: what is left out at the beginning of its codes
}

// kin is how near a line is to the lines in hand.
type kin uint8

const (
	inHand  kin = 1 << iota
	holds       // a line in hand hangs on it
	carried     // it hangs on a line in hand
	adjoins     // it hangs beside one, or beside what one hangs on
)

// relate finds the kin of the lines in hand.
func (f *forest) relate(marked map[string]Mark) map[*node]kin {
	all := map[*node]kin{}
	for code, m := range marked {
		n := f.byCode[code]
		if n == nil || m&InHand == 0 {
			continue
		}
		all[n] |= inHand
		for _, k := range n.kids {
			f.mark(all, k, carried)
		}
		for at := n; at != nil; at = at.parent {
			if at != n {
				all[at] |= holds
			}
			for _, m := range f.neighbours(at) {
				all[m] |= adjoins
			}
		}
	}
	return all
}

func (f *forest) mark(all map[*node]kin, n *node, k kin) {
	all[n] |= k
	for _, above := range n.kids {
		f.mark(all, above, k)
	}
}

// neighbours lists what hangs right beside a line on the same thing, of
// whatever row: a stabilo may hang on the link of the B lines.
func (f *forest) neighbours(n *node) []*node {
	all := f.feet[n.line.On]
	if n.parent != nil {
		all = n.parent.kids
	}
	at := slices.Index(all, n)
	var out []*node
	if at > 0 {
		out = append(out, all[at-1])
	}
	if at+1 < len(all) {
		out = append(out, all[at+1])
	}
	return out
}

// open reports whether what a line carries is drawn.
func (s *sketch) open(n *node) bool {
	if n.depth >= s.storey || n.row != s.row.nodes[0].row {
		return false
	}
	k := s.kin[n]
	switch s.trees {
	case everything:
		return true
	case family:
		return k&(inHand|holds|carried) != 0 || s.root(n)
	}
	return k&(inHand|holds) != 0
}

// root reports whether a line belongs to the tree of a line in hand.
func (s *sketch) root(n *node) bool {
	for n.parent != nil {
		n = n.parent
	}
	return s.kin[n]&(inHand|holds) != 0
}

// named reports whether a line carries its code.
func (s *sketch) named(n *node) bool {
	k := s.kin[n]
	switch s.names {
	case everything:
		return true
	case most:
		return n.depth < 2 || k != 0
	case family:
		return n.depth == 0 || k&(inHand|holds|adjoins) != 0 || k&carried != 0 && s.kin[n.parent]&inHand != 0
	}
	return k&(inHand|holds) != 0
}

// label gives the text on a line's strand, and none where only its strand is
// drawn.
func (s *sketch) label(n *node) string {
	if !s.named(n) {
		return ""
	}
	code := n.code + signsOf(s.marked[n.line.Code])
	if s.begins != nil {
		code = strings.TrimPrefix(code, s.begins[n.depth])
	}
	if s.kin[n]&inHand != 0 {
		return "[" + code + "]"
	}
	return code
}

// twig lays out a line and what is drawn above it.
func (s *sketch) twig(n *node) *twig {
	t := &twig{node: n, label: s.label(n)}
	t.wide = columns(t.label)
	if s.open(n) {
		for _, k := range s.turned(n.kids) {
			t.kids = append(t.kids, s.twig(k))
		}
	}
	t.more = len(t.kids) == 0 && n.line.Point == ""
	t.settle(s.gap)
	return t
}

// turned puts lines in the order in which they stand on the screen.
func (s *sketch) turned(nodes []*node) []*node {
	if !s.left {
		return nodes
	}
	out := make([]*node, len(nodes))
	for i, n := range nodes {
		out[len(nodes)-1-i] = n
	}
	return out
}
