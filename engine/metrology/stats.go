package metrology

import "math"

// meanAndDeviation returns the mean and the standard deviation (n - 1) of at
// least one value, 0 for a single one. The deviations are taken from the mean
// in a second pass, and every sum carries along what it rounds away, so that a
// large common part costs no digits.
func meanAndDeviation(xs []float64) (mean, deviation float64) {
	n := float64(len(xs))
	var total sum
	for _, x := range xs {
		total.add(x)
	}
	mean = total.value() / n
	if len(xs) == 1 {
		return mean, 0
	}
	var rest, squares sum
	for _, x := range xs {
		d := x - mean
		rest.add(d)
		squares.add(d * d)
	}
	return mean, math.Sqrt((squares.value() - rest.value()*rest.value()/n) / (n - 1))
}

// sum is a compensated sum after Neumaier.
type sum struct{ high, low float64 }

func (s *sum) add(x float64) {
	total := s.high + x
	if math.Abs(s.high) >= math.Abs(x) {
		s.low += s.high - total + x
	} else {
		s.low += x - total + s.high
	}
	s.high = total
}

func (s *sum) value() float64 { return s.high + s.low }
