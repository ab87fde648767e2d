package wing

import "slices"

// Crossed names every pair of codes that stands in the other order in second
// than in first, as {earlier in first, later in first}. Codes that only one of
// the lists holds are left out. Both lists run from the centre outward.
func Crossed(first, second []string) [][2]string {
	place := make(map[string]int, len(second))
	for i, code := range second {
		place[code] = i
	}
	var pairs [][2]string
	for i, a := range first {
		for _, b := range first[i+1:] {
			pa, okA := place[a]
			pb, okB := place[b]
			if okA && okB && pa > pb {
				pairs = append(pairs, [2]string{a, b})
			}
		}
	}
	return pairs
}

// Mirrored says that second is first read backwards, which is how an order
// looks when the link is seen from its other side.
func Mirrored(first, second []string) bool {
	if len(first) < 2 || len(first) != len(second) {
		return false
	}
	for i, code := range first {
		if second[len(second)-1-i] != code {
			return false
		}
	}
	return true
}

// OrderCheck compares the order of lines on a link with the order in which
// they have to be. Both run from the centre outward and hold no code twice.
type OrderCheck struct {
	Crossed  [][2]string `json:"crossed,omitempty"` // as Crossed gives them
	Moves    []OrderMove `json:"moves,omitempty"`   // the fewest that mend it, one after the other
	Mirrored bool        `json:"mirrored"`          // ask first from which side the link is seen
	Missing  []string    `json:"missing,omitempty"` // to be there, not found
	Extra    []string    `json:"extra,omitempty"`   // found, not to be there
}

// OrderMove takes one line off and puts it back at its place.
type OrderMove struct {
	Code   string `json:"code"`
	After  string `json:"after"`  // the line toward the centre; empty: it goes nearest the centre
	Before string `json:"before"` // the line that stood after it until then; empty: it goes outermost
}

// Right says that nothing is to be done.
func (c OrderCheck) Right() bool {
	return len(c.Crossed) == 0 && len(c.Missing) == 0 && len(c.Extra) == 0
}

// CheckOrder names every crossed pair, the fewest moves that mend the order,
// and what only one of the lists holds. The fewest moves are n less the longest
// run of lines that already stand in order, not needing to be side by side;
// among equal runs the one stays that keeps the lines nearest the centre.
func CheckOrder(want, found []string) OrderCheck {
	c := OrderCheck{Crossed: Crossed(want, found), Mirrored: Mirrored(want, found)}
	var goal, row []string
	goal, c.Missing = shared(want, found)
	row, c.Extra = shared(found, want)
	rank := make(map[string]int, len(goal))
	for i, code := range goal {
		rank[code] = i
	}
	stays := longestRun(row, rank)
	for i, code := range goal {
		if stays[code] {
			continue
		}
		move := OrderMove{Code: code}
		row = slices.DeleteFunc(row, func(c string) bool { return c == code })
		place := 0
		if i > 0 {
			move.After = goal[i-1]
			place = slices.Index(row, move.After) + 1
		}
		if place < len(row) {
			move.Before = row[place]
		}
		row = slices.Insert(row, place, code)
		c.Moves = append(c.Moves, move)
	}
	return c
}

// shared splits a list into what the other holds too, and the rest.
func shared(list, other []string) (both, only []string) {
	for _, code := range list {
		if slices.Contains(other, code) {
			both = append(both, code)
		} else {
			only = append(only, code)
		}
	}
	return both, only
}

// longestRun gives the lines of a longest increasing subsequence of the ranks.
func longestRun(row []string, rank map[string]int) map[string]bool {
	longest := make([]int, len(row)) // of the runs that begin here
	need := 0
	for i := len(row) - 1; i >= 0; i-- {
		longest[i] = 1
		for j := i + 1; j < len(row); j++ {
			if rank[row[j]] > rank[row[i]] {
				longest[i] = max(longest[i], longest[j]+1)
			}
		}
		need = max(need, longest[i])
	}
	stays := map[string]bool{}
	for from, last := 0, -1; need > 0; need-- {
		pick := -1
		for i := from; i < len(row); i++ {
			r := rank[row[i]]
			if longest[i] == need && r > last && (pick < 0 || r < rank[row[pick]]) {
				pick = i
			}
		}
		stays[row[pick]], from, last = true, pick+1, rank[row[pick]]
	}
	return stays
}
