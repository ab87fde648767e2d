package wing

import (
	"fmt"
	"strings"
	"testing"
)

// bigPlan has 1988 lines, near the most that are read: links of four lower lines, each forked twice.
func bigPlan() []byte {
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = 'n'\nsize = 's'\n[source]\ntext = 't'\ndate = 'd'\n[[riser]]\nbranch = 'A'\nlength_mm = 500\n")
	line := func(code, on, point string, tier Tier, pos int) {
		fmt.Fprintf(&b, "[[line]]\ncode = '%s'\nrow = 'A'\ntier = '%s'\non = '%s'\npos = %d\n%slength_mm = 4205\nmaterial = 'aramid'\nsheathed = true\ndiameter_mm = 1.1\nstrength_n = 1300\n",
			code, tier, on, pos, point)
	}
	n := 0
	for link := range 71 {
		fmt.Fprintf(&b, "[[link]]\nname = 'L%d'\nbranch = 'A'\nkind = 'soft'\n", link)
	}
	for link := range 71 {
		for lower := range 4 {
			stem := fmt.Sprintf("A1.%d.%d", link, lower)
			line(stem, fmt.Sprintf("link:L%d", link), "", Lower, lower+1)
			for mid := range 2 {
				fork := fmt.Sprintf("%s.%d", stem, mid)
				line(fork, stem, "", Middle, mid+1)
				for top := range 2 {
					n++
					line(fmt.Sprintf("%s.%d", fork, top), fork, fmt.Sprintf("point = 'A%d'\n", n), Upper, top+1)
				}
			}
		}
	}
	return []byte(b.String())
}

func BenchmarkParseBig(b *testing.B) {
	data := bigPlan()
	p := parse(b, string(data))
	b.ReportMetric(float64(len(p.Lines)), "lines")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParsePlan(data, "big.toml"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseChainOf2000(b *testing.B) {
	data := []byte(chainOf(MaxLines))
	for b.Loop() {
		if _, err := ParsePlan(data, "chain.toml"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPathsBig(b *testing.B) {
	p := parse(b, string(bigPlan()))
	b.ReportAllocs()
	for b.Loop() {
		p.Paths(Left)
	}
}

func BenchmarkFanBig(b *testing.B) {
	p := parse(b, string(bigPlan()))
	b.ReportAllocs()
	for b.Loop() {
		p.Fan(Left)
	}
}

func BenchmarkMatchingSample(b *testing.B) {
	p := sample(b)
	seen := []Observation{{FeatureSide, 0, "left"}, {FeatureCanopyRow, 0, "C"}, {FeatureFirstTab, 0, "5"}, {FeatureJointsAbove, 0, "2"}}
	b.ReportAllocs()
	for b.Loop() {
		p.Matching(seen)
	}
}
