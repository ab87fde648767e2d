package procedures_test

import (
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

func BenchmarkReadAll(b *testing.B) {
	files := procedures.Files()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := procedure.NewLibrary(files); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkUnfoldSwap(b *testing.B) {
	p, _ := library(b).Get("line-swap")
	plan := samplePlan(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := procedure.Unfold(p, plan, wing.LineRef("C1.2", wing.Left)); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSkipped goes once over all slots, as each card does.
func BenchmarkSkipped(b *testing.B) {
	p, _ := library(b).Get("line-swap")
	u, err := procedure.Unfold(p, samplePlan(b), wing.LineRef("C1.2", wing.Left))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range u.Slots {
			if _, err := s.Skipped(values{}); err != nil {
				b.Fatal(err)
			}
		}
	}
}
