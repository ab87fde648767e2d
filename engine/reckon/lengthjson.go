package reckon

import (
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// judgedJSON is a verdict as --json prints it.
type judgedJSON struct {
	Sum                   string            `json:"sum"`
	Answer                bool              `json:"answer"`
	Verdict               metrology.Verdict `json:"verdict"`
	Words                 string            `json:"words"`
	DeviationMM           float64           `json:"deviation_mm"`
	ExpandedUncertaintyMM float64           `json:"expanded_uncertainty_mm"`
	LimitMM               float64           `json:"limit_mm"`
	LimitSource           string            `json:"limit_source"`
	ProbabilityInside     float64           `json:"probability_inside"`
	DecisionRule          string            `json:"decision_rule"`
}

func judged(id string, j metrology.Judgement, limit stated) judgedJSON {
	return judgedJSON{
		Sum: id, Answer: j.Verdict == metrology.Inside, Verdict: j.Verdict, Words: j.Words(),
		DeviationMM: j.Deviation.MM(), ExpandedUncertaintyMM: j.U.MM(), LimitMM: j.Limit.MM(), LimitSource: limit.source,
		ProbabilityInside: j.Probability, DecisionRule: j.Rule,
	}
}

// budgetJSON is how an expanded uncertainty came about.
type budgetJSON struct {
	StandardMM float64          `json:"standard_uncertainty_mm"`
	DoF        float64          `json:"degrees_of_freedom,omitempty"` // left out: infinite
	K          float64          `json:"coverage_factor"`
	Terms      []metrology.Term `json:"terms"`
	Rule       string           `json:"rule"`
}

// measuredJSON is a measurement.
type measuredJSON struct {
	LengthMM              float64                `json:"length_mm"`
	ExpandedUncertaintyMM float64                `json:"expanded_uncertainty_mm"`
	State                 metrology.State        `json:"state"`
	ReadingsMM            []float64              `json:"readings_mm"`
	MeanMM                float64                `json:"mean_mm"`
	SpreadMM              float64                `json:"spread_mm"`
	SpreadAllowedMM       float64                `json:"spread_allowed_mm"`
	Corrections           []metrology.Correction `json:"corrections"`
	budgetJSON
}

func measurement(m metrology.Measurement, rs []metrology.Reading, allowed quantity.Length) measuredJSON {
	out := measuredJSON{
		LengthMM: m.Value.MM(), ExpandedUncertaintyMM: m.U.MM(), State: m.State,
		MeanMM: m.Mean.MM(), SpreadMM: m.Spread.MM(), SpreadAllowedMM: allowed.MM(),
		Corrections: append([]metrology.Correction{}, m.Corrections...),
		budgetJSON:  budgetJSON{m.StandardMM, m.DoF, m.K, m.Terms, m.Rule},
	}
	for _, r := range rs {
		out.ReadingsMM = append(out.ReadingsMM, r.Value.MM())
	}
	return out
}

// benchJSON names the bench and what of it nobody gave.
type benchJSON struct {
	Bench    string   `json:"bench"`
	Default  bool     `json:"bench_default"`
	Fallback []string `json:"bench_fallback"`
}

func benchOf(b metrology.Bench) benchJSON {
	return benchJSON{b.Name, b.Default, append([]string{}, b.Fallback...)}
}

func lengthJSON(b metrology.Bench, t measured, m metrology.Measurement, j metrology.Judgement, rs []metrology.Reading, allowed quantity.Length, h help) any {
	return struct {
		judgedJSON
		NominalMM        float64      `json:"nominal_mm"`
		NominalSource    string       `json:"nominal_source"`
		Measurement      measuredJSON `json:"measurement"`
		ReadingsToDecide int          `json:"readings_to_decide,omitempty"`
		Helps            []helpJSON   `json:"helps,omitempty"`
		benchJSON
	}{
		judged("length", j, t.limit), t.expected.length.MM(), t.expected.source,
		measurement(m, rs, allowed), h.readings, h.json(), benchOf(b),
	}
}

// helpJSON is a change of the bench and what it would reach.
type helpJSON struct {
	Change                string  `json:"change"`
	ExpandedUncertaintyMM float64 `json:"expanded_uncertainty_mm"`
}

func (h help) json() []helpJSON {
	if h.outlook == nil {
		return nil
	}
	var out []helpJSON
	for _, c := range h.outlook.Helps {
		out = append(out, helpJSON{c.Change, c.U.MM()})
	}
	return out
}
