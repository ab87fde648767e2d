package metrology

// The physical effects that a reading is corrected for, as plain formulas.
// Lengths in mm, forces in N, temperatures in °C, expansions per °C.
const (
	// referenceC is the temperature at which tapes are true (directive
	// 2014/32/EU, annex X) and plans are read.
	referenceC = 20.0

	steelPerC = 1.16e-5 // surveying practice; ISO 1 reference temperature

	// Strain of a line at its strength: somewhere from 0.03 to 0.06, so the
	// middle, give or take the half (common practice, no source).
	breakStrain     = 0.045
	breakStrainHalf = 0.015
)

// expansion is the axial expansion of a fibre, give or take half. The values
// of the National Research Council, table 3-1, are for bare fibre; a braid may
// differ by half of them.
type expansion struct{ perC, half float64 }

var fibres = map[string]expansion{
	"aramid": {-2.0e-6, 1.0e-6},
	"uhmwpe": {-12.0e-6, 6.0e-6},
}

var (
	// unknownFibre spans the two fibres above.
	unknownFibre = expansion{-9.5e-6, 8.5e-6}
	// unknownPlain is for webbing and the like. No source; wide on purpose.
	unknownPlain = expansion{0, 50e-6}
)

// temperatureMM is what to add to a reading of lengthMM taken at airC, so that
// tape and line are both as at the reference temperature.
func temperatureMM(lengthMM, tapePerC, linePerC, airC float64) float64 {
	return lengthMM * (tapePerC - linePerC) * (airC - referenceC)
}

// stretchMMPerN is how much a line of lengthMM and strengthN grows with each
// newton of pull, taken as linear up to its strength.
func stretchMMPerN(lengthMM, strainAtBreak, strengthN float64) float64 {
	return lengthMM * strainAtBreak / strengthN
}

// sagMM is how much longer than its chord a tape is that hangs free over
// lengthMM; it is taken off a reading.
func sagMM(lengthMM, weightNPerM, pullN float64) float64 {
	weightNPerMM := weightNPerM / 1000
	ratio := weightNPerMM * lengthMM / pullN
	return ratio * ratio * lengthMM / 24
}

// tapeStretchMM is how much longer a tape is at pullN than at referenceN; it is
// added to a reading, as the marks lie further apart.
func tapeStretchMM(lengthMM, pullN, referenceN, sectionMM2, modulusGPa float64) float64 {
	return (pullN - referenceN) * lengthMM / (sectionMM2 * modulusGPa * 1000)
}
