package wing

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"pgregory.net/rapid"
)

// 135 mm at 15° make 4.6 mm: arithmetic, 135·(1 − cos 15°). The plain rule takes
// them when the pulley goes up and adds them when it goes down.
func TestKnotAtAnAngle(t *testing.T) {
	k := Knot{Distance: 135 * mm, Tail: 60 * mm, LeastTail: 50 * mm, AngleDeg: 15, FreePlay: new(120 * mm), LeastFreePlay: 120 * mm}
	up, err := k.Sum()
	equal(t, "up error", err, nil)
	equal(t, "up, change", up.PlayChangeMM, -4.6)
	equal(t, "up, play", *up.FreePlayAfterMM, 115.4)
	equal(t, "up, keeping", up.KeepingShiftMM, -130.4)
	equal(t, "up, shift", up.ShiftMM, -135)
	equal(t, "up, notes", strings.Join(up.Notes, "\n"), "the plain rule takes 4.6 mm from the free play: the unsafe side; a knot moved by 130.4 mm instead keeps it\nthe free play left is 4.6 mm short of the least, 120 mm")
	golden(t, "testdata/sums/knot.txt", lines(up.Steps()))
	k.Down, k.Tail = true, 185*mm
	down, err := k.Sum()
	equal(t, "down error", err, nil)
	equal(t, "down, change", down.PlayChangeMM, 4.6)
	equal(t, "down, notes", strings.Join(down.Notes, "\n"), "the plain rule adds 4.6 mm to the free play: the safe side")
	k.FreePlay, k.LeastFreePlay = new(quantity.Length), 0
	k.Down = false
	gone, err := k.Sum()
	equal(t, "gone error", err, nil)
	equal(t, "gone", gone.Notes[1], "no free play is left: the wing would fly braked")
}

func TestKnotByThePlainRule(t *testing.T) {
	s, err := Knot{Distance: 135 * mm, Tail: 60 * mm}.Sum()
	equal(t, "error", err, nil)
	equal(t, "notes", strings.Join(s.Notes, "\n"), "counted as parallel to the riser; a brake line at an angle leaves a little less free play when the pulley goes up: the unsafe side\nfree play not measured: measure it inflated, handle at the pulley, before and after")
	data, err := json.Marshal(s)
	equal(t, "json error", err, nil)
	equal(t, "json", strings.SplitAfter(string(data), ",\"notes")[0], `{"pulley_distance_mm":135,"pulley_down":false,"angle_deg":0,"shift_mm":-135,"direction":"away from the tail","tail_mm":60,"tail_after_mm":195,"least_tail_mm":0,"missing_mm":0,"fan_to_pulley_change_mm":-135,"free_play_change_mm":0,"free_play_keeping_shift_mm":-135,"notes`)
}

func TestKnotSumBesideTheRefusal(t *testing.T) {
	s, err := Knot{Distance: 135 * mm, Down: true, Tail: 170 * mm, LeastTail: 50 * mm}.Sum()
	var short *ShortTail
	equal(t, "refused", errors.As(err, &short), true)
	equal(t, "missing", s.MissingMM, 15)
	equal(t, "tail after", s.TailAfterMM, 35)
}

func TestKnotRefuses(t *testing.T) {
	for _, angle := range []float64{-1, 90, math.NaN(), math.Inf(1)} {
		_, err := Knot{AngleDeg: angle}.Sum()
		refusal(t, err)
	}
	_, err := Knot{FreePlay: new(-mm)}.Sum()
	equal(t, "free play", refusal(t, err), "a free play is below nothing")
	_, err = Knot{Distance: -mm}.Sum()
	equal(t, "distance", refusal(t, err), "a distance or tail is below nothing")
}

func TestKnotOfThePlan(t *testing.T) {
	p := parse(t, small(t))
	k, err := p.Brake.Knot("high", "low", 250*mm, p.Source.Text)
	equal(t, "error", err, nil)
	equal(t, "shift", k.Shift(), 135500)
	equal(t, "least tail", k.LeastTailSource, "invented")
	equal(t, "least play", k.LeastFreePlay, 100*mm)
	equal(t, "least play source", k.LeastFreePlaySource, "fallback: common practice, no source")
	_, err = p.Brake.Knot("high", "High", 250*mm, "")
	equal(t, "no place", refusal(t, err), `the plan has no distance between the pulley places "high" and "High"`)
}

// Whatever the angle, the keeping shift leaves the free play as it was, and the
// plain rule is on the unsafe side only when the pulley goes up.
func TestKnotUnsafeSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Knot{
			Distance: quantity.Length(rapid.Int64Range(0, 1e6).Draw(t, "distance")),
			Down:     rapid.Bool().Draw(t, "down"),
			Tail:     2e6,
			AngleDeg: rapid.Float64Range(0, 89).Draw(t, "angle"),
			FreePlay: new(quantity.Length(2e6)),
		}
		s, err := k.Sum()
		if err != nil {
			t.Fatal(err)
		}
		if kept := *s.FreePlayMM - s.FanChangeMM + s.KeepingShiftMM; math.Abs(kept-*s.FreePlayMM) > 1e-9 {
			t.Fatalf("not kept: %v", kept)
		}
		if k.Down && s.PlayChangeMM < 0 || !k.Down && s.PlayChangeMM > 0 {
			t.Fatalf("%+v", s)
		}
		if math.Abs(*s.FreePlayAfterMM-(*s.FreePlayMM-s.FanChangeMM+s.ShiftMM)) > 1e-9 {
			t.Fatalf("%+v", s)
		}
	})
}
