package quantity

import (
	"errors"
	"math"
	"testing"
)

func TestString(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{Length(4205000).String(), "4205 mm"},
		{Length(4205500).String(), "4205.5 mm"},
		{Length(4205123).String(), "4205.123 mm"},
		{Length(1).String(), "0.001 mm"},
		{Length(0).String(), "0 mm"},
		{Length(-500).String(), "-0.5 mm"},
		{Length(-2500).String(), "-2.5 mm"},
		{Length(math.MinInt64).String(), "-9223372036854775.808 mm"},
		{(50 * Newton).String(), "50 N"},
		{Torque(900).String(), "0.9 N·m"},
		{Turns(5250).String(), "5.25 turns"},
		{Turn.String(), "1 turn"},
		{Turns(0).String(), "0 turns"},
		{Count(-3).String(), "-3"},
		{Value{KindLength, 16 * int64(Centimetre)}.String(), "160 mm"},
		{Value{KindForce, 50000}.String(), "50 N"},
		{Value{KindTorque, 900}.String(), "0.9 N·m"},
		{Value{KindTurns, 5250}.String(), "5.25 turns"},
		{Value{KindCount, 4}.String(), "4"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestFloats(t *testing.T) {
	for _, c := range []struct{ got, want float64 }{
		{Length(4205500).MM(), 4205.5},
		{Force(50000).N(), 50},
		{Torque(900).NM(), 0.9},
		{Turns(5250).Float(), 5.25},
		{Count(3).Float(), 3},
		{Value{KindLength, 4205500}.Float(), 4205.5},
		{Value{KindCount, 3}.Float(), 3},
	} {
		if c.got != c.want {
			t.Errorf("got %v, want %v", c.got, c.want)
		}
	}
}

func TestAbs(t *testing.T) {
	if got := Length(-2500).Abs(); got != 2500 {
		t.Errorf("|-2500| = %d", got)
	}
	if got := Length(2500).Abs(); got != 2500 {
		t.Errorf("|2500| = %d", got)
	}
}

func TestFromFloatRoundsTheDecimalHalfAwayFromZero(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		want Length
	}{
		{4205, 4205000},
		{4205.5, 4205500},
		// The half that a person writes, though the binary number nearest to
		// it lies a little to one side.
		{0.0005, 1},
		{0.0015, 2},
		{4205.0005, 4205001},
		{-4205.0005, -4205001},
		{0.00049999, 0},
		{5e-324, 0},
		{math.Copysign(0, -1), 0},
		{Max / 1000, Max / 1000 * 1000},
	} {
		got, err := LengthFromMM(c.mm)
		if err != nil || got != c.want {
			t.Errorf("LengthFromMM(%v) = %d, %v, want %d", c.mm, got, err, c.want)
		}
	}
}

func TestFromFloatOtherKinds(t *testing.T) {
	force, err := ForceFromN(49.03325)
	if err != nil || force != 49033 {
		t.Errorf("ForceFromN = %d, %v", force, err)
	}
	torque, err := TorqueFromNM(0.9)
	if err != nil || torque != 900 {
		t.Errorf("TorqueFromNM = %d, %v", torque, err)
	}
	turns, err := TurnsFromFloat(5.25)
	if err != nil || turns != 5250 {
		t.Errorf("TurnsFromFloat = %d, %v", turns, err)
	}
}

func TestFromFloatRefuses(t *testing.T) {
	for _, x := range []float64{
		math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -math.MaxFloat64, 1e13, -1e13,
	} {
		got, err := LengthFromMM(x)
		var refused *RangeError
		if !errors.As(err, &refused) {
			t.Errorf("LengthFromMM(%v) = %d, %v, want a *RangeError", x, got, err)
			continue
		}
		if got != 0 {
			t.Errorf("LengthFromMM(%v) returned %d beside its error", x, got)
		}
	}
}

func TestRangeErrorText(t *testing.T) {
	_, err := ForceFromN(math.NaN())
	var refused *RangeError
	if !errors.As(err, &refused) {
		t.Fatalf("got %v", err)
	}
	if got, want := refused.Error(), "NaN cannot be a force"; got != want {
		t.Errorf("Error() = %q, want %q", got, want)
	}
	if got, want := refused.Cure(), "give a finite number of newtons, not beyond 9007199254740.991 N"; got != want {
		t.Errorf("Cure() = %q, want %q", got, want)
	}
}

func TestKindUnit(t *testing.T) {
	want := map[Kind]string{KindLength: "mm", KindForce: "N", KindTorque: "N·m", KindTurns: "turns", KindCount: ""}
	for kind, unit := range want {
		if !kind.Valid() || kind.Unit() != unit {
			t.Errorf("%s: valid %t, unit %q, want %q", kind, kind.Valid(), kind.Unit(), unit)
		}
	}
	if Kind("mass").Valid() {
		t.Error("a mass is no kind")
	}
}
