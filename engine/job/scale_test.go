package job

import (
	"testing"

	"example.org/linewright/engine/quantity"
)

// A torque of 1 N·m was shown as a millimetre.
func TestWhatIsExpectedHasItsOwnUnit(t *testing.T) {
	for kind, want := range map[quantity.Kind]string{quantity.KindLength: "1 mm", quantity.KindTorque: "1 N·m", quantity.KindForce: "1 N", quantity.KindTurns: "1 turn", quantity.KindCount: "1"} {
		if got := (&Scale{Quantity: kind, Expected: 1000}).Expects().String(); got != want {
			t.Errorf("%s: %q, want %q", kind, got, want)
		}
	}
}
