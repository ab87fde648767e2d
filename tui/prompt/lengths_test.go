package prompt

import (
	"testing"

	"example.org/linewright/engine/quantity"
)

func TestALengthThatIsOffSaysWhichWay(t *testing.T) {
	for by, want := range map[quantity.Length]string{
		15 * quantity.Millimetre:  "15 mm long",
		-15 * quantity.Millimetre: "15 mm short",
		0:                         "as expected",
	} {
		if got := OffWords(by); got != want {
			t.Errorf("%v: %q, want %q", by, got, want)
		}
	}
}
