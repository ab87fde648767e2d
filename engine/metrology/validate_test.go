package metrology

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestBenchesOfTheTestsAreValid(t *testing.T) {
	budget := DefaultBench()
	budget.Rule = RuleBudget
	for _, b := range []Bench{DefaultBench(), budget, goodBench(), badBench()} {
		if err := b.Validate(); err != nil {
			t.Errorf("%s: %v", b.Name, err)
		}
	}
}

func TestDefaultBenchSaysThatItIsOne(t *testing.T) {
	b := DefaultBench()
	if !b.Default || b.Note == "" || b.Rule != RuleBudget {
		t.Errorf("%+v", b)
	}
}

// Each key that is left out or absurd is named; a zero is never taken for a
// perfect instrument.
func TestValidateNamesTheKey(t *testing.T) {
	for _, c := range []struct {
		key    string
		change func(*Bench)
	}{
		{"rule", func(b *Bench) { b.Rule = "other" }},
		{"name", func(b *Bench) { b.Name = "" }},
		{"name", func(b *Bench) { b.Name = "a\x1b[31m" }},
		{"name", func(b *Bench) { b.Name = "a\xff" }},
		{"name", func(b *Bench) { b.Name = "\ufffd" }},
		{"name", func(b *Bench) { b.Name = strings.Repeat(".", 21) }},
		{"note", func(b *Bench) { b.Note = "a\nb" }},
		{"fallback", func(b *Bench) { b.Fallback = []string{"pull_n", "a\x1b[31m"} }},
		{"tape_class", func(b *Bench) { b.TapeClass = "" }},
		{"calibration", func(b *Bench) { b.TapeClass = ClassCalibrated }},
		{"calibration", func(b *Bench) { b.Calibration = &Calibration{U: 300, Date: "x"} }},
		{"graduation_mm", func(b *Bench) { b.Graduation = 0 }},
		{"pull_n", func(b *Bench) { b.Pull = 0 }},
		{"tape_material", func(b *Bench) { b.TapeMaterial = "" }},
		{"tape_material", func(b *Bench) { b.TapeMaterial, b.TapeExpansionPerC = "a\x00", 1e-5 }},
		{"tape_expansion_per_c", func(b *Bench) { b.TapeExpansionPerC = math.NaN() }},
		{"tape_expansion_per_c", func(b *Bench) { b.TapeExpansionPerC = 1 }},
		{"pull_how", func(b *Bench) { b.PullHow = "" }},
		{"pull_error_n", func(b *Bench) { b.PullError = 0 }},
		{"pin_mm", func(b *Bench) { b.Pin = -1 }},
		{"air_c", func(b *Bench) { b.AirC = math.NaN() }},
		{"air_c", func(b *Bench) { b.AirC = math.Inf(1) }},
		{"air_error_c", func(b *Bench) { b.AirErrorC = 0 }},
		{"air_error_c", func(b *Bench) { b.AirErrorC = math.NaN() }},
		{"repeatability_mm", func(b *Bench) { b.Repeatability = 0 }},
		{"repeatability_dof", func(b *Bench) { b.RepeatabilityDoF = 0 }},
		{"repeatability_dof", func(b *Bench) { b.RepeatabilityDoF = 8.9 }},
		{"repeatability_dof", func(b *Bench) { b.RepeatabilityDoF = math.Inf(1) }},
		{"calibration.error_mm_per_m", func(b *Bench) { calibrate(b).ErrorUMPerM = math.NaN() }},
		{"calibration.u_mm", func(b *Bench) { calibrate(b).U = 0 }},
		{"calibration.date", func(b *Bench) { calibrate(b).Date = "" }},
		{"balance_check", func(b *Bench) { b.Balance, b.PullHow = checked(), PullHand }},
		{"balance_check.known_n", func(b *Bench) { withBalance(b).Known = 0 }},
		{"balance_check.shown_n", func(b *Bench) { withBalance(b).Shown = 0 }},
		{"balance_check.shown_n", func(b *Bench) { withBalance(b).Shown = 900000 }},
		{"balance_check.date", func(b *Bench) { withBalance(b).Date = "\x07" }},
		{"tape_run.pull_n", func(b *Bench) { running(b).Pull = 0 }},
		{"tape_run.pull_error_n", func(b *Bench) { running(b).PullError = 0 }},
		{"tape_run.reference_pull_n", func(b *Bench) { running(b).ReferencePull = 0 }},
		{"tape_run.weight_n_per_m", func(b *Bench) { r := running(b); r.Hangs, r.WeightNPerM = true, math.NaN() }},
		{"tape_run.section_mm2", func(b *Bench) { running(b).SectionMM2 = 0 }},
		{"tape_run.modulus_gpa", func(b *Bench) { running(b).ModulusGPa = math.Inf(1) }},
	} {
		b := goodBench()
		c.change(&b)
		err := b.Validate()
		var refused *Error
		if !errors.As(err, &refused) || refused.Code != CodeBench || refused.A != c.key || refused.B == "" {
			t.Errorf("%s: got %v", c.key, err)
		}
	}
}

func calibrate(b *Bench) *Calibration {
	b.TapeClass = ClassCalibrated
	b.Calibration = &Calibration{ErrorUMPerM: 120, U: 300, Date: "2026-03-01"}
	return b.Calibration
}

func checked() *BalanceCheck {
	return &BalanceCheck{Known: 50000, Shown: 52000, Date: "2026-03-01"}
}

func withBalance(b *Bench) *BalanceCheck {
	b.PullHow, b.Balance = PullBalance, checked()
	return b.Balance
}

func running(b *Bench) *TapeRun {
	b.TapeRun = &TapeRun{Pull: 20000, PullError: 5000, ReferencePull: 50000, WeightNPerM: 0.13, SectionMM2: 2.6, ModulusGPa: 200}
	return b.TapeRun
}

func TestObjectIsChecked(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Object)
		want   Code
	}{
		{"strength below zero", func(o *Object) { o.Strength = -1 }, CodeForce},
		{"pull of the plan below zero", func(o *Object) { o.PlanPull = -1 }, CodeForce},
		{"strength in the chain", func(o *Object) { o.Chain = []Segment{{Length: 1000, Strength: -1}} }, CodeForce},
		{"length in the chain", func(o *Object) { o.Chain = []Segment{{Length: 0, Strength: 1}} }, CodeReading},
		{"state", func(o *Object) { o.State = "" }, CodeState},
	} {
		o := goodObject()
		c.change(&o)
		if _, err := Evaluate(o, readings(4205000), goodBench()); codeOf(err) != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}
