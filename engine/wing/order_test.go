package wing

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCrossed(t *testing.T) {
	for _, c := range []struct{ first, second, want string }{
		{"C1.1 C1.2 C1.3", "C1.1 C1.2 C1.3", "[]"},
		{"C1.1 C1.2 C1.3", "C1.1 C1.3 C1.2", "[[C1.2 C1.3]]"},
		{"C1.1 C1.2 C1.3", "C1.2 C1.3 C1.1", "[[C1.1 C1.2] [C1.1 C1.3]]"},
		{"C1.1 C1.2 C1.3", "C1.3 C1.2 C1.1", "[[C1.1 C1.2] [C1.1 C1.3] [C1.2 C1.3]]"},
		{"C1.1 C1.2 C1.3", "C1.3 C1.1", "[[C1.1 C1.3]]"}, // one is missing
		{"S2.1 s2.1", "s2.1 S2.1", "[[S2.1 s2.1]]"},
		{"", "C1.1", "[]"},
	} {
		equal(t, c.first+" / "+c.second, fmt.Sprint(Crossed(strings.Fields(c.first), strings.Fields(c.second))), c.want)
	}
}

func TestMirrored(t *testing.T) {
	for _, c := range []struct {
		first, second string
		want          bool
	}{
		{"a b c", "c b a", true},
		{"a b c", "a b c", false},
		{"a b c", "c b", false},
		{"a", "a", false}, // a line alone has no other side
		{"", "", false},
		{"S2.1 s2.1", "s2.1 S2.1", true},
	} {
		equal(t, c.first+" / "+c.second, Mirrored(strings.Fields(c.first), strings.Fields(c.second)), c.want)
	}
}

// Inversions of a permutation: as many as swaps of neighbours that sort it,
// which bubble sort counts another way.
func TestCrossedCountsInversions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := strings.Fields("a b c d e f g h")[:rapid.IntRange(0, 8).Draw(t, "n")]
		second := rapid.Permutation(first).Draw(t, "second")
		sorted, swaps := slices.Clone(second), 0
		for range sorted {
			for i := 1; i < len(sorted); i++ {
				if sorted[i-1] > sorted[i] {
					sorted[i-1], sorted[i] = sorted[i], sorted[i-1]
					swaps++
				}
			}
		}
		if got := len(Crossed(first, second)); got != swaps {
			t.Fatalf("%v: %d pairs, %d swaps", second, got, swaps)
		}
		n := len(first)
		if Mirrored(first, second) != (n > 1 && swaps == n*(n-1)/2) {
			t.Fatalf("%v mirrored: %v", second, Mirrored(first, second))
		}
	})
}

func codesOf(perm []int) []string {
	codes := make([]string, len(perm))
	for i, n := range perm {
		codes[i] = fmt.Sprintf("C1.%d", n+1)
	}
	return codes
}

// mend carries the moves out as a person would, and checks what they say.
func mend(t interface{ Fatalf(string, ...any) }, found []string, moves []OrderMove) []string {
	row := slices.Clone(found)
	for _, m := range moves {
		at := slices.Index(row, m.Code)
		row = slices.Delete(row, at, at+1)
		place := 0
		if m.After != "" {
			place = slices.Index(row, m.After) + 1
		}
		before := ""
		if place < len(row) {
			before = row[place]
		}
		if before != m.Before {
			t.Fatalf("%v: %+v, but %q stands there", found, m, before)
		}
		row = slices.Insert(row, place, m.Code)
	}
	return row
}

// fewest gives, for each permutation of n, the fewest moves of one item that
// bring it into order, by breadth-first search from the order.
func fewest(n int) map[string]int {
	start := make([]int, n)
	for i := range start {
		start[i] = i
	}
	moves := map[string]int{fmt.Sprint(start): 0}
	for queue := [][]int{start}; len(queue) > 0; queue = queue[1:] {
		for from := range n {
			rest := slices.Delete(slices.Clone(queue[0]), from, from+1)
			for to := range n {
				next := slices.Insert(slices.Clone(rest), to, queue[0][from])
				if _, known := moves[fmt.Sprint(next)]; !known {
					moves[fmt.Sprint(next)] = moves[fmt.Sprint(queue[0])] + 1
					queue = append(queue, next)
				}
			}
		}
	}
	return moves
}

// Against brute force for every permutation up to 7: each pair looked up by its
// places, fewest moves by search.
func TestCheckOrderAgainstBruteForce(t *testing.T) {
	for n := range 8 {
		all := fewest(n)
		want := 1
		for i := 2; i <= n; i++ {
			want *= i
		}
		equal(t, "permutations", len(all), want)
		start := make([]int, n)
		for i := range start {
			start[i] = i
		}
		goal := codesOf(start)
		for text, moves := range all {
			var perm []int
			for _, word := range strings.Fields(strings.Trim(text, "[]")) {
				perm = append(perm, int(word[0]-'0'))
			}
			var pairs [][2]string
			for i := range n {
				for j := i + 1; j < n; j++ {
					if slices.Index(perm, i) > slices.Index(perm, j) {
						pairs = append(pairs, [2]string{goal[i], goal[j]})
					}
				}
			}
			found := codesOf(perm)
			c := CheckOrder(goal, found)
			if len(c.Moves) != moves || !slices.Equal(c.Crossed, pairs) {
				t.Fatalf("%v: %d moves, want %d; pairs %v, want %v", perm, len(c.Moves), moves, c.Crossed, pairs)
			}
			if got := mend(t, found, c.Moves); !slices.Equal(got, goal) {
				t.Fatalf("%v: mended to %v", perm, got)
			}
			if c.Mirrored != (n > 1 && len(pairs) == n*(n-1)/2) || c.Right() != (len(pairs) == 0) {
				t.Fatalf("%v: %+v", perm, c)
			}
		}
	}
}

// Long orders with lines missing and lines too many: the moves bring what both
// lists hold into order.
func TestCheckOrderWithStrangers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pool := codesOf(rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}).Draw(t, "pool"))
		want := pool[:rapid.IntRange(0, 9).Draw(t, "n")]
		found := rapid.Permutation(pool[rapid.IntRange(0, 5).Draw(t, "from"):]).Draw(t, "found")
		c := CheckOrder(want, found)
		row := mend(t, slices.DeleteFunc(slices.Clone(found), func(code string) bool { return slices.Contains(c.Extra, code) }), c.Moves)
		goal := slices.DeleteFunc(slices.Clone(want), func(code string) bool { return slices.Contains(c.Missing, code) })
		if !slices.Equal(row, goal) {
			t.Fatalf("%v from %v", row, found)
		}
		for _, code := range c.Extra {
			if slices.Contains(want, code) {
				t.Fatalf("%s is no stranger", code)
			}
		}
		for _, code := range c.Missing {
			if slices.Contains(found, code) {
				t.Fatalf("%s is not missing", code)
			}
		}
	})
}

func TestMovesInWords(t *testing.T) {
	c := CheckOrder(strings.Fields("a b c d"), strings.Fields("b x d a"))
	equal(t, "moves", fmt.Sprint(c.Moves), "[{a  b}]")
	equal(t, "missing", fmt.Sprint(c.Missing), "[c]")
	equal(t, "extra", fmt.Sprint(c.Extra), "[x]")
	c = CheckOrder(strings.Fields("a b c d"), strings.Fields("a c d b"))
	equal(t, "one move for two pairs", fmt.Sprint(c.Moves, c.Crossed), "[{b a c}] [[b c] [b d]]")
	c = CheckOrder(strings.Fields("a b c"), strings.Fields("a c b"))
	equal(t, "the outer of two moves", fmt.Sprint(c.Moves), "[{c b }]")
}
