package prompt

import (
	"strings"
	"testing"

	"example.org/linewright/engine/seal"
)

func TestCodesThatSoundAlikeAreToldApart(t *testing.T) {
	d := bench(t)
	w := &walk{s: start(t, d)}
	for text, want := range map[string]string{
		"S1.1, S2.1, s2.1, S3.1 to S3.3.": "S1.1, S2.1 (capital S), s2.1 (small s), S3.1 to S3.3.",
		"By these answers it is s2.1.":    "By these answers it is s2.1 (small s).",
		"s2.10 and xs2.1":                 "s2.10 and xs2.1",
	} {
		if got := w.heard(text); got != want {
			t.Errorf("heard %q, want %q", got, want)
		}
	}
}

func TestWhatIsSaidOnceComesBackWithAQuestionMark(t *testing.T) {
	const units = "(or cm, m, in, ft if you type it)"
	text, _ := walked(t, upTo(atLoose, "4206", "?", "4207")...)
	if n := strings.Count(text, units); n != 2 {
		t.Errorf("the units are said %d times, want at the first reading and at the question mark:\n%s", n, text)
	}
	mustSay(t, text, units, "> 4206", "Wanted: a reading in mm.", "> ?", units)
}

func TestAKeyIsSaidByItsEnd(t *testing.T) {
	if got := signedWith("SHA256:abcdefghijk", seal.Unencrypted); got != "with the key that ends in fghijk, kept without a pass phrase" {
		t.Error(got)
	}
}

func TestATaskIsNamedWhenItChanges(t *testing.T) {
	text, _ := walked(t, upTo(atTurns)...)
	for _, head := range []string{"Task 1: Bench test, line to be found.", "Task 1: Bench test, C1.2 left."} {
		if n := strings.Count(text, head); n != 1 {
			t.Errorf("%q is said %d times", head, n)
		}
	}
}

func TestFactsOfTheCardBeforeAreNotSaidAgain(t *testing.T) {
	var out strings.Builder
	w := &walk{s: start(t, bench(t)), out: &out}
	w.facts([]string{"a", "b", "c"})
	w.facts([]string{"a", "b", "d"})
	w.facts([]string{"a", "e"})
	mustSay(t, out.String(), "a\nb\nc\nd\nThe rest is as on the card before; :card says all of it.\na\ne\n")
}
