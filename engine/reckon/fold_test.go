package reckon

import (
	"strings"
	"testing"
)

func TestFold(t *testing.T) {
	table := "  A1 left      6450.000   6450.851"
	long := "  " + strings.Repeat("word ", 14) + "limit 10 mm: inside"
	got := Fold([]string{"", table, long, strings.Repeat("é", 78), strings.Repeat("é", 100)})
	want := []string{
		"", table,
		"  " + strings.TrimSpace(strings.Repeat("word ", 14)), // "limit" would reach beyond column 76
		"    limit 10 mm: inside",
		strings.Repeat("é", 78),
		strings.Repeat("é", 76), "  " + strings.Repeat("é", 24),
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
