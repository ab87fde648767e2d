package tui

// places are the rows of a card. They depend on the height of the screen alone,
// never on the step, so that the eye finds action, entry, verdict and save mark
// where they were on the card before.
type places struct {
	cord    int
	caution int // up to action
	action  int // up to ask
	ask     int
	field   int // up to verdict
	verdict int // two rows
	next    int // -1 on a small screen
	stop    int // of a hold, above its chain; -1 on a small screen
	rule    int // -1 on a small screen
	foot    int
}

// placesFor gives the rows for a height of at least leastH. On a tall screen
// the bands stay together and what is left stands free above the rule: eyes do
// not have to look for the question below a hole.
func placesFor(h int) places {
	p := places{cord: 1, caution: 2, action: 4, next: h - 3, stop: h - 3, rule: h - 2, foot: h - 1, verdict: h - 5}
	switch {
	case h < 18:
		p.next, p.stop, p.rule, p.verdict = -1, -1, -1, h-3
		p.ask = p.verdict - 4
	case h < 24:
		p.ask = p.verdict - 5
	default:
		more := h - 24
		p.caution = 3
		p.action = 6 + min(more/8, 1)
		p.ask = p.action + 7 + min(more/8, 1)
		p.verdict = p.ask + 6 + min(more/2, 5)
		p.next = p.verdict + 2
	}
	p.field = p.ask + 1
	return p
}

// signing gives the rows of a hold: its entry is one line, and what is signed
// has the rest.
func (p places) signing() places {
	p.ask = p.verdict - 2
	p.field = p.ask + 1
	return p
}

// spare is how many rows a tall screen has free between what Enter does and
// the rule.
func (p places) spare() int {
	if p.rule < 0 {
		return 0
	}
	return max(0, p.rule-1-p.next)
}

// lower gives the rows of a card whose entry stands so many rows further down.
func (p places) lower(by int) places {
	if by == 0 {
		return p
	}
	p.ask, p.field, p.verdict, p.next = p.ask+by, p.field+by, p.verdict+by, p.next+by
	return p
}

// listing gives the rows of a card whose list of answers is long: the question
// stands so many rows higher, which the text above it leaves free.
func (p places) listing(up int) places {
	p.ask -= up
	p.field = p.ask + 1
	return p
}

// columns are the widths of a card: of the text alone, of the text beside a
// picture, and of the picture. Without room for a picture beside it is 0.
type columns struct{ full, narrow, picture int }

func columnsFor(w int) columns {
	c := columns{full: w - 3}
	c.narrow = c.full
	if w < 56 {
		return c
	}
	c.picture = w * 2 / 5
	c.narrow = c.full - c.picture - 2
	return c
}
