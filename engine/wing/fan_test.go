package wing

import (
	"fmt"
	"strings"
	"testing"
)

func TestFanOfSmall(t *testing.T) {
	var b strings.Builder
	for _, s := range parse(t, small(t)).Fan(Right) {
		fmt.Fprintf(&b, "%s %s %s %d %.4f %.4f\n", s.Ref, s.Row, s.Tier, s.Joints, s.Bottom, s.Top)
	}
	golden(t, "testdata/small.fan.txt", b.String())
}

// Strands of one row and tier do not cross, each begins where the one below it
// ends, and every line is there once.
func TestFanOfTheSample(t *testing.T) {
	p := sample(t)
	tops := map[string]float64{}
	var last Strand
	strands := p.Fan(Left)
	equal(t, "strands", len(strands), len(p.Lines))
	for _, s := range strands {
		l, _ := p.Line(s.Ref.Code)
		if want := tops[l.On.Name]; l.On.Kind == OnLine && s.Bottom != want || l.On.Kind != OnLine && s.Bottom != 0 {
			t.Errorf("%s begins at %v", s.Ref, s.Bottom)
		}
		if s.Row == last.Row && s.Joints == last.Joints && (s.Top <= last.Top || s.Bottom < last.Bottom) {
			t.Errorf("%s crosses %s", s.Ref, last.Ref)
		}
		if _, twice := tops[s.Ref.Code]; twice || s.Top <= 0 || s.Top > 1 {
			t.Errorf("%s ends at %v", s.Ref, s.Top)
		}
		tops[s.Ref.Code] = s.Top
		last = s
	}
}

// A partial plan has tops without a point; they are laid out all the same.
func TestFanOfAPartialPlan(t *testing.T) {
	for _, s := range parse(t, chainOf(3)).Fan(Left) {
		if s.Top != 0.5 {
			t.Errorf("%s ends at %v", s.Ref, s.Top)
		}
	}
}
