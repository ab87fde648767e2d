package procedure

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// chain is a procedure that includes others.
func chain(id string, includes ...string) File {
	var b strings.Builder
	fmt.Fprintf(&b, "linewright_procedure = 1\nid = %q\nedition = \"1\"\ntitle.en = \"T\"\ntarget = \"line\"\n", id)
	for i, name := range includes {
		fmt.Fprintf(&b, "[[phase]]\nid = \"p%d\"\ninclude = %q\n", i, name)
	}
	b.WriteString("[[phase]]\nid = \"own\"\ntitle.en = \"T\"\n[[phase.card]]\nid = \"c\"\naction.en = \"A\"\nreason.en = \"R\"\n" +
		"[[phase.card.step]]\nid = \"s\"\nkind = \"do\"\nask.en = \"S\"\n")
	return File{id + ".toml", []byte(b.String())}
}

func TestACircleOfIncludesIsRefused(t *testing.T) {
	lib, err := NewLibrary([]File{chain("a", "b"), chain("b", "c"), chain("c", "a"), chain("d")})
	for _, want := range []string{
		`a.toml:8: phase[0].include: "b" includes this procedure again`,
		`b.toml:8: phase[0].include: "c" includes this procedure again`,
		`c.toml:8: phase[0].include: "a" includes this procedure again`,
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
	if ids := lib.IDs(); len(ids) != 1 || ids[0] != "d" {
		t.Errorf("offered: %v, want d alone", ids)
	}
}

// Twenty procedures that each include the next twice would unfold to a million
// steps.
func TestIncludesCannotGrowWithoutEnd(t *testing.T) {
	var files []File
	for i := range 20 {
		files = append(files, chain(fmt.Sprintf("n%d", i), fmt.Sprintf("n%d", i+1), fmt.Sprintf("n%d", i+1)))
	}
	lib, err := NewLibrary(append(files, chain("n20")))
	if err == nil || !strings.Contains(err.Error(), "4000 steps with all includes\n  at most 2000 are laid out") {
		t.Errorf("%v", err)
	}
	if _, ok := lib.Get("n0"); ok {
		t.Error("n0 is offered")
	}
	if _, ok := lib.Get("n15"); !ok {
		t.Error("n15, with 63 steps, is not offered")
	}
}

func TestAFaultyIncludeIsNotUnfolded(t *testing.T) {
	bad := chain("b")
	bad.Data = []byte(strings.Replace(string(bad.Data), `ask.en = "S"`, "ask.en = \"S\"\nwhen = \"nothing\"", 1))
	lib, err := NewLibrary([]File{chain("a", "b"), bad})
	want := "a.toml:8: phase[0].include: b has faults of its own\n  mend them first\n" +
		"b.toml:17: phase[0].card[0].step[0].when: \"nothing\" is not a value known here\n  " + cureName
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if len(lib.IDs()) != 0 {
		t.Errorf("offered: %v", lib.IDs())
	}
}

func TestNotTOML(t *testing.T) {
	for text, want := range map[string]string{
		"id = ":             "x.toml:1: id: this is not TOML: ",
		"":                  "x.toml: this is no procedure file: the key linewright_procedure is missing",
		"\xff":              "x.toml: the file is not UTF-8 text",
		"id = \"a\\u0007\"": "x.toml:1: id: the text has a control character (U+0007)",
	} {
		_, err := NewLibrary([]File{{"x.toml", []byte(text)}})
		if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n  \n") {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func TestObservation(t *testing.T) {
	slot := func(observes string, at int) *Slot {
		return &Slot{Step: &Step{Observes: observes, ObservesAt: at}}
	}
	for _, c := range []struct {
		slot  *Slot
		entry any
		want  wing.Observation
	}{
		{slot("side", 0), "left", wing.Observation{Feature: wing.FeatureSide, Value: "left"}},
		{slot("place_on_link", 0), 2.0, wing.Observation{Feature: wing.FeaturePlaceOnLink, Value: "2"}},
		{slot("place_on_link", 0), 0.0, wing.Observation{Feature: wing.FeaturePlaceOnLink, Value: wing.None}},
		{slot("joints_below", 0), 0.0, wing.Observation{Feature: wing.FeatureJointsBelow, Value: "0"}},
		{slot("fork_place", 2), 1.0, wing.Observation{Feature: wing.FeatureForkPlace, Instance: 2, Value: "1"}},
		{slot("sheath", 0), CannotTell, wing.Observation{Feature: wing.FeatureSheath}},
	} {
		if got := c.slot.Observation(c.entry); got != c.want {
			t.Errorf("%v: %+v, want %+v", c.entry, got, c.want)
		}
	}
}

func TestFill(t *testing.T) {
	values := map[string]any{"side": "left", "n": 4.0, "m": 4.256, "list": []string{"C1", "c1"}}
	look := func(name string) (any, bool) { v, ok := values[name]; return v, ok }
	for text, want := range map[string]string{
		"on the {side} side":   "on the left side",
		"ON THE {SIDE} SIDE":   "ON THE LEFT SIDE",
		"{n} and {m} mm":       "4 and 4.26 mm",
		"{list}":               "C1 c1", // the case of a code is never changed
		"{gone} mm":            "(not known) mm",
		"{} {a b}":             "(not known) (not known)",
		"no names, one { only": "no names, one { only",
	} {
		if got := fill(text, look); got != want {
			t.Errorf("%q gives %q, want %q", text, got, want)
		}
	}
}
