package wing

import (
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
)

func loose(t *testing.T) *Plan {
	t.Helper()
	data, err := os.ReadFile("testdata/loose.toml")
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, string(data))
}

func TestStatedPaths(t *testing.T) {
	p := loose(t)
	equal(t, "from", p.PathsFrom, FromLink)
	for point, want := range map[string]StatedPath{
		"B1": {"B1", "B", 5712 * quantity.Millimetre}, // of the row of its line
		"A7": {"A7", "A", 6400500},                    // of the row of a loose line
		"C1": {"C1", "C", 6500 * quantity.Millimetre}, // of no line
	} {
		got, ok := p.StatedPath(point)
		equal(t, point, got, want)
		equal(t, point+" is there", ok, true)
	}
	_, ok := p.StatedPath("c1")
	equal(t, "other case", ok, false)
	path, ok := p.Path("B1", Right)
	equal(t, "stated with the path", path.Stated, 5712*quantity.Millimetre)
	equal(t, "the path is there", ok, true)
	equal(t, "paths that have lines", len(p.Paths(Left)), 1)
	equal(t, "rows to be measured, that of the lines first", strings.Join(p.PathRows(), " "), "B A C")
}

func TestLooseLines(t *testing.T) {
	p := loose(t)
	equal(t, "loose", list(p.Loose), "a7 A7")
	_, ok := p.Line("a7")
	equal(t, "a loose line is none that can be worked on", ok || p.Has(LineRef("A7", Left)), false)
	equal(t, "sheath not given", p.Loose[0].Unseen && !p.Loose[1].Unseen && p.Loose[1].Bare, true)
	equal(t, "as found", p.AsFound, true)
	golden(t, "testdata/loose.missing.txt", strings.Join(p.Missing(), "\n")+"\n")
	golden(t, "testdata/loose.serves.txt", strings.Join(p.Serves(), "\n")+"\n")
}

// A plan of paths alone has no line, and nothing stumbles over that.
func TestPathsAlone(t *testing.T) {
	p := parse(t, "linewright_plan = 1\nname = 'n'\nsize = 's'\npartial = true\npaths_from = 'riser'\n[source]\ntext = 't'\ndate = 'd'\n"+
		"[[path]]\npoint = 'A1'\nrow = 'A'\nlength_mm = 7213\n")
	equal(t, "serves", strings.Join(p.Serves(), "\n"), "1 path can be measured against its stated length, from the riser")
	equal(t, "fan", len(p.Fan(Left)), 0)
	equal(t, "paths", len(p.Paths(Left)), 0)
	equal(t, "rows", len(p.Rows()), 0)
	equal(t, "fits nothing", len(p.Matching(nil)), 0)
	q := NewFinder(p, "").Next(nil)
	equal(t, "nothing to find", q.State, FinderContradiction)
	equal(t, "no line left", len(q.Left), 0)
}

func TestSampleServes(t *testing.T) {
	equal(t, "sample", strings.Join(sample(t).Serves(), "\n"),
		"each of 93 lines can be found, swapped and checked on what it hangs on\neach of 54 paths can be summed up from its lines")
}
