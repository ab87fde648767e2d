package trim

import "testing"

// A report gives each path the span that the plan gives its point, and none
// where the plan has none.
func TestReportGivesSpans(t *testing.T) {
	for span, want := range map[float64]bool{-1: false, 0: true, 0.985: true} {
		got := given(span)
		if (got != nil) != want || want && *got != span {
			t.Errorf("%v gives %v", span, got)
		}
	}
}
