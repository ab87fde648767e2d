package wing

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

// whole is all that a plan says, so that two plans can be compared.
func whole(p *Plan) string {
	d := p.Draft()
	d.Plan = Plan{}
	return fmt.Sprintf("%q %q %v %v %+v\n%v %+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%s %+v\n%+v\n%+v\n%+v",
		p.Name, p.Size, p.Partial, p.AsFound, p.Source, p.GreatestMassKG, p.Pull, p.Risers, p.Links, p.Lines, p.Loose,
		brakeOf(p), p.PathsFrom, p.Stated, p.Places, d.Limits, d.Exceptions)
}

func brakeOf(p *Plan) Brake {
	if p.Brake == nil {
		return Brake{Main: "not given"}
	}
	return *p.Brake
}

// A plan that is written and read again says the same, and is written the same.
func TestDraftRoundTrip(t *testing.T) {
	for _, file := range []string{"testdata/small.toml", "testdata/partial.toml", "testdata/loose.toml", "../../procedures/sample/plan.toml"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p := parse(t, string(data))
		text := p.Draft().TOML()
		again, err := ParsePlan(text, filepath.Base(file))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(whole(p), whole(again)); diff != "" {
			t.Errorf("%s: %s", file, diff)
		}
		equal(t, file+" written again", string(again.Draft().TOML()), string(text))
	}
}

func TestDraftReadsWell(t *testing.T) {
	data, err := os.ReadFile("testdata/loose.toml")
	if err != nil {
		t.Fatal(err)
	}
	d := parse(t, string(data)).Draft()
	d.Remark = "Written by a test.\nNothing in it is real."
	golden(t, "testdata/loose.written.toml", string(d.TOML()))
}

// Any text that a plan may hold comes back as it was.
func TestDraftTexts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune(`a'"\#=[]{} .é漢`)), 1, 40, -1).Filter(func(s string) bool { return strings.TrimSpace(s) != "" && strings.Count(s, ".") < 40 }).Draw(t, "text")
		d := Draft{Plan: Plan{Name: text, Size: "S", Partial: true, Source: Source{text, text},
			Loose: []Line{{Code: "A1", Material: text, Colour: text, Span: -1, Length: 4205001, Strength: quantity.Force(rapid.Int64Range(50000, 20000000).Draw(t, "strength"))}}}}
		p, err := ParsePlan(d.TOML(), "x.toml")
		if err != nil {
			t.Fatal(err)
		}
		if p.Name != text || p.Source.Date != text || p.Loose[0] != d.Loose[0] {
			t.Fatalf("%q came back as %+v", text, p)
		}
	})
}

// What cannot be a plan is not made one by writing it.
func TestDraftAtFault(t *testing.T) {
	d := Draft{Plan: Plan{Name: "n", Source: Source{"t", "d"}, Lines: []Line{{Code: "A1", On: Anchor{OnLink, "A"}, Span: -1}}}}
	_, err := ParsePlan(d.TOML(), "x.toml")
	if err == nil || !strings.Contains(err.Error(), "size: missing") || !strings.Contains(err.Error(), "hangs on link:A, which is not in the plan") {
		t.Errorf("%v", err)
	}
}
