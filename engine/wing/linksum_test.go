package wing

import (
	"encoding/json"
	"math"
	"testing"

	"example.org/linewright/engine/quantity"
	"pgregory.net/rapid"
)

// By hand: 10 turns at 2.25 mm make π·22.5 = 70.686 mm around; √(7000² − 70.686²)
// = 6999.643. Few turns do not matter, 60 turns take 12.9 mm.
func TestTwist(t *testing.T) {
	s, err := Twist(7000*mm, 0, 10*quantity.Turn)
	equal(t, "error", err, nil)
	equal(t, "twisted", s.TwistedMM, 6999.643)
	equal(t, "shortening", s.ShorteningMM, 0.357)
	golden(t, "testdata/sums/twist.txt", lines(s.Steps()))
	many, err := Twist(7000*mm, 2250, 60*quantity.Turn)
	equal(t, "many error", err, nil)
	near(t, "many", many.ShorteningMM, 12.86, 0.01)
	equal(t, "given", many.Source, "as given")
	equal(t, "notes", many.Notes[0], "a small shortening is no reason to leave a twist in: undo it")
	none, err := Twist(7000*mm, 0, 0)
	equal(t, "none error", err, nil)
	equal(t, "none", none.ShorteningMM, 0)
	equal(t, "none, notes", len(none.Notes), 0)
}

// Twisted length and way around are the sides of a right triangle.
func TestTwistIsATriangle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := quantity.Length(rapid.Int64Range(50e3, 12e6).Draw(t, "length"))
		diameter := quantity.Length(rapid.Int64Range(1, 20e3).Draw(t, "diameter"))
		turns := quantity.Turns(rapid.Int64Range(0, 100e3).Draw(t, "turns"))
		s, err := Twist(length, diameter, turns)
		around := math.Pi * diameter.MM() * turns.Float()
		if err != nil {
			if around < length.MM() {
				t.Fatal(err)
			}
			return
		}
		if math.Abs(s.LengthMM-s.ShorteningMM-s.TwistedMM) > 0.0011 {
			t.Fatalf("%+v", s)
		}
		if math.Abs(math.Hypot(s.LengthMM-s.ShorteningMM, around)-s.LengthMM) > 0.001 {
			t.Fatalf("%+v", s)
		}
	})
}

// Arithmetic: 3 mm of thread at 0.6 mm are 5 turns; 1 N·m at 80 mm is 12.5 N.
func TestThreadAndSpanner(t *testing.T) {
	thread, err := ThreadTurns(3*mm, 600, "the link's sheet")
	equal(t, "thread error", err, nil)
	equal(t, "turns", thread.Turns, 5)
	spanner, err := Spanner(quantity.NewtonMetre, 80*mm, "the link's sheet")
	equal(t, "spanner error", err, nil)
	equal(t, "force", spanner.ForceN, 12.5)
	golden(t, "testdata/sums/link.txt", lines(append(thread.Steps(), spanner.Steps()...)))
	data, err := json.Marshal(spanner)
	equal(t, "json error", err, nil)
	equal(t, "json", string(data), `{"torque_nm":1,"radius_mm":80,"force_n":12.5,"torque_source":"the link's sheet"}`)
}

func TestLinkSumsRefuse(t *testing.T) {
	turn := quantity.Turn
	for want, try := range map[string]func() error{
		"a line of 49 mm cannot be":                        func() error { _, err := Twist(49*mm, 0, turn); return err },
		"an effective diameter of 21 mm cannot be":         func() error { _, err := Twist(5000*mm, 21*mm, turn); return err },
		"an effective diameter of -1 mm cannot be":         func() error { _, err := Twist(5000*mm, -mm, turn); return err },
		"1000 turns cannot be wound into 5000 mm":          func() error { _, err := Twist(5000*mm, 0, 1000*turn); return err },
		"-1 turns cannot be wound into 5000 mm":            func() error { _, err := Twist(5000*mm, 0, -turn); return err },
		"a thread of 3 mm with a pitch of 0 mm cannot be":  func() error { _, err := ThreadTurns(3*mm, 0, ""); return err },
		"a thread of 51 mm with a pitch of 1 mm cannot be": func() error { _, err := ThreadTurns(51*mm, mm, ""); return err },
		"a torque of 0 N·m cannot be":                      func() error { _, err := Spanner(0, 80*mm, ""); return err },
		"a torque of 51 N·m cannot be":                     func() error { _, err := Spanner(51*quantity.NewtonMetre, 80*mm, ""); return err },
		"a radius of 9 mm cannot be":                       func() error { _, err := Spanner(1, 9*mm, ""); return err },
		"a radius of 1001 mm cannot be":                    func() error { _, err := Spanner(1, 1001*mm, ""); return err },
	} {
		equal(t, "refusal", refusal(t, try()), want)
	}
}
