package wing

import (
	"fmt"

	"example.org/linewright/engine/quantity"
)

// Turns is how often the nut of a closed screw link turns before it comes off:
// thread length over pitch. It is false where the plan does not give both.
func (l Link) Turns() (float64, bool) {
	if l.Pitch <= 0 || l.Thread <= 0 {
		return 0, false
	}
	return float64(l.Thread) / float64(l.Pitch), true
}

// Move gives the way of a brake pulley between two named places: the distance,
// and whether it goes down. It is false where a place or a distance between
// them is not in the plan.
func (b *Brake) Move(from, to string) (distance quantity.Length, down, ok bool) {
	i, j := b.pulley(from), b.pulley(to)
	if i < 0 || j < 0 {
		return 0, false, false
	}
	down = j > i
	for n := min(i, j) + 1; n <= max(i, j); n++ {
		if b.Pulleys[n].Below == 0 {
			return 0, down, false
		}
		distance += b.Pulleys[n].Below
	}
	return distance, down, true
}

func (b *Brake) pulley(name string) int {
	for i, p := range b.Pulleys {
		if p.Name == name {
			return i
		}
	}
	return -1
}

// Knot is the sum for a brake knot when its pulley moves: by the plain rule of
// the trade the knot moves by the same distance, so that the handle's free
// play stays (common practice, no source). Pulley down makes the working line
// longer: the knot goes toward the tail. Pulley up: away from the tail.
// It counts one side; each side has its own distance.
type Knot struct {
	Distance  quantity.Length // between the two pulley places
	Down      bool            // the pulley goes down
	Tail      quantity.Length // beyond the knot, as found
	LeastTail quantity.Length // beyond the knot, when done

	// AngleDeg is the angle between brake line and riser, from 0 to below 90.
	// It changes what is said of the free play, never the shift. At 0 the line
	// counts as parallel to the riser, which is the plain rule.
	AngleDeg      float64
	FreePlay      *quantity.Length // hands off to the first movement of the trailing edge, as found; nil: not measured
	LeastFreePlay quantity.Length  // when done; 0: not given

	DistanceSource      string // empty: as given
	LeastTailSource     string // empty: as given
	LeastFreePlaySource string // empty: as given
}

// What a brake must keep where neither plan nor manual says it. Whoever uses
// one shows its source, which says that it is a fallback.
var (
	FallbackLeastTail     = Limit{50 * quantity.Millimetre, fallback}
	FallbackLeastFreePlay = Limit{100 * quantity.Millimetre, fallback}
)

// KnotFor is the Knot of a pulley that moves between two heights, both taken
// the same way from the foot of the riser.
func KnotFor(from, to, tail, leastTail quantity.Length) Knot {
	return Knot{Distance: (to - from).Abs(), Down: to < from, Tail: tail, LeastTail: leastTail}
}

// Shift is the way of the knot along the line, positive toward the tail.
func (k Knot) Shift() quantity.Length {
	if k.Down {
		return k.Distance
	}
	return -k.Distance
}

// Direction says the way of the knot in words.
func (k Knot) Direction() string {
	switch {
	case k.Shift() > 0:
		return "toward the tail"
	case k.Shift() < 0:
		return "away from the tail"
	}
	return "stays"
}

// TailAfter is what is left beyond the moved knot; negative if the line ends
// before it.
func (k Knot) TailAfter() quantity.Length { return k.Tail - k.Shift() }

// Missing is how much the line is too short for the least tail; 0 if it is
// long enough.
func (k Knot) Missing() quantity.Length { return max(0, k.LeastTail-k.TailAfter()) }

// Check refuses lengths below nothing, an angle that cannot be, and a line that
// is too short, with a *ShortTail. It belongs before anything is undone.
func (k Knot) Check() error {
	if k.Distance < 0 || k.Tail < 0 || k.LeastTail < 0 {
		return refuse("a distance or tail is below nothing", "give distances and tails as lengths from 0 up")
	}
	if k.FreePlay != nil && *k.FreePlay < 0 || k.LeastFreePlay < 0 {
		return refuse("a free play is below nothing", "give free play as a length from 0 up; a braked wing has 0")
	}
	if !(k.AngleDeg >= 0 && k.AngleDeg < 90) {
		return refuse(fmt.Sprintf("an angle of %v° between brake line and riser cannot be", k.AngleDeg), "give 0 to below 90 degrees")
	}
	if m := k.Missing(); m > 0 {
		return &ShortTail{Knot: k, Missing: m}
	}
	return nil
}

// ShortTail is the refusal of a knot whose line is too short.
type ShortTail struct {
	Knot    Knot
	Missing quantity.Length
}

func (e *ShortTail) Error() string {
	const cure = "\nfit a longer brake main line, or leave the pulley where it is"
	left := e.Knot.TailAfter()
	if left < 0 {
		return fmt.Sprintf("the line is %s too short: it would end %s before the new knot, at least %s of tail is needed", e.Missing, -left, e.Knot.LeastTail) + cure
	}
	return fmt.Sprintf("the line is %s too short: a tail of %s would be left, at least %s is needed", e.Missing, left, e.Knot.LeastTail) + cure
}
