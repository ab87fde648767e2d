package procedure

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/linewright/engine/wing"
)

const smallPlan = `linewright_plan = 1
name = "Small"
size = "S"
source = { text = "invented", date = "2026-03-01" }
partial = true
[[riser]]
branch = "C"
[[link]]
name = "C"
branch = "C"
kind = "screw"
[[line]]
code = "C1"
row = "C"
tier = "lower"
on = "link:C"
pos = 1
sheathed = true
[[line]]
code = "C2"
row = "C"
tier = "upper"
on = "C1"
pos = 1
point = "C1"
sheathed = true
[brake]
main = "K"
[[line]]
code = "K"
row = "K"
tier = "lower"
on = "handle"
point = "K1"
sheathed = true
`

type nothing struct{}

func (nothing) Answer(string) (any, bool) { return nil, false }

// FuzzNewLibrary reads anything as a procedure beside one that it may include;
// what is sound is unfolded and printed. Nothing may panic.
func FuzzNewLibrary(f *testing.F) {
	names, err := filepath.Glob("../../procedures/*.toml")
	if err != nil || len(names) == 0 {
		f.Fatalf("no shipped procedures: %v", err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(sound + include))
	f.Add([]byte(part))
	f.Add([]byte(sides))
	plan, err := wing.ParsePlan([]byte(smallPlan), "small.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		lib, _ := NewLibrary([]File{{"fuzz.toml", data}, {"part.toml", []byte(part)}})
		for _, id := range lib.IDs() {
			p, _ := lib.Get(id)
			if p.doc.File != "fuzz.toml" {
				continue
			}
			p.Sheet("en", Plain)
			for _, ref := range []wing.Ref{wing.LineRef("C1", wing.Left), wing.LineRef("C2", wing.Right), wing.LinkRef("C", wing.Left), wing.Brakes()} {
				if u, err := Unfold(p, plan, ref); err == nil {
					exercise(u)
				}
			}
		}
	})
}

func exercise(u *Unfolded) {
	u.Sheet("en", Markdown)
	for _, s := range u.Slots {
		s.Skipped(nothing{})
		s.Expect(nothing{})
		s.Limit(nothing{})
		s.Low(nothing{})
		s.High(nothing{})
		s.Offered(nothing{})
		s.Must(nothing{}, map[string]any{"value": 1.0})
		s.Must(nothing{}, map[string]any{"value": "x"})
		s.KeyOf(s.Step.Covers)
		s.KeyOf(s.Step.Against)
		s.Say(s.Card.Action, "de", nothing{})
	}
}
