package trim

import (
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// How the errors of many measurements go together in a sum over them:
//
//   - what metrology marks as shared (one tape, one temperature, one pull) is
//     one error and counts once, with the sum of its effects;
//   - what chance makes anew at each reading (graduation, repeatability) goes
//     together by squares and shrinks in a mean;
//   - the rest could be the same in all lines, such as a stretch that nobody
//     knows. It is one error among the lines that count the same way, so that a
//     mean does not average it away, and two errors between those that count
//     opposite, so that a difference is not rid of it either.
//
// For two measurements this is metrology.Compare.
type kind int

const (
	shared kind = iota
	chance
	alike
)

// The sources of metrology that chance makes anew at each reading.
const (
	sourceRepeatability = "repeatability"
	sourceGraduation    = "graduation"
	sourceStated        = "stated uncertainty"
)

func kindOf(t *metrology.Term) kind {
	switch {
	case t.Shared != "":
		return shared
	case t.Source == sourceRepeatability, strings.HasPrefix(t.Source, sourceGraduation):
		return chance
	}
	return alike
}

// pool holds the errors of all measurements of a set in numbers, so that a sum
// over hundreds of paths needs no names any more.
type pool struct {
	ids    map[errorID]int
	kinds  []kind
	shares [][]share // by path
}

type errorID struct {
	kind kind
	name string
}

// share is what one error makes of one measurement.
type share struct {
	id  int
	mm  float64 // with its sign where it is shared
	dof float64
}

func newPool(paths []path) *pool {
	p := &pool{ids: map[errorID]int{}, shares: make([][]share, len(paths))}
	for i := range paths {
		m := &paths[i].m
		shares := make([]share, len(m.Terms))
		for n := range m.Terms {
			shares[n] = p.share(&m.Terms[n], m.Bench)
		}
		p.shares[i] = shares
	}
	return p
}

func (p *pool) share(t *metrology.Term, bench string) share {
	id := errorID{kindOf(t), t.Source}
	s := share{mm: t.UMM, dof: t.DoF}
	switch id.kind {
	case shared:
		id.name = t.Shared
		s.mm = math.Copysign(t.UMM, t.Sens)
	case chance:
		// Repeatabilities of one bench lean on the same knowledge of its spread.
		id.name += "\x00" + bench
	}
	n, known := p.ids[id]
	if !known {
		n = len(p.kinds)
		p.ids[id] = n
		p.kinds = append(p.kinds, id.kind)
	}
	s.id = n
	return s
}

// weighed is one path in a sum.
type weighed struct {
	path   int
	weight float64
}

// u gives the expanded uncertainty in mm of Σ weight·length / scale.
func (p *pool) u(sum []weighed, scale float64) float64 {
	plus := make([]float64, len(p.kinds))
	minus := make([]float64, len(p.kinds))
	dof := make([]float64, len(p.kinds))
	for _, w := range sum {
		for _, s := range p.shares[w.path] {
			effect := w.weight * s.mm
			switch kind := p.kinds[s.id]; {
			case kind == chance:
				plus[s.id] += effect * effect
			case kind == shared || effect > 0:
				plus[s.id] += effect
			default:
				minus[s.id] += effect
			}
			if s.dof > 0 && (dof[s.id] == 0 || s.dof < dof[s.id]) {
				dof[s.id] = s.dof
			}
		}
	}
	terms := make([]metrology.Term, len(p.kinds))
	for id, kind := range p.kinds {
		effect := math.Hypot(plus[id], minus[id])
		if kind == chance {
			effect = math.Sqrt(plus[id])
		}
		terms[id] = metrology.Term{UMM: effect / scale, DoF: dof[id]}
	}
	standardMM, effective := metrology.Combine(terms)
	return metrology.CoverageFactor(coverage, effective) * standardMM
}

// coverage is the probability of two standard deviations, as in metrology.
var coverage = math.Erf(math.Sqrt2)

// roundUp gives mm as whole micrometres, never smaller. A picometre is let go
// first: it is noise of the arithmetic.
func roundUp(mm float64) quantity.Length { return quantity.Length(math.Ceil(mm*1000 - 1e-6)) }

// addUp makes one measurement of the segments of a path. Only what chance makes
// goes together by squares: one tape and one unknown stretch are in all of them.
func addUp(parts []metrology.Measurement) (metrology.Measurement, error) {
	sum := parts[0]
	sum.Terms, sum.Corrections = slices.Clone(sum.Terms), slices.Clone(sum.Corrections)
	for _, m := range parts[1:] {
		if m.State != sum.State {
			return metrology.Measurement{}, &metrology.Error{Code: metrology.CodeNotAlike, A: string(sum.State), B: string(m.State)}
		}
		sum.Value += m.Value
		sum.Mean += m.Mean
		sum.N = min(sum.N, m.N)
		sum.Spread = max(sum.Spread, m.Spread)
		sum.BenchDefault = sum.BenchDefault || m.BenchDefault
		if m.Rule != sum.Rule {
			sum.Rule += "; and " + m.Rule
		}
		if m.Bench != sum.Bench {
			sum.Bench += "; and " + m.Bench
		}
		sum.Corrections = append(sum.Corrections, m.Corrections...)
		for _, t := range m.Terms {
			sum.Terms = join(sum.Terms, t)
		}
	}
	sum.StandardMM, sum.DoF = metrology.Combine(sum.Terms)
	sum.K = metrology.CoverageFactor(coverage, sum.DoF)
	sum.U = roundUp(sum.K * sum.StandardMM)
	return sum, nil
}

// join adds a term to those of its kind and name.
func join(terms []metrology.Term, t metrology.Term) []metrology.Term {
	k := kindOf(&t)
	for i := range terms {
		own := &terms[i]
		if kindOf(own) != k || own.Shared != t.Shared || own.Source != t.Source && k != shared {
			continue
		}
		effect := math.Hypot(own.UMM, t.UMM)
		sens := 1.0
		switch k {
		case shared:
			effect = math.Copysign(own.UMM, own.Sens) + math.Copysign(t.UMM, t.Sens)
			sens = math.Copysign(1, effect)
		case alike:
			effect = own.UMM + t.UMM
		}
		dof := own.DoF
		if t.DoF > 0 && (dof == 0 || t.DoF < dof) {
			dof = t.DoF
		}
		*own = metrology.Term{
			Source: own.Source, Given: "all segments", Distribution: own.Distribution, Unit: "mm",
			U: math.Abs(effect), Sens: sens, UMM: math.Abs(effect), DoF: dof, Shared: own.Shared,
		}
		return terms
	}
	return append(terms, t)
}
