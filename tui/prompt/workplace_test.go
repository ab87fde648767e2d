package prompt

import (
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/wing"
)

// undescribed begins a job with the test procedure at a workplace whose bench
// nobody described.
func undescribed(t *testing.T) (session.Desk, *session.Session) {
	t.Helper()
	d := bench(t)
	s, err := d.Start(session.New{Wing: "cloth"})
	check(t, err)
	t.Cleanup(func() { _ = s.Close() })
	_, err = s.AddTask("bench-test", wing.LineRef("C1.2", wing.Left), "")
	check(t, err)
	return d, s
}

// described are the answers to the questions about a bench with a class III
// tape and a hand pull; an empty line keeps what stands.
var described = []string{":bench", "yes", "meadow", "III", "", "", "", "", "hand", "50", "15 N", "6", "18", "3", ""}

const nobody = "Nobody described this bench yet."

func TestTheBenchIsAskedForOnceAndNeverForced(t *testing.T) {
	d, s := undescribed(t)
	text, err := feed(t, d, s, Options{}, append(upTo(atLoose), ":card", "4206", "4207", ":quit")...)
	check(t, err)
	mustSay(t, text, "Limit: 10 mm", "Bench: a fallback, nobody described this bench", nobody, "> :card", "Bench: a fallback", "> 4206", "Saved, entry 9.")
	if n := strings.Count(text, nobody); n != 1 {
		t.Errorf("the bench was asked for %d times, want once:\n%s", n, text)
	}
}

// measured is what line mode says around the first reading on a bench that
// repeats that well.
func measured(t *testing.T, repeatabilityMM string) string {
	t.Helper()
	d := bench(t)
	b, err := metrology.Answer(metrology.DefaultBench(), "repeatability_mm", repeatabilityMM)
	check(t, err)
	check(t, d.SaveBench(b))
	s, err := d.Start(session.New{Wing: "cloth"})
	check(t, err)
	t.Cleanup(func() { _ = s.Close() })
	_, err = s.AddTask("bench-test", wing.LineRef("C1.2", wing.Left), "")
	check(t, err)
	text, err := feed(t, d, s, Options{}, append(upTo(atLoose), "4206", ":card", ":quit")...)
	check(t, err)
	return text
}

func TestABenchThatLeavesLittleOfTheLimitSaysSo(t *testing.T) {
	mustSay(t, measured(t, "5.5"), "Limit: 10 mm", "limit 10, only ", " left.", "What would help most: ", "> 4206")
	if text := measured(t, "1"); strings.Contains(text, "limit 10, only") {
		t.Errorf("a good bench is warned of:\n%s", text)
	}
}

func TestWhatTheBenchCannotDecideIsSaidBeforeTheReading(t *testing.T) {
	text := measured(t, "8")
	mustSay(t, text, "Limit: 10 mm", "Sure within", "if readings repeat as the bench says; limit 10: not enough.", "What would help most: ", "readings", "> 4206")
	if n := strings.Count(text, "limit 10: not enough"); n != 1 {
		t.Errorf("what the bench cannot decide was said %d times, want before the first reading only:\n%s", n, text)
	}
	if strings.Contains(text, nobody) {
		t.Error("a bench that was described is asked for")
	}
}

func TestTheBenchIsDescribedInTheWalk(t *testing.T) {
	d, s := undescribed(t)
	text, err := feed(t, d, s, Options{}, append(upTo(atLoose), append(described, ":bench", "no", ":quit")...)...)
	check(t, err)
	mustSay(t, text, "The bench in force:", "default bench: a fallback", "question by question? Type yes", BenchTalkRule,
		"1. What do you call this workplace?", "Enter: unnamed bench, a fallback", "> meadow", "> III", "> hand", "Saved, entry 9.",
		"Limit: 10 mm", "tape class: III", "hook: no (fallback)", "Left as it is.")
	kept, err := d.Bench()
	check(t, err)
	if b := s.Job().Bench; b.Default || b.Name != "meadow" || kept.Name != "meadow" || kept.TapeClass != "III" {
		t.Errorf("in force is %q, kept %q class %s", b.Name, kept.Name, kept.TapeClass)
	}
}

func TestABrokenOffBenchChangesNothing(t *testing.T) {
	for name, last := range map[string][]string{"a command": {":quit", ":quit"}, "the end": nil, "a wrong answer": {"IV"}} {
		t.Run(name, func(t *testing.T) {
			d, s := undescribed(t)
			text, err := feed(t, d, s, Options{}, append(upTo(atLoose, ":bench", "yes", "meadow"), last...)...)
			switch name {
			case "a wrong answer":
				mustEnd(t, err)
				mustSay(t, text, `Refused: "IV" is none of the answers`, "answers: I, II, III, calibrated")
			default:
				mustSay(t, text, "The bench is as it was.")
			}
			if !s.Job().Bench.Default || s.Job().Lines != 2+atLoose {
				t.Errorf("the bench in force is %q after %d entries", s.Job().Bench.Name, s.Job().Lines)
			}
		})
	}
}

func TestTheBenchStaysWhileReadingsWait(t *testing.T) {
	d, s := undescribed(t)
	text, err := feed(t, d, s, Options{}, append(upTo(atLoose+1), ":bench", ":quit")...)
	check(t, err)
	mustSay(t, text, "The bench in force:", "It cannot be changed now: ")
}

func TestAnEmptyAnswerTakesTheFallbackOnlyWhereThereIsOne(t *testing.T) {
	talk := NewBenchTalk(metrology.DefaultBench())
	for q, more := talk.Next(); more; q, more = talk.Next() {
		check(t, talk.Take(q, ""))
	}
	check(t, talk.Bench.Validate())
	if talk.Bench.Default || talk.Bench.Assumed() == "" {
		t.Error("a bench of fallbacks alone does not say so")
	}
	calibrated := NewBenchTalk(metrology.DefaultBench())
	for q, more := calibrated.Next(); more; q, more = calibrated.Next() {
		if q.Key == "tape_class" {
			check(t, calibrated.Take(q, "calibrated"))
			continue
		}
		if q.Now != "" || q.Fallback != "" {
			check(t, calibrated.Take(q, ""))
			continue
		}
		words, number := calibrated.Words(q), calibrated.No()
		if last := words[len(words)-1]; last != "an answer is needed" || calibrated.Take(q, "") == nil || calibrated.No() != number {
			t.Errorf("%s: %q, and nothing was taken for an answer", q.Key, last)
		}
		return
	}
	t.Error("a calibrated tape brings no question that needs an answer")
}
