package metrology

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
)

// BudgetRule is the text of the budget, as it stands in a record.
const BudgetRule = "budget: known effects corrected, terms combined after JCGM 100:2008, Student t at 95.45 %"

const (
	// FallbackPull is the plan's measuring pull where the plan names none
	// (common practice, no source).
	FallbackPull = 50 * quantity.Newton

	// leastStrength stands for a strength that is not known: EN 926-1 wants
	// any line above 200 N (read through a summary).
	leastStrength = 200 * quantity.Newton
)

const sourceRepeatability = "repeatability"

// budget gathers the terms and corrections of one measurement.
type budget struct {
	o           Object
	b           Bench
	length      quantity.Length // the mean of the readings
	terms       []Term
	corrections []Correction
}

// evaluateBudget fills m from the mean in it: the object, the bench, and the
// standard deviation of one reading with its degrees of freedom.
func evaluateBudget(m *Measurement, o Object, b Bench, deviationMM, dof float64) {
	g := budget{o: o, b: b, length: m.Mean, terms: make([]Term, 0, 10)}
	g.tape()
	g.graduation()
	g.pull()
	g.temperature()
	g.tapeRun()
	g.add(Term{
		Source: sourceRepeatability, Distribution: "t",
		Given: short(deviationMM) + " mm, n " + strconv.Itoa(m.N) + b.aside(keyRepeatability),
		U:     deviationMM / math.Sqrt(float64(m.N)), Unit: "mm", Sens: 1, DoF: dof,
	})

	var correctionMM float64
	for _, c := range g.corrections {
		correctionMM += c.AddedMM
	}
	m.Value = m.Mean + quantity.Length(math.Round(correctionMM*1000))
	m.Terms, m.Corrections = g.terms, g.corrections
	m.Rule = BudgetRule
	m.StandardMM, m.DoF, m.K, m.U = expand(m.Terms)
}

// expand combines the terms and expands them to U.
func expand(terms []Term) (standardMM, dof, k float64, u quantity.Length) {
	standardMM, dof = Combine(terms)
	k = expansionFactor(dof)
	return tenDigits(standardMM), tenDigits(dof), tenDigits(k), roundUp(k * standardMM)
}

// add completes a term by its contribution.
func (g *budget) add(t Term) { g.terms = append(g.terms, t.complete()) }

// limits adds t as a source that lies anywhere within ±half; Given, if any, is
// said behind it.
func (g *budget) limits(half float64, t Term) {
	t.Distribution = "rectangular"
	t.Given = "±" + short(half) + " " + t.Unit + t.Given
	t.U = rectangular(half)
	g.add(t)
}

// correct adds a known effect, if there is any.
func (g *budget) correct(source string, addedMM float64, detail string) {
	if addedMM = tenDigits(addedMM); addedMM != 0 {
		g.corrections = append(g.corrections, Correction{Source: source, AddedMM: addedMM, Detail: detail})
	}
}

// here names what all measurements on this bench share. What it was set to is
// part of the name, so that a change of the profile ends the sharing.
func (g *budget) here(what string) string { return what + ", " + g.b.Name }

func (g *budget) tape() {
	if c := g.b.Calibration; c != nil {
		g.correct("tape calibration", -c.ErrorUMPerM*g.length.MM()/1e6,
			fmt.Sprintf("the tape reads %s µm too long in a metre, certificate of %s", short(c.ErrorUMPerM), c.Date))
		g.add(Term{
			Source: "tape calibration", Distribution: "normal", Given: "U " + bare(c.U) + " mm, k 2",
			U: c.U.MM() / 2, Unit: "mm", Sens: 1, Shared: g.here("tape calibrated " + c.Date),
		})
		return
	}
	source := "tape class " + g.b.TapeClass
	errorMM, _ := TapeError(g.b.TapeClass, g.length, false)
	aside := g.b.aside(keyTapeClass)
	g.limits(errorMM, Term{Source: source, Given: aside, Unit: "mm", Sens: 1, Shared: g.here(source)})
	if g.b.Hook {
		hookMM := tapeClasses[g.b.TapeClass].c
		g.limits(hookMM, Term{Source: "hook of the tape", Given: aside, Unit: "mm", Sens: 1, Shared: g.here("hook, " + source)})
	}
}

// graduation is read at both ends and shared by nothing.
func (g *budget) graduation() {
	for _, end := range []string{"graduation at the zero", "graduation at the reading"} {
		g.add(graduationTerm(end, g.b))
	}
}

// pull takes a line's own stretch to the pull of the plan. A plain distance is
// not pulled.
func (g *budget) pull() {
	if g.o.State == StatePlain {
		return
	}
	perStrain, from := g.stretch()
	perN := perStrain * breakStrain
	planN, pulledN := g.o.planPull().N(), g.b.pulledN()
	beyondN, halfN := pulledN-planN, g.b.PullError.N()
	if g.o.strengthKnown() {
		g.correct("pull", -perN*beyondN, fmt.Sprintf("pulled at %s N%s, the plan asks for %s N%s; %s mm for each newton",
			short(pulledN), g.b.aside(keyPull), short(planN), g.o.planAside(), short(perN)))
	} else {
		// checkPull let only a pull in that cannot be told from the plan's.
		halfN += math.Abs(beyondN)
		beyondN = 0
	}
	shared := ""
	if g.b.PullHow != PullHand {
		shared = g.here(g.b.PullHow + " " + g.b.Pull.String())
	}
	g.limits(halfN, Term{
		Source: "pull, " + g.b.PullHow, Given: g.b.aside(keyPullError), Unit: "N", Sens: -perN,
		SensFrom: from + " · " + short(breakStrain), Shared: shared,
	})
	if beyondN != 0 {
		g.limits(breakStrainHalf, Term{
			Source: "stretch of the line", Unit: "strain at break", Sens: -perStrain * beyondN,
			SensFrom: from + " · " + short(-beyondN) + " N",
		})
	}
	// Pull and stretch multiply and neither is well known, so the term of
	// second order counts too (JCGM 100:2008, 5.1.2, note).
	g.add(Term{
		Source: "pull times stretch", Distribution: "product",
		Given: "±" + short(halfN) + " N" + g.b.aside(keyPullError) + " times ±" + short(breakStrainHalf),
		U:     rectangular(halfN) * rectangular(breakStrainHalf), Unit: "N", Sens: perStrain, SensFrom: from,
	})
}

// stretch is the growth of the whole chain in mm for each newton and each unit
// of strain at break, and how it came about.
func (g *budget) stretch() (mmPerN float64, from string) {
	if len(g.o.Chain) == 0 {
		return Segment{g.length, g.o.Strength}.stretch()
	}
	parts := make([]string, len(g.o.Chain))
	for i, s := range g.o.Chain {
		growth, how := s.stretch()
		mmPerN += growth
		parts[i] = how
	}
	return mmPerN, "(" + strings.Join(parts, " + ") + ")"
}

// stretch is that of one line; of unknown strength it is taken for the weakest
// that may be.
func (s Segment) stretch() (mmPerN float64, from string) {
	strength, aside := s.Strength, ""
	if strength == 0 {
		strength, aside = leastStrength, byFallback
	}
	return stretchMMPerN(s.Length.MM(), 1, strength.N()), bare(s.Length) + " mm / " + short(strength.N()) + " N" + aside
}

func (g *budget) temperature() {
	fibre, known := g.o.expansion()
	ofTape, ofLine := g.b.aside(keyTapeMaterial), ""
	if !known {
		ofLine = byFallback
	}
	tapePerC := g.b.tapeExpansionPerC()
	lengthMM := g.length.MM()
	beyondC := g.b.AirC - referenceC
	g.correct("temperature", temperatureMM(lengthMM, tapePerC, fibre.perC, g.b.AirC),
		fmt.Sprintf("%s °C%s against 20 °C, tape %s%s and line %s%s for each °C",
			short(g.b.AirC), g.b.aside(keyAir), short(tapePerC), ofTape, short(fibre.perC), ofLine))
	length := bare(g.length) + " mm · "
	g.limits(g.b.AirErrorC, Term{
		Source: "temperature", Given: g.b.aside(keyAirError), Unit: "°C", Sens: lengthMM * (tapePerC - fibre.perC),
		SensFrom: length + "(" + short(tapePerC) + ofTape + " - " + short(fibre.perC) + ofLine + ")", Shared: g.here("air " + short(g.b.AirC) + " °C"),
	})
	if beyondC == 0 {
		return
	}
	shared := ""
	if known {
		shared = "expansion of " + strings.ToLower(g.o.Material)
	}
	g.limits(fibre.half, Term{
		Source: "expansion of the line", Given: ofLine, Unit: "per °C", Sens: -lengthMM * beyondC,
		SensFrom: length + short(-beyondC) + " °C", Shared: shared,
	})
}

// tapeRun takes a tape that is pulled or hangs to one that lies at its
// reference pull. Both effects hang on the same pull, so they are one term.
func (g *budget) tapeRun() {
	r := g.b.TapeRun
	if r == nil {
		return
	}
	lengthMM, pullN := g.length.MM(), r.Pull.N()
	g.correct("stretch of the tape",
		tapeStretchMM(lengthMM, pullN, r.ReferencePull.N(), r.SectionMM2, r.ModulusGPa),
		fmt.Sprintf("tape pulled at %s N, true at %s N%s", short(pullN), short(r.ReferencePull.N()), g.b.aside(keyReferencePull)))
	perN := tapeStretchMM(lengthMM, 1, 0, r.SectionMM2, r.ModulusGPa)
	from := short(perN) + g.b.aside(keyModulus) + " by stretch"
	if r.Hangs {
		sag := sagMM(lengthMM, r.WeightNPerM, pullN)
		g.correct("sag of the tape", -sag, fmt.Sprintf("hangs free at %s N, %s N a metre", short(pullN), short(r.WeightNPerM)))
		perN += 2 * sag / pullN
		from += ", " + short(2*sag/pullN) + " by sag"
	}
	g.limits(r.PullError.N(), Term{Source: "pull on the tape", Unit: "N", Sens: perN, SensFrom: from})
}

// short prints a number for a person to follow.
func short(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }
