package wing

import (
	"fmt"
	"math"

	"example.org/linewright/engine/quantity"
)

// FallbackTwistDiameter is the effective diameter of two lines that are wound
// together, where nobody measured it. Common practice, no source.
const FallbackTwistDiameter = 2250 * quantity.Micrometre

// TwistSum is how much a line is shortened by being wound round another.
type TwistSum struct {
	LengthMM     float64  `json:"length_mm"`
	DiameterMM   float64  `json:"effective_diameter_mm"`
	Turns        float64  `json:"turns"`
	TwistedMM    float64  `json:"twisted_mm"`
	ShorteningMM float64  `json:"shortening_mm"`
	Source       string   `json:"diameter_source"`
	Notes        []string `json:"notes,omitempty"`
}

// Twist reckons L' = √(L² − (π·d·n)²) for lines wound together. A diameter of
// 0 takes the fallback. The error is a *SumError.
func Twist(length, diameter quantity.Length, turns quantity.Turns) (TwistSum, error) {
	source := asGiven
	if diameter == 0 {
		diameter, source = FallbackTwistDiameter, fallback
	}
	if !lineLong(length) {
		return TwistSum{}, refuse(fmt.Sprintf("a line of %s cannot be", length), fmt.Sprintf("give %d to %d mm", minLineMM, maxLineMM))
	}
	if diameter < 0 || diameter > 20*quantity.Millimetre {
		return TwistSum{}, refuse(fmt.Sprintf("an effective diameter of %s cannot be", diameter), "give the thickness of the two lines wound together, up to 20 mm, or none for the fallback")
	}
	around := math.Pi * diameter.MM() * turns.Float()
	if turns < 0 || around >= length.MM() {
		return TwistSum{}, refuse(fmt.Sprintf("%s cannot be wound into %s", turns, length), "count the turns from 0 up, along the whole line")
	}
	twisted := math.Sqrt((length.MM() - around) * (length.MM() + around))
	s := TwistSum{
		LengthMM: length.MM(), DiameterMM: diameter.MM(), Turns: turns.Float(), Source: source,
		TwistedMM: fromMM(twisted).MM(), ShorteningMM: fromMM(around * around / (length.MM() + twisted)).MM(),
	}
	if turns > 0 {
		s.Notes = []string{"a small shortening is no reason to leave a twist in: undo it"}
	}
	return s, nil
}

// Steps gives the sum term by term.
func (s TwistSum) Steps() []Step {
	return []Step{
		{"length L", showMM(s.LengthMM), asGiven},
		{"effective diameter d", showMM(s.DiameterMM), s.Source},
		{"turns n", showNumber(s.Turns, 3), asGiven},
		{"way around", showMM(math.Pi * s.DiameterMM * s.Turns), "π × d × n"},
		{"length as twisted", showMM(s.TwistedMM), "√(L² - way around²)"},
		{"shortening", showMM(s.ShorteningMM), "L - length as twisted"},
	}
}

// ThreadSum is how often the nut of a screw link turns.
type ThreadSum struct {
	ThreadMM float64 `json:"thread_mm"`
	PitchMM  float64 `json:"pitch_mm"`
	Turns    float64 `json:"turns"`
	Source   string  `json:"source"`
}

// ThreadTurns reckons turns = thread length / pitch. source is that of both;
// empty: as given. The error is a *SumError.
func ThreadTurns(thread, pitch quantity.Length, source string) (ThreadSum, error) {
	turns, ok := Link{Thread: thread, Pitch: pitch}.Turns()
	if !ok || thread > 50*quantity.Millimetre || pitch > 5*quantity.Millimetre {
		return ThreadSum{}, refuse(fmt.Sprintf("a thread of %s with a pitch of %s cannot be", thread, pitch), "give the thread that the closed nut covers, up to 50 mm, and its advance in one turn, up to 5 mm")
	}
	return ThreadSum{thread.MM(), pitch.MM(), turns, orGiven(source)}, nil
}

// Steps gives the sum term by term.
func (s ThreadSum) Steps() []Step {
	return []Step{
		{"thread covered by the closed nut", showMM(s.ThreadMM), s.Source},
		{"pitch", showMM(s.PitchMM), s.Source},
		{"turns", showNumber(s.Turns, 2), "thread / pitch"},
	}
}

// SpannerSum is the force at the end of a spanner for a closing torque.
type SpannerSum struct {
	TorqueNM float64 `json:"torque_nm"`
	RadiusMM float64 `json:"radius_mm"` // from the middle of the nut to the hand
	ForceN   float64 `json:"force_n"`
	Source   string  `json:"torque_source"`
}

// Spanner reckons force = torque / radius. source is that of the torque;
// empty: as given. The error is a *SumError.
func Spanner(torque quantity.Torque, radius quantity.Length, source string) (SpannerSum, error) {
	if torque <= 0 || torque > 50*quantity.NewtonMetre {
		return SpannerSum{}, refuse(fmt.Sprintf("a torque of %s cannot be", torque), "give the torque from the link's own sheet, up to 50 N·m")
	}
	if radius < 10*quantity.Millimetre || radius > quantity.Metre {
		return SpannerSum{}, refuse(fmt.Sprintf("a radius of %s cannot be", radius), "give the way from the middle of the nut to the hand, 10 to 1000 mm")
	}
	return SpannerSum{torque.NM(), radius.MM(), torque.NM() / (radius.MM() / 1000), orGiven(source)}, nil
}

// Steps gives the sum term by term.
func (s SpannerSum) Steps() []Step {
	return []Step{
		{"torque", showNumber(s.TorqueNM, 3) + " N·m", s.Source},
		{"radius", showMM(s.RadiusMM), asGiven},
		{"force on the spanner", showNumber(s.ForceN, 1) + " N", "torque / radius, radius in m"},
	}
}
