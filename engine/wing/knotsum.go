package wing

import (
	"fmt"
	"math"

	"example.org/linewright/engine/quantity"
)

// Knot is the sum for the move of a pulley between two named places. Where the
// plan does not say what must be left, the fallbacks stand with their source.
// The error is a *SumError where a place or a distance is not in the plan.
func (b *Brake) Knot(from, to string, tail quantity.Length, planSource string) (Knot, error) {
	distance, down, ok := b.Move(from, to)
	if !ok {
		return Knot{}, refuse(fmt.Sprintf("the plan has no distance between the pulley places %q and %q", from, to), "measure it on the wing and give it as a number")
	}
	k := Knot{Distance: distance, Down: down, Tail: tail, DistanceSource: planSource}
	keep := func(given, fallback Limit) (quantity.Length, string) {
		if given.Length == 0 {
			given = fallback
		}
		return given.Length, given.Source
	}
	k.LeastTail, k.LeastTailSource = keep(b.LeastTail, FallbackLeastTail)
	k.LeastFreePlay, k.LeastFreePlaySource = keep(b.LeastFreePlay, FallbackLeastFreePlay)
	return k, nil
}

// KnotSum is a Knot worked out. Shift is positive toward the tail.
type KnotSum struct {
	DistanceMM  float64 `json:"pulley_distance_mm"`
	PulleyDown  bool    `json:"pulley_down"`
	AngleDeg    float64 `json:"angle_deg"`
	ShiftMM     float64 `json:"shift_mm"`
	Direction   string  `json:"direction"`
	TailMM      float64 `json:"tail_mm"`
	TailAfterMM float64 `json:"tail_after_mm"`
	LeastTailMM float64 `json:"least_tail_mm"`
	MissingMM   float64 `json:"missing_mm"` // for the least tail; 0: long enough

	// FanChangeMM is by how much the way from the fan of the brake to the
	// pulley grows. PlayChangeMM is what the free play gains by the shift, and
	// KeepingShiftMM the shift that would leave it as it was.
	FanChangeMM    float64 `json:"fan_to_pulley_change_mm"`
	PlayChangeMM   float64 `json:"free_play_change_mm"`
	KeepingShiftMM float64 `json:"free_play_keeping_shift_mm"`

	FreePlayMM      *float64 `json:"free_play_mm,omitempty"` // as found; nil: not measured
	FreePlayAfterMM *float64 `json:"free_play_after_mm,omitempty"`
	LeastFreePlayMM float64  `json:"least_free_play_mm,omitempty"`

	Notes []string `json:"notes,omitempty"`

	knot Knot
}

// Sum works the knot out: free play after = free play − ΔD + shift, with ΔD the
// pulley's distance × cos of the angle, positive downward. The error is that
// of Check; beside a *ShortTail the sum is whole, so that both can be shown.
func (k Knot) Sum() (KnotSum, error) {
	err := k.Check()
	if _, short := err.(*ShortTail); err != nil && !short {
		return KnotSum{}, err
	}
	fan := k.fanChange()
	gain := k.Shift() - fan
	s := KnotSum{
		DistanceMM: k.Distance.MM(), PulleyDown: k.Down, AngleDeg: k.AngleDeg,
		ShiftMM: k.Shift().MM(), Direction: k.Direction(),
		TailMM: k.Tail.MM(), TailAfterMM: k.TailAfter().MM(), LeastTailMM: k.LeastTail.MM(), MissingMM: k.Missing().MM(),
		FanChangeMM: fan.MM(), PlayChangeMM: gain.MM(), KeepingShiftMM: fan.MM(),
		LeastFreePlayMM: k.LeastFreePlay.MM(), knot: k,
	}
	if k.FreePlay != nil {
		s.FreePlayMM, s.FreePlayAfterMM = new(k.FreePlay.MM()), new((*k.FreePlay + gain).MM())
	}
	s.Notes = k.notes(gain)
	return s, err
}

// fanChange is by how much the way from the fan to the pulley grows.
func (k Knot) fanChange() quantity.Length {
	return quantity.Length(math.Round(float64(k.Shift()) * math.Cos(k.AngleDeg*math.Pi/180)))
}

func (k Knot) notes(gain quantity.Length) []string {
	var notes []string
	note := func(format string, args ...any) { notes = append(notes, fmt.Sprintf(format, args...)) }
	switch {
	case gain < 0:
		note("the plain rule takes %s from the free play: the unsafe side; a knot moved by %s instead keeps it", -gain, k.fanChange().Abs())
	case gain > 0:
		note("the plain rule adds %s to the free play: the safe side", gain)
	case k.Distance > 0 && !k.Down && k.AngleDeg == 0:
		note("counted as parallel to the riser; a brake line at an angle leaves a little less free play when the pulley goes up: the unsafe side")
	}
	if k.FreePlay == nil {
		note("free play not measured: measure it inflated, handle at the pulley, before and after")
		return notes
	}
	after := *k.FreePlay + gain
	switch {
	case after <= 0:
		note("no free play is left: the wing would fly braked")
	case after < k.LeastFreePlay:
		note("the free play left is %s short of the least, %s", k.LeastFreePlay-after, k.LeastFreePlay)
	}
	return notes
}

// Steps gives the sum term by term.
func (s KnotSum) Steps() []Step {
	k := s.knot
	way := "up"
	if s.PulleyDown {
		way = "down"
	}
	steps := []Step{
		{"pulley " + way, showMM(s.DistanceMM), orGiven(k.DistanceSource)},
		{"shift of the knot", showMM(math.Abs(s.ShiftMM)) + ", " + s.Direction, "plain rule: as far as the pulley; " + practice},
		{"tail as found", showMM(s.TailMM), asGiven},
		{"tail after", showMM(s.TailAfterMM), "tail - shift, shift positive toward the tail"},
		{"least tail", showMM(s.LeastTailMM), orGiven(k.LeastTailSource)},
		{"missing", showMM(s.MissingMM), "least tail - tail after, if above 0"},
		{"angle of the brake line to the riser", showNumber(s.AngleDeg, 3) + "°", angleSource(s.AngleDeg)},
		{"fan to pulley grows by", showMM(s.FanChangeMM), "pulley distance × cos of the angle, down positive"},
		{"free play changes by", showMM(s.PlayChangeMM), "shift - growth"},
	}
	if s.FreePlayMM == nil {
		return steps
	}
	steps = append(steps,
		Step{"free play as found", showMM(*s.FreePlayMM), asGiven},
		Step{"free play after", showMM(*s.FreePlayAfterMM), "free play - growth + shift"})
	if s.LeastFreePlayMM > 0 {
		steps = append(steps, Step{"least free play", showMM(s.LeastFreePlayMM), orGiven(k.LeastFreePlaySource)})
	}
	return steps
}

func angleSource(deg float64) string {
	if deg == 0 {
		return "plain rule: parallel"
	}
	return asGiven
}
