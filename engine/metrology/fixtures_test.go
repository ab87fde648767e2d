package metrology

import "example.org/linewright/engine/quantity"

func quantityOf(i int) quantity.Length { return quantity.Length(i) }

// goodObject is a lower line as on a sample plan.
func goodObject() Object {
	return Object{
		Nominal: 4205 * quantity.Millimetre, Strength: 1500 * quantity.Newton,
		State: StateLoose, Material: "uhmwpe",
	}
}

// goodBench has a class I tape and a hung weight.
func goodBench() Bench {
	return Bench{
		Name: "club room", Rule: RuleBudget, TapeClass: "I", Graduation: quantity.Millimetre,
		TapeMaterial: "steel",
		Pull:         50 * quantity.Newton, PullHow: PullWeight, PullError: 500 * quantity.Millinewton,
		Pin: 6 * quantity.Millimetre, AirC: 24, AirErrorC: 1,
		Repeatability: 500 * quantity.Micrometre, RepeatabilityDoF: 9,
	}
}

// badBench has a class III tape with a hook and a hand that pulls too little.
func badBench() Bench {
	return Bench{
		Name: "meadow", Rule: RuleBudget, TapeClass: "III", Hook: true, Graduation: quantity.Millimetre,
		TapeMaterial: "steel",
		Pull:         30 * quantity.Newton, PullHow: PullHand, PullError: 15 * quantity.Newton,
		Pin: 6 * quantity.Millimetre, AirC: 8, AirErrorC: 5,
		Repeatability: 1500 * quantity.Micrometre, RepeatabilityDoF: 9,
	}
}

// simpleBench is the default bench by the simple rule.
func simpleBench() Bench {
	b := DefaultBench()
	b.Rule = RuleSimple
	return b
}
