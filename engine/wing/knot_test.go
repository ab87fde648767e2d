package wing

import (
	"errors"
	"testing"

	"example.org/linewright/engine/quantity"
	"pgregory.net/rapid"
)

const mm = quantity.Millimetre

// Pulleys 160 mm apart: the knot moves 160 mm; pulley down, knot toward the
// tail; pulley up, away from it. Common practice, no source.
func TestKnotMovesWithThePulley(t *testing.T) {
	down := KnotFor(400*mm, 240*mm, 250*mm, 50*mm)
	equal(t, "down", down.Shift(), 160*mm)
	equal(t, "down, direction", down.Direction(), "toward the tail")
	equal(t, "down, tail", down.TailAfter(), 90*mm)
	equal(t, "down", down.Check(), nil)
	up := KnotFor(240*mm, 400*mm, 60*mm, 50*mm)
	equal(t, "up", up.Shift(), -160*mm)
	equal(t, "up, direction", up.Direction(), "away from the tail")
	equal(t, "up, tail", up.TailAfter(), 220*mm)
	equal(t, "up", up.Check(), nil)
	equal(t, "same place", KnotFor(400*mm, 400*mm, 60*mm, 50*mm).Direction(), "stays")
}

func TestKnotRefusesAShortLine(t *testing.T) {
	k := Knot{Distance: 135 * mm, Down: true, Tail: 170 * mm, LeastTail: 50 * mm}
	var short *ShortTail
	if !errors.As(k.Check(), &short) {
		t.Fatal(k.Check())
	}
	equal(t, "missing", short.Missing, 15*mm)
	equal(t, "text", short.Error(), "the line is 15 mm too short: a tail of 35 mm would be left, at least 50 mm is needed\nfit a longer brake main line, or leave the pulley where it is")
	k.Tail = 185 * mm
	equal(t, "just long enough", k.Check(), nil)
	k.Tail--
	equal(t, "a micrometre short", k.Missing(), 1)
	k.Tail = -1
	if err := k.Check(); err == nil || errors.As(err, &short) {
		t.Error("a tail below nothing: ", err)
	}
	k = Knot{Distance: 135 * mm, Down: true, Tail: 100 * mm, LeastTail: 50 * mm}
	equal(t, "the line ends before the knot", k.Check().Error(), "the line is 85 mm too short: it would end 35 mm before the new knot, at least 50 mm of tail is needed\nfit a longer brake main line, or leave the pulley where it is")
}

// There and back is nothing moved, on either side and by each side's own distance.
func TestKnotThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := quantity.Length(rapid.Int64Range(0, 1e6).Draw(t, "from"))
		to := quantity.Length(rapid.Int64Range(0, 1e6).Draw(t, "to"))
		tail := quantity.Length(rapid.Int64Range(0, 1e6).Draw(t, "tail"))
		there := KnotFor(from, to, tail, 0)
		back := KnotFor(to, from, there.TailAfter(), 0)
		if there.Shift()+back.Shift() != 0 || back.TailAfter() != tail {
			t.Fatalf("%+v, %+v", there, back)
		}
	})
}

func TestPulleyMoves(t *testing.T) {
	b := parse(t, small(t)).Brake
	for _, c := range []struct {
		from, to string
		mm       float64
		down, ok bool
	}{
		{"high", "mid", 60, true, true},
		{"high", "low", 135.5, true, true},
		{"low", "mid", 75.5, false, true},
		{"mid", "mid", 0, false, true},
		{"high", "top", 0, false, false},
	} {
		d, down, ok := b.Move(c.from, c.to)
		if d.MM() != c.mm || down != c.down || ok != c.ok {
			t.Errorf("%s to %s: %s %v %v", c.from, c.to, d, down, ok)
		}
	}
	b.Pulleys[1].Below = 0 // not in the plan
	if _, down, ok := b.Move("high", "low"); ok || !down {
		t.Error("a distance was made up, or the direction lost")
	}
}

// Thread length over pitch: arithmetic.
func TestTurns(t *testing.T) {
	turns, ok := Link{Pitch: 600, Thread: 3 * mm}.Turns()
	equal(t, "turns", turns, 5)
	equal(t, "known", ok, true)
	for _, l := range []Link{{}, {Pitch: 600}, {Thread: 3 * mm}} {
		_, ok := l.Turns()
		equal(t, "known", ok, false)
	}
}
