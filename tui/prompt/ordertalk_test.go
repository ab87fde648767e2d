package prompt

import (
	"errors"
	"slices"
	"testing"

	"example.org/linewright/engine/job"
)

func TestAMirrorSeenFromTheOtherSideIsTaken(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, _ := feed(t, d, s, Options{}, upTo(atOrderAgain, "3 2 1", "2", "5.25")...)
	mustSay(t, text, "> 3 2 1", "Understood: C1.3 C1.2 C1.1",
		"Exactly the other way round. Look again: from which side do you see the link?",
		"1: as the step says, beginning nearest the centre", "2: from the other side, beginning nearest the tip", "3: I cannot tell",
		"> 2", "Understood: C1.1 C1.2 C1.3, turned round: seen from the other side", "Saved, entry 14.", "> 5.25", "Saved, entry 15.")
	events := s.Job().Events()
	e := events[len(events)-2]
	if e.Typed != "3 2 1" || e.SeenFrom != job.SeenOtherSide || !slices.Equal(e.Codes, []string{"C1.1", "C1.2", "C1.3"}) {
		t.Errorf("%+v", e)
	}
}

// Nothing is written before the side is known.
func TestTheQuestionForTheSideCanBeLeft(t *testing.T) {
	for name, lines := range map[string][]string{
		"the input ends":  {"3 2 1"},
		"a colon":         {"3 2 1", ":"},
		"no such answer":  {"3 2 1", "4", ":"},
		"an empty answer": {"3 2 1", "", ":"},
	} {
		t.Run(name, func(t *testing.T) {
			d := bench(t)
			s := start(t, d)
			text, err := feed(t, d, s, Options{Patient: true}, upTo(atOrderAgain, lines...)...)
			var ended *Ended
			if !errors.As(err, &ended) || s.Job().Lines != 2+atOrderAgain {
				t.Errorf("%v; %d lines", err, s.Job().Lines)
			}
			mustSay(t, text, "from which side", "Broken off. Nothing was written.", "Wanted: the codes of all lines")
		})
	}
}

func TestAnAnswerThatIsNoSideEndsAPipe(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, upTo(atOrderAgain, "3 2 1", "behind", "2")...)
	n := mustEnd(t, err)
	if n.Typed != "behind" || n.Written || lastRead(text) != "behind" {
		t.Errorf("%+v", n)
	}
	mustSay(t, text, `Refused: "behind" is none of the answers`, "type a number from 1 to 3")
}
