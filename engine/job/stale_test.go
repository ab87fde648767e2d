package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// What was inside before a line was worked on proves nothing behind it.
func TestALengthFromBeforeTheWorkDoesNotRelease(t *testing.T) {
	r := newTrimRig(t)
	stale := func() (n int) {
		for _, it := range r.job.Blocking(0, "2026-03-01T10:00:00Z") {
			if strings.Contains(it.Text, "was measured before the work on it") {
				n++
			}
		}
		return n
	}
	r.upTo("", nil)
	if n := stale(); n != 0 {
		t.Fatalf("%d paths block before any work", n)
	}
	line := r.job.Plan.OnLink(r.job.Plan.Links[0].Name)[0]
	r.work(wing.LineRef(line.Code, wing.Left))
	if n := stale(); n != len(r.job.Plan.Points(line.Code)) {
		t.Errorf("%d paths block after work on %s, which carries %v", n, line.Code, r.job.Plan.Points(line.Code))
	}
	r.begin("after-test", wing.Whole())
	r.upTo("", nil)
	if n := stale(); n != 0 {
		t.Errorf("%d paths block though they were measured again", n)
	}
}
