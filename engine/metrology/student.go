package metrology

import (
	"math"
	"sync/atomic"

	"gonum.org/v1/gonum/stat/distuv"
)

// coverage is the probability of two standard deviations of a normal
// distribution, 95.45 %: with infinite degrees of freedom k is 2.
var coverage = math.Erf(math.Sqrt2)

// manyDoF is where Student's distribution is no longer told from the normal
// one, and its quantile would lose digits.
const manyDoF = 1e6

// CoverageFactor returns k so that ±k standard uncertainties hold the
// probability p, between 0 and 1. The degrees of freedom are truncated first
// (JCGM 100:2008, G.4.1); 0 stands for infinite, and anything from above 0 to
// below 2 counts as 1.
func CoverageFactor(p, dof float64) float64 {
	upper := (1 + p) / 2
	if dof == 0 || dof > manyDoF {
		return distuv.UnitNormal.Quantile(upper)
	}
	whole := max(1, math.Floor(dof))
	return distuv.StudentsT{Sigma: 1, Nu: whole}.Quantile(upper)
}

// expansionFactor is CoverageFactor at 95.45 %. To find one takes longer than
// all the rest of a budget, so those of small degrees of freedom are kept: the
// same number comes out, whoever asked first.
func expansionFactor(dof float64) float64 {
	if dof < 1 || dof >= float64(len(factors)) {
		return CoverageFactor(coverage, dof)
	}
	kept := &factors[int(dof)]
	if bits := kept.Load(); bits != 0 {
		return math.Float64frombits(bits)
	}
	k := CoverageFactor(coverage, dof)
	kept.Store(math.Float64bits(k))
	return k
}

var factors [1000]atomic.Uint64

// probabilityWithin is the probability that the true value lies from low to
// high, given the estimate and its standard uncertainty (JCGM 106:2012, 7.2);
// low and high may be infinite.
func probabilityWithin(estimate, standard, dof, low, high float64) float64 {
	below := func(limit float64) float64 {
		z := (limit - estimate) / standard
		if math.IsInf(z, 0) || dof == 0 || dof > manyDoF {
			return normalBelow(z)
		}
		return distuv.StudentsT{Sigma: 1, Nu: dof}.CDF(z)
	}
	return below(high) - below(low)
}

// normalBelow is the probability that a standard normal value lies below z.
func normalBelow(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
