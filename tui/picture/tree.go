package picture

// twig is a line, or what lines hang on, laid out for drawing: where its
// strand stands, where its label begins, and how wide all of it is.
type twig struct {
	node  *node // nil for what lines hang on
	kids  []*twig
	label string
	wide  int  // columns of the label
	x     int  // of the strand
	at    int  // where the label begins
	more  bool // it goes on, but that is not drawn or not in the plan

	left, width int
}

// settle places the kids of a twig side by side, its strand in the middle of
// theirs and the label over its strand, all from column 0.
func (t *twig) settle(gap int) {
	t.width, t.x = 1, 0
	if n := len(t.kids); n > 0 {
		at := 0
		for _, k := range t.kids {
			k.left = at
			at += k.width + gap
		}
		t.width = at - gap
		t.x = (t.kids[0].left + t.kids[0].x + t.kids[n-1].left + t.kids[n-1].x) / 2
	}
	t.at = t.x - (t.wide-1)/2
	if t.wide == 0 {
		t.at = t.x
	}
	if shift := -t.at; shift > 0 {
		for _, k := range t.kids {
			k.left += shift
		}
		t.x, t.at, t.width = t.x+shift, 0, t.width+shift
	}
	t.width = max(t.width, t.at+t.wide)
}

// move turns places within the parent into places on the sheet.
func (t *twig) move(left int) {
	t.x, t.at, t.left = t.x+left, t.at+left, left
	for _, k := range t.kids {
		k.move(left + k.left)
	}
}
