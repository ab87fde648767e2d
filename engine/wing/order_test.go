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
