package wing

import (
	"errors"
	"strings"
	"testing"
)

// Whatever is typed, a refusal takes nothing, and a plan comes out at the end.
func FuzzFound(f *testing.F) {
	f.Add("Dishcloth\nM\nscrew\nC\nC1.1 C1.2 C1.3\n2\nabove\nC1.2\nright\n50\n4205")
	f.Add("n\ns\nhandle\n1\nx y\nall\nx\n0\n1\n5 daN\n-")
	f.Fuzz(func(t *testing.T, typed string) {
		found := NewFound(FoundHead{By: "tester", Date: "2026-05-01"})
		for answer := range strings.SplitSeq(typed, "\n") {
			if _, more := found.Ask(); !more {
				break
			}
			next, err := found.Answer(answer)
			var refusal *SumError
			if err != nil && (!errors.As(err, &refusal) || next.Answers() != found.Answers()) {
				t.Fatalf("%q: %v", answer, err)
			}
			found = next
		}
		if _, more := found.Ask(); more {
			return
		}
		if _, _, err := found.Plan(); err != nil {
			t.Fatal(err)
		}
	})
}
