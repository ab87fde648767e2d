package trim

import (
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var update = flag.Bool("update", false, "write the golden files anew")

const milli = quantity.Millimetre

func planOf(t testing.TB, name string) *wing.Plan {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := wing.ParsePlan(data, name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func small(t testing.TB) *wing.Plan  { return planOf(t, "testdata/small.toml") }
func sample(t testing.TB) *wing.Plan { return planOf(t, "../../procedures/sample/plan.toml") }

// sampleChord is invented, as the sample wing is.
func sampleChord() Chord {
	return Chord{
		Rows: []RowPlace{
			{"A", 150 * milli, 0.4}, {"B", 600 * milli, 0.3}, {"C", 1200 * milli, 0.2}, {"D", 1800 * milli, 0.1},
		},
		Source: "invented for a test",
	}
}

// goodBench has a class I tape and a hung weight.
func goodBench() metrology.Bench {
	return metrology.Bench{
		Name: "club room", Rule: metrology.RuleBudget, TapeClass: "I", Graduation: milli, TapeMaterial: "steel",
		Pull: 50 * quantity.Newton, PullHow: metrology.PullWeight, PullError: 500 * quantity.Millinewton,
		AirC: 24, AirErrorC: 1, Repeatability: 500, RepeatabilityDoF: 9,
	}
}

// stated gives a set whose paths deviate as deviation says, each with the
// uncertainty u. A path is left out where deviation says NaN.
func stated(t testing.TB, plan *wing.Plan, u quantity.Length, deviation func(p *wing.Path) float64) Set {
	t.Helper()
	set := Set{From: wing.FromRiser, Trimmers: "closed", SpeedSystem: "off"}
	for _, p := range bothSides(plan) {
		d := deviation(&p)
		if math.IsNaN(d) {
			continue
		}
		m, err := Stated(p.Nominal+um(d), u)
		if err != nil {
			t.Fatal(err)
		}
		set.Paths = append(set.Paths, PathReading{PathRef: PathRef{p.Point, p.Side}, Measurement: m})
	}
	return set
}

// typed gives rows as a person types them, for paths that deviate as deviation
// says, measured from the riser.
func typed(plan *wing.Plan, deviation func(p *wing.Path) float64) []Row {
	var rows []Row
	for _, p := range bothSides(plan) {
		rows = append(rows, Row{PathRef{p.Point, p.Side}, metrology.Reading{Value: p.Nominal + um(deviation(&p))}})
	}
	return rows
}

func report(t testing.TB, plan *wing.Plan, set Set, chord Chord) Report {
	t.Helper()
	r, err := NewReport(plan, set, chord)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func equal[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

// golden compares with a file that a person has read.
func golden(t *testing.T, name, got string) {
	t.Helper()
	name = "testdata/" + name
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("%s differs:\n%s", name, got)
	}
}

func text(lines []string) string { return strings.Join(lines, "\n") + "\n" }

// what gives the first line of a refusal and checks that there are two.
func what(t *testing.T, err error) string {
	t.Helper()
	if err == nil {
		return "taken"
	}
	if e, ok := err.(*metrology.Error); ok {
		return e.Error()
	}
	first, second, _ := strings.Cut(err.Error(), "\n")
	if second == "" || strings.Contains(second, "\n") {
		t.Errorf("not two lines: %q", err.Error())
	}
	return first
}
