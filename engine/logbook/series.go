package logbook

import (
	"fmt"
	"slices"
)

// Series is a line or path as it was measured over time: in one state, and held
// against the same, so that its deviations can stand beside one another.
type Series struct {
	Of             Place
	State, Against string
	Lengths        []LengthAt // in the order in which they were measured; one at least
	New            []FittedIn // the lines in it that were renewed, in the order of their dates
}

// Series lists what was measured of a place, series by series. A length that
// there was nothing to hold against is in none.
func (b Book) Series(of Place) []Series {
	var out []Series
	for _, l := range b.Lengths[of] {
		if l.Expected == 0 {
			continue
		}
		i := slices.IndexFunc(out, func(s Series) bool { return s.State == l.State && s.Against == l.Against })
		if i < 0 {
			i, out = len(out), append(out, Series{Of: of, State: l.State, Against: l.Against})
		}
		out[i].Lengths = append(out[i].Lengths, l)
	}
	for i := range out {
		for _, f := range b.Fitted {
			if of.measures(f) {
				out[i].New = append(out[i].New, f)
			}
		}
	}
	return out
}

// String names a series: "C1.2 left, installed, against Twin, on the wing".
func (s Series) String() string {
	if s.State == pathState {
		return fmt.Sprintf("%s, against %s", s.Of, s.Against)
	}
	return fmt.Sprintf("%s, %s, against %s", s.Of, s.State, s.Against)
}

// Last is the length that was measured last.
func (s Series) Last() LengthAt { return s.Lengths[len(s.Lengths)-1] }
