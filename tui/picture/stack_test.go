package picture

import (
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

func TestStackMarksWhatCrossed(t *testing.T) {
	s := Stack{Link: "link C left", Before: []string{"1", "2", "3", "4"}, After: []string{"1", "4", "3", "2"}}
	got := strings.Join(s.Draw(60, 20, ASCII), "\n")
	equal(t, "marks", strings.Count(got, " X"), 6)
	equal(t, "words", strings.Contains(got, "X crossed: 2 with 3, 2 with 4, 3 with 4"), true)
	s.After = []string{"4", "3", "2", "1"}
	equal(t, "mirrored", strings.Contains(strings.Join(s.Draw(60, 20, ASCII), "\n"), "all the other way round"), true)
	s.After = s.Before
	equal(t, "same", strings.Contains(strings.Join(s.Draw(60, 20, ASCII), "\n"), "X"), false)
	equal(t, "same, in words", s.facts()[1], "No pair is crossed.")
}

func TestStackCountsFromTheGate(t *testing.T) {
	s := Stack{Link: "link C left", Before: []string{"a", "b", "c"}, Gate: Centre}
	equal(t, "gate at the centre", s.facts()[0], "As noted, from the centre outward: a, b, c. The gate is beside a.")
	s.Gate = Tip
	equal(t, "gate at the tip", s.facts()[0], "As noted, from the centre outward: a, b, c. The gate is beside c.")
	got := s.Draw(40, 20, ASCII)
	equal(t, "gate below", strings.Contains(got[len(got)-2], "[#] tip, gate"), true)
	equal(t, "eleventh", ordinal(11), "number 11")
}

func TestStackOfNothing(t *testing.T) {
	for _, s := range []Stack{{}, {Link: "link C left"}, {Before: []string{}}} {
		if got := s.Draw(60, 20, ASCII); got != nil {
			t.Errorf("%q", got)
		}
	}
}

func TestASoftLinkIsNotSeenFromAGate(t *testing.T) {
	s := Stack{Link: "link A left", Before: []string{"1", "2"}, Soft: true}
	equal(t, "head", s.Draw(60, 20, ASCII)[0], "link A left")
}

// What is typed is drawn as the step says it is seen; nothing else is shown
// while the order is asked for.
func TestAStackAsTyped(t *testing.T) {
	card := job.Card{Picture: NameStack, Ref: wing.LineRef("C1.2", wing.Left), Fields: []job.Field{{Kind: procedure.Order}}}
	got := strings.Join(Typed(card, sample(t), []string{"C1.3", "C1.2", "C1.1"}).Draw(60, 20, ASCII), "\n")
	for _, part := range []string{"seen from the gate", "as typed", "1 +-+-C1.3", "2 +=+=[C1.2]", "3 +-+-C1.1"} {
		equal(t, part, strings.Contains(got, part), true)
	}
	equal(t, "before or after", strings.Contains(got, "before") || strings.Contains(got, "after"), false)
}
