package metrology

// SimpleRule is the text of the simple rule, as it stands in a record.
const SimpleRule = "simple: tape class (rectangular) and graduation at both ends, k = 2"

// evaluateSimple is the rule before a bench has a budget: the permitted error
// of the tape, hook included, and the graduation at both ends. It needs only
// what is printed on the tape. Pull and temperature are not in it, so it suits
// a bench that pulls as the plan says.
//
// Two such measurements share the tape error, and a difference could be rid
// of it. The terms are not marked as shared: the rule knows too little of how
// the two were measured, and without the credit U is only too large.
func evaluateSimple(m *Measurement, b Bench) {
	tapeMM, _ := TapeError(b.TapeClass, m.Mean, b.Hook)
	m.Terms = []Term{
		Term{
			Source: "tape class " + b.TapeClass, Distribution: "rectangular", Given: "±" + short(tapeMM) + " mm" + b.aside(keyTapeClass),
			U: rectangular(tapeMM), Unit: "mm", Sens: 1,
		}.complete(),
		graduationTerm("graduation at the zero", b),
		graduationTerm("graduation at the reading", b),
	}
	m.Rule = SimpleRule
	m.StandardMM, m.DoF, m.K, m.U = expand(m.Terms)
}
