package tui

import (
	"slices"
	"testing"
)

func TestALongFieldBreaksBetweenWords(t *testing.T) {
	for _, c := range []struct {
		text  string
		at    int
		lines []string
		where point
	}{
		{"two findings carried", 20, []string{"two ", "findings ", "carried"}, point{2, 7}},
		{"two findings carried", 4, []string{"two ", "findings ", "carried"}, point{1, 0}},
		{"unbroken", 8, []string{"unbroken"}, point{0, 8}},
		{"unbrokenwords", 13, []string{"unbrokenw", "ords"}, point{1, 4}},
		{"", 0, []string{""}, point{0, 0}},
	} {
		e := editor{text: []rune(c.text), at: c.at}
		if lines, where := e.block(10); !slices.Equal(lines, c.lines) || where != c.where {
			t.Errorf("%q at %d gives %q at %v, want %q at %v", c.text, c.at, lines, where, c.lines, c.where)
		}
	}
}
