// Package quantity holds the numbers of the bench as whole counts of a small
// base unit, so that a value is rounded once, when it is typed, and every sum
// after that is exact.
//
//	Length  whole micrometres
//	Force   whole millinewtons
//	Torque  whole millinewton metres
//	Turns   whole thousandths of a turn
//	Count   whole things
package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Max is the greatest number of base units that is taken, 2^53 - 1. Beyond it
// canonical JSON (RFC 8785) would round an integer without saying so.
const Max = 1<<53 - 1

// Length is a length in whole micrometres.
type Length int64

// Force is a force in whole millinewtons.
type Force int64

// Torque is a torque in whole millinewton metres.
type Torque int64

// Turns is a number of turns in whole thousandths.
type Turns int64

// Count is a number of whole things.
type Count int64

// Units to multiply by.
const (
	Micrometre Length = 1
	Millimetre Length = 1000
	Centimetre Length = 10 * Millimetre
	Metre      Length = 1000 * Millimetre

	Millinewton Force = 1
	Newton      Force = 1000

	MillinewtonMetre Torque = 1
	NewtonMetre      Torque = 1000

	Turn Turns = 1000
)

// MM returns the length in millimetres.
func (l Length) MM() float64 { return float64(l) / 1000 }

// N returns the force in newtons.
func (f Force) N() float64 { return float64(f) / 1000 }

// NM returns the torque in newton metres.
func (t Torque) NM() float64 { return float64(t) / 1000 }

// Float returns the number of turns.
func (t Turns) Float() float64 { return float64(t) / 1000 }

// Float returns the count.
func (c Count) Float() float64 { return float64(c) }

// Abs returns the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

func (l Length) String() string { return thousandths(int64(l)) + " mm" }
func (f Force) String() string  { return thousandths(int64(f)) + " N" }
func (t Torque) String() string { return thousandths(int64(t)) + " N·m" }
func (c Count) String() string  { return strconv.FormatInt(int64(c), 10) }

func (t Turns) String() string {
	if t == Turn {
		return "1 turn"
	}
	return thousandths(int64(t)) + " turns"
}

// thousandths prints n/1000 exactly, with no more decimals than needed.
func thousandths(n int64) string {
	sign, mag := "", uint64(n)
	if n < 0 {
		sign, mag = "-", -mag
	}
	text := sign + strconv.FormatUint(mag/1000, 10)
	if rest := mag % 1000; rest != 0 {
		text += "." + strings.TrimRight(fmt.Sprintf("%03d", rest), "0")
	}
	return text
}

// RangeError says that a number cannot be held as a quantity.
type RangeError struct {
	Kind   Kind
	Number float64 // in the default unit of the kind
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%v cannot be a %s", e.Number, e.Kind)
}

// Cure says what to do.
func (e *RangeError) Cure() string {
	return fmt.Sprintf("give a finite number of %s, not beyond %s", kinds[e.Kind].plural, Value{e.Kind, Max})
}

// LengthFromMM returns the length of a number of millimetres, rounded to the
// micrometre, half away from zero. The error is a *RangeError for NaN, an
// infinity or a number beyond Max.
func LengthFromMM(mm float64) (Length, error) {
	n, err := fromFloat(KindLength, mm, 1000)
	return Length(n), err
}

// ForceFromN returns the force of a number of newtons; see LengthFromMM.
func ForceFromN(newtons float64) (Force, error) {
	n, err := fromFloat(KindForce, newtons, 1000)
	return Force(n), err
}

// TorqueFromNM returns the torque of a number of newton metres; see LengthFromMM.
func TorqueFromNM(newtonMetres float64) (Torque, error) {
	n, err := fromFloat(KindTorque, newtonMetres, 1000)
	return Torque(n), err
}

// TurnsFromFloat returns a number of turns; see LengthFromMM.
func TurnsFromFloat(turns float64) (Turns, error) {
	n, err := fromFloat(KindTurns, turns, 1000)
	return Turns(n), err
}

// fromFloat goes through the shortest decimal that names the float, so that
// 0.0005 in a file is the half that its writer sees, not the binary number
// a little beside it.
func fromFloat(kind Kind, x float64, perUnit int64) (int64, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) || math.Abs(x)*float64(perUnit) > 2*Max {
		return 0, &RangeError{kind, x}
	}
	exact, _ := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
	n, ok := roundHalfAway(exact.Mul(exact, big.NewRat(perUnit, 1)))
	if !ok {
		return 0, &RangeError{kind, x}
	}
	return n, nil
}

// roundHalfAway rounds to a whole number, half away from zero. It reports
// false beyond Max.
func roundHalfAway(x *big.Rat) (int64, bool) {
	mag := new(big.Rat).Abs(x)
	twice := new(big.Int).Lsh(mag.Num(), 1)
	twice.Add(twice, mag.Denom())
	n := twice.Quo(twice, new(big.Int).Lsh(mag.Denom(), 1))
	if !n.IsInt64() || n.Int64() > Max {
		return 0, false
	}
	if x.Sign() < 0 {
		return -n.Int64(), true
	}
	return n.Int64(), true
}
