package tui

import "time"

// The gate lets an Enter through, or not. A key that is held down, a doubled
// line end or an instrument that types two values must not run on over a card
// that nobody has read:
//
//   - an Enter that follows a new card at once was typed before it was seen
//   - an Enter right after another one has to leave time to read the card, and
//     must not be one of a row, as a held key makes them
//
// Times are far above what a keyboard or an instrument leaves between two keys
// and below what a person needs to read a card.
type gate struct {
	drawn time.Time // when the card changed last
	last  time.Time // when the last key came
	enter bool      // the last key was an Enter
}

const (
	burst  = 150 * time.Millisecond
	repeat = 250 * time.Millisecond // the slowest repeat of a held key that is common
	read   = 700 * time.Millisecond // above the usual delay before a held key repeats
)

// turned notes that another card is on the screen.
func (g *gate) turned(now time.Time) { g.drawn = now }

// typed notes a key that is no Enter.
func (g *gate) typed(now time.Time) { g.last, g.enter = now, false }

// pass reports whether an Enter that comes now may act.
func (g *gate) pass(now time.Time) bool {
	ok := now.Sub(g.drawn) >= burst
	if g.enter {
		ok = now.Sub(g.drawn) >= read && now.Sub(g.last) >= repeat
	}
	g.last, g.enter = now, true
	return ok
}
