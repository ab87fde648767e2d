package trim

import (
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

func TestObject(t *testing.T) {
	p := small(t)
	o, ok := Object(p, PathRef{"A1", wing.Left}, wing.FromRiser)
	equal(t, "there", ok, true)
	equal(t, "nominal", o.Nominal, 6950*milli)
	equal(t, "state", o.State, metrology.StateInstalled)
	equal(t, "material", o.Material, "aramid")
	equal(t, "pull", o.PlanPull, 50*quantity.Newton)
	equal(t, "chain", len(o.Chain), 2)
	equal(t, "first", o.Chain[0], metrology.Segment{Length: 5000 * milli, Strength: 1500 * quantity.Newton})
	o, _ = Object(p, PathRef{"A1", wing.Left}, wing.FromLink)
	equal(t, "from the link", o.Nominal, 6450*milli)
	o, _ = Object(p, PathRef{"Br1", wing.Right}, wing.FromRiser)
	equal(t, "brake", o.Nominal, 6100*milli)
	equal(t, "small letters", o.Material, "uhmwpe")
	_, ok = Object(p, PathRef{"a1", wing.Left}, wing.FromRiser)
	equal(t, "no such point", ok, false)
	mixed, _ := Object(sample(t), PathRef{"A1", wing.Left}, wing.FromRiser)
	equal(t, "mixed materials", mixed.Material, "")
}

func TestEvaluateFindsWhatDoesNotRepeat(t *testing.T) {
	p := small(t)
	row := func(mm float64) Row {
		return Row{PathRef{"A1", wing.Left}, metrology.Reading{Value: um(mm)}}
	}
	paths, err := Evaluate(p, wing.FromRiser, []Row{row(6950), row(6958)}, goodBench())
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "disagree", paths[0].Disagree, true)
	_, err = Evaluate(p, wing.FromRiser, []Row{{PathRef{"Z1", wing.Left}, metrology.Reading{Value: 7000 * milli}}}, goodBench())
	equal(t, "no path", what(t, err), "there is no path Z1 left")
	bad := goodBench()
	bad.TapeClass = "IV"
	_, err = Evaluate(p, wing.FromRiser, []Row{row(6950)}, bad)
	equal(t, "bench", what(t, err), "bench profile: tape_class is not one that is taken")
}
