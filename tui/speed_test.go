package tui

import (
	"slices"
	"testing"
	"time"

	"example.org/linewright/procedures"
)

// What one key costs, from Update to the finished View, at 200 x 60. Beside the
// mean stand the median and the 99th percentile.
func BenchmarkKey(b *testing.B) {
	for _, x := range []struct {
		name string
		to   func(u *user)
		keys []string
	}{
		{"reading", func(u *user) { u.goTo("new_mm") }, []string{"4", "backspace"}},
		{"choose", func(u *user) { u.goTo("damage_seen") }, []string{"down", "up"}},
		{"overview", func(u *user) { u.goTo("closing").press("tab") }, []string{"up", "down"}},
		{"look-back", func(u *user) { u.goTo("closing").press("esc") }, []string{"left", "right"}},
	} {
		b.Run(x.name, func(b *testing.B) {
			u := sitDown(b, newStore(b, nil), procedures.Files(), 200, 60, nil).start("line-swap", "line:C1.2@left")
			x.to(u)
			measure(b, u, x.keys)
		})
	}
	b.Run("fan", func(b *testing.B) {
		u := sitDown(b, newStore(b, nil), procedures.Files(), 200, 60, nil).press("enter", "enter").picks("Mend").picks("Line swap").press("1", "enter")
		measure(b, u, []string{"left", "up", "down", "right"})
	})
}

func measure(b *testing.B, u *user, keys []string) {
	took := make([]time.Duration, 0, b.N)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		u.send(keyOf(keys[i%len(keys)]))
		_ = u.m.View()
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds()), "median-µs")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "p99-µs")
}
