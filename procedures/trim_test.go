package procedures_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
)

// measured answers a measuring of the sample wing; a row is answered by its
// lengths, which the job reads one by one.
func measured() answers {
	return answers{
		"manual_says": "none", "conditions": "good", "trimmers": "closed", "speed": "released", "zero_at": "there", "tried": "alike",
		"row@A": "read", "row@B": "read", "row@C": "read", "row@D": "read", "row@S": "read", "row@Br": "read",
		"report": "made", "follows": "nothing",
	}
}

func TestEveryRowIsMeasured(t *testing.T) {
	u := mustUnfold(t, "trim-measure", "wing")
	b := walk(t, u, measured())
	for _, key := range []string{"loops", "change"} {
		if slices.Contains(b.met, key) {
			t.Errorf("%s is asked where nobody wants loops", key)
		}
	}
	b = walk(t, u, measured().with(answers{"follows": "loops", "loops": "plain", "change": "change"}))
	if report, loops := slices.Index(b.met, "report"), slices.Index(b.met, "loops"); report < 0 || loops < report {
		t.Errorf("loops are proposed at %d, the report is made at %d", loops, report)
	}
	t.Logf("%d cards", len(b.cards))
}

func TestWhatChangedIsMeasuredWithItsTwins(t *testing.T) {
	walk(t, mustUnfold(t, "trim-after", "wing"), answers{
		"conditions": "good", "trimmers": "closed", "speed": "released", "changed": "read", "report": "made", "control": "as_meant", "follows": "nothing",
	})
}

// Both measurings state the state in the same words, or they would never be
// compared.
func TestBothMeasuringsNameTheStateAlike(t *testing.T) {
	words := func(id string) string {
		var out []string
		for _, s := range mustUnfold(t, id, "wing").Slots {
			if s.Step.ID == "trimmers" || s.Step.ID == "speed" {
				for _, o := range s.Offered(values{}) {
					out = append(out, s.Step.ID+" "+o.ID+" "+o.Text.In("en"))
				}
			}
		}
		return strings.Join(out, "\n")
	}
	if first, after := words("trim-measure"), words("trim-after"); first != after || first == "" {
		t.Errorf("%s\nand\n%s", first, after)
	}
}

// The tape begins where the plan begins its paths.
func TestTheZeroIsThatOfThePlan(t *testing.T) {
	says := func(u *procedure.Unfolded) string {
		s, _ := u.Slot("zero_at")
		return s.Say(s.Card.Detail, "en", values{})
	}
	if text := says(mustUnfold(t, "trim-measure", "wing")); !strings.HasPrefix(text, "At the inside of the link, for every path") {
		t.Error(text)
	}
	plan := altered(t, "greatest_mass_kg = 110\n", "greatest_mass_kg = 110\npaths_from = \"riser\"\n", "[brake]\n", "[[path]]\npoint = \"C5\"\nlength_mm = 7213\n\n[brake]\n")
	u, err := unfoldOn(t, plan, "trim-measure", mustUnfold(t, "trim-measure", "wing").Target)
	if err != nil {
		t.Fatal(err)
	}
	if text := says(u); !strings.HasPrefix(text, "At the riser's loop for the carabiner") {
		t.Error(text)
	}
}
