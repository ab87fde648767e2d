package prompt

import (
	"strings"
	"testing"

	"example.org/linewright/engine/reckon"
)

// summed are the answers to the fields of a sum, by their names; of a name that
// is not among them an empty line leaves the value out.
func summed(t *testing.T, id string, given map[string]string) []string {
	t.Helper()
	sum, ok := reckon.Find(id)
	if !ok {
		t.Fatalf("no sum %s", id)
	}
	lines := []string{":reckon " + id}
	for _, f := range sum.Fields {
		lines = append(lines, given[f.Name])
		if f.Many && given[f.Name] != "" {
			lines = append(lines, "")
		}
	}
	return lines
}

func TestASumIsTheJobsOwnAndWritesNothing(t *testing.T) {
	lines := upTo(atLoose)
	lines = append(lines, summed(t, "length", map[string]string{"reading": "4206\n4207", "line": "C1.2@left"})...)
	lines = append(lines, ":reckon why", "4206", "4207", "")
	text, j := walked(t, lines...)
	verdict := "2 mm long, sure within 2 mm, limit 10: inside"
	mustSay(t, text, "Nothing is written.", "One a line; an empty line ends them", "verdict: "+verdict, "expected: 4205 mm (sample plan, invented)",
		"Term by term: :reckon why", "> :reckon why", "tape class II", "Verdict: "+verdict)
	if j.Lines != 2+atLoose+3 {
		t.Errorf("the journal has %d lines, want %d: a sum is not written", j.Lines, 2+atLoose+3)
	}
}

func TestEverySumIsOffered(t *testing.T) {
	text, j := walked(t, ":reckon", ":reckon guess", ":reckon why", ":reckon knot", ":quit")
	for _, s := range reckon.Sums() {
		mustSay(t, text, "\n"+s.ID+": "+s.Title+"\n")
	}
	mustSay(t, text, `there is no sum "guess"`, "No sum was worked out yet.", "Broken off. Nothing was written.")
	if j.Lines != 2 {
		t.Errorf("the journal has %d lines, want 2", j.Lines)
	}
}

func TestAValueAtFaultIsAskedForAgain(t *testing.T) {
	lines := append(summed(t, "knot", map[string]string{"from": "300", "to": "435", "tail": "60 N"}), "60")
	text, _ := walked(t, lines...)
	mustSay(t, text, "Refused: tail: ", "units taken: ", "Tail beyond the knot, as found", "> 60\n", "knot: move it 135 mm away from the tail")
	if strings.Count(text, "Tail beyond the knot, as found") != 2 {
		t.Errorf("the value at fault is not asked for again, alone:\n%s", text)
	}
}

func TestARefusedSumEndsAPipe(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	_, err := feed(t, d, s, Options{}, summed(t, "knot", map[string]string{"from": "300", "to": "435", "tail": "60 N"})...)
	mustEnd(t, err)
}
