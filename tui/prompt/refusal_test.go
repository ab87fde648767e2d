package prompt

import (
	"errors"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
)

// upTo gives the good lines before the first one that is that answer, counted
// by its place in the list.
func upTo(n int, last ...string) []string { return append(append([]string{}, good[:n]...), last...) }

// Places in the list of good answers.
const (
	atSide, atBranch, atPlace, atJoints  = 0, 1, 2, 3
	atDamage, atLabel, atLoose, atSettle = 4, 5, 6, 8
	atOrder, atTurns, atOrderAgain       = 9, 10, 11
	atTurnsAgain, atTwin, atTwinSettle   = 12, 14, 15
	atLooker, atLook, atSecond           = 16, 17, 21
	atTools, atPhoto                     = 23, 25
)

func TestAnEntryThatIsNotTakenEndsAPipe(t *testing.T) {
	for _, c := range []struct {
		name    string
		lines   []string
		code    job.Code
		written bool
		said    string
	}{
		{"empty where a choice is wanted", upTo(atSide, ""), job.ValueWanted, false, "An empty entry does not answer this."},
		{"a word where a number is wanted", upTo(atPlace, "two"), job.BadValue, false, "Refused:"},
		{"no such option", upTo(atDamage, "4"), job.ChoiceUnknown, false, "Type a number from 1 to 3."},
		{"the task ends here", upTo(atDamage, "2"), job.StopHere, true, "Survey first."},
		{"a code of the wrong case", upTo(atLabel, "c1.2"), job.CodeCase, true, "capital and small letters count"},
		{"another code", upTo(atLabel, "C1.3"), job.CodeOther, true, "Send it back."},
		{"implausible", upTo(atLoose, "4.206"), job.Implausible, true, "does not count"},
		{"two numbers", upTo(atLoose, "4206 4207"), job.BadValue, false, "Refused:"},
		{"far off, and another line behind it", upTo(13, "418", "4180"), job.TypeAgain, false, "418 mm, where the plan has 4205 mm."},
		{"an early empty line", upTo(atLoose+1, ""), job.MoreReadings, false, "1 of 2 readings."},
		{"12 mm too long", upTo(atLoose, "4217", "4217", ""), job.OutsideLimit, true, "12 mm long"},
		{"not proved", upTo(atLoose, "4214", "4214", ""), job.NotProvedYet, true, "not proved"},
		{"readings that differ", upTo(atLoose, "4200", "4206", ""), job.SpreadWide, false, "Measure a third time."},
		{"a code twice", upTo(atOrder, "1 1 3"), job.OrderTwice, false, "C1.1 stands twice."},
		{"too few codes", upTo(atOrder, "1 2"), job.OrderIncomplete, false, "2 codes, but 3 lines"},
		{"crossed", upTo(atOrderAgain, "2 1 3"), job.OrderCrossed, true, "Crossed: C1.1 with C1.2"},
		{"mirrored, seen as the step says", upTo(atOrderAgain, "3 2 1", "1"), job.OrderCrossed, true, "Crossed: C1.1 with C1.2, C1.1 with C1.3, C1.2 with C1.3."},
		{"mirrored, the side not known", upTo(atOrderAgain, "3 2 1", "3"), job.OrderNoSide, false, "Find by its upper end the line nearest the centre"},
		{"turns differ", upTo(atTurnsAgain, "4"), job.MustFails, true, "Back off"},
		{"the second look finds a fault", upTo(atLook, "2"), job.WrongState, true, "The joint is made again."},
		{"the doer looks", upTo(atLooker, "ann"), job.SamePerson, false, "another person"},
		{"nobody says who looks", upTo(atLooker, ""), job.LookerFirst, false, "says their name first"},
		{"the doer signs for the second person", upTo(atSecond, "ann"), job.SamePerson, false, "another person"},
		{"a reason behind the number is missing", upTo(atDamage, "3"), job.ReasonMissing, false, "as in: 3 the maker says so"},
		{"an empty line at a hold", upTo(atSecond, ""), job.HoldWaits, false, "A hold stops everything"},
		{"words where something is to be done", upTo(atTools, "yes"), job.NoValueWanted, false, "takes no value"},
		{"nothing to decide", upTo(atLoose, ":decide it is fine"), job.NothingProved, false, "nothing here for a person to decide"},
		{"no such line to strike", upTo(atLoose, ":strike 3 odd"), job.NotAReading, false, "Entry 3 is no reading"},
		{"a task that is not done cannot be closed", upTo(atLoose, ":close done"), job.TasksOpen, false, "Not finished"},
		{"drop with a link open", upTo(atOrderAgain, ":drop no time"), job.LinkOpenDrop, false, "cannot be dropped"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := bench(t)
			s := start(t, d)
			text, err := feed(t, d, s, Options{}, append(c.lines, "1", "1")...)
			n := mustEnd(t, err)
			if n.Because == nil || n.Because.Code != c.code || n.Written != c.written {
				t.Errorf("ended with %v, code %v, written %v; want %s, %v", n, n.Because, n.Written, c.code, c.written)
			}
			mustSay(t, text, c.said)
			if last := lastRead(text); last != c.lines[len(c.lines)-1] {
				t.Errorf("the last line read was %q, want %q: nothing behind a refusal may be read", last, c.lines[len(c.lines)-1])
			}
		})
	}
}

func lastRead(text string) string {
	at := strings.LastIndex(text, "\n> ")
	line, _, _ := strings.Cut(text[at+3:], "\n")
	return line
}

func TestPatienceGoesOnAtTheSameStep(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{Patient: true}, append(upTo(atLabel, "c1.2", ""), append(good[atLabel:], ":close Done.", "yes")...)...)
	check(t, err)
	mustSay(t, text, "Noted, and the step stays open: c1.2 is not C1.2", "Refused: An empty entry", "> C1.2\nSaved, entry 9.")
	if s.Job().Closed == nil {
		t.Error("the job is not closed")
	}
}

func TestAReadingIsUnderstoodInItsUnit(t *testing.T) {
	for typed, want := range map[string]string{"4.206 m": "4206 mm", "420,6cm": "4206 mm", "13 ft 9 5/8 in": "4206.875 mm"} {
		d := bench(t)
		s := start(t, d)
		text, _ := feed(t, d, s, Options{}, upTo(atLoose, typed)...)
		mustSay(t, text, "> "+typed, "Understood: "+want, "Saved, entry 9.", "1 of 2 readings.")
	}
}

func TestALockedKeyNeedsATerminal(t *testing.T) {
	d := bench(t)
	addKey(t, d.Store, "cal", "open")
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, upTo(atLooker, "cal", "1", "1", "1", "1", "cal")...)
	if n := mustEnd(t, err); n.Err != ErrNoTerminal {
		t.Errorf("ended with %v, want %v", n.Err, ErrNoTerminal)
	}
	mustSay(t, text, "cal gave the answers.", "Refused: a pass phrase is wanted and there is no terminal", "use a terminal, a key that ssh-agent holds")
}

func TestNoPassPhraseIsAskedOfOneWhoCannotSign(t *testing.T) {
	d := bench(t)
	addKey(t, d.Store, "cal", "open")
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, upTo(atSecond, "cal")...)
	if n := mustEnd(t, err); n.Because == nil || n.Because.Code != job.OtherLooker {
		t.Errorf("ended with %v, want it refused as another person than the one who looked", n)
	}
	mustSay(t, text, "Refused: bea gave the answers, cal cannot sign for them.")
}

func TestAnUnknownNameIsToldWhoseKeysAreHere(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, upTo(atLooker, "zoe")...)
	mustEnd(t, err)
	mustSay(t, text, `there is no key here for "zoe"`, "keys here: ann, bea")
}

func TestControlCharactersDoNotReachTheOutput(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, upTo(atLabel, "C1.2\x1b[2J\u202e")...)
	if n := mustEnd(t, err); n.Because.Code != job.Unprintable {
		t.Errorf("ended with %v, want it refused as unprintable", n)
	}
	if strings.ContainsAny(text, "\x1b\u202e") {
		t.Errorf("a control character was printed: %q", text)
	}
}

func TestAHugeLineIsRefusedAndBounded(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	_, err := feed(t, d, s, Options{}, upTo(atLabel, strings.Repeat("C1.2", 1<<18))...)
	n := mustEnd(t, err)
	if n.Because.Code != job.TooLong || len(n.Typed) > longestLine {
		t.Errorf("ended with %s and %d bytes kept", n.Because.Code, len(n.Typed))
	}
}

// What is far off is taken where it is typed twice.
func TestAFarReadingIsTypedTwiceInAPipe(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, upTo(13, "418", "418")...)
	var ended *Ended
	if !errors.As(err, &ended) {
		t.Errorf("ended with %v", err)
	}
	mustSay(t, text, "418 mm, where the plan has 4205 mm.", "Type it again if the tape really says so", "Saved")
	events := s.Job().Events()
	if e := events[len(events)-1]; e.FarFrom != "the plan has 4205 mm" {
		t.Errorf("%+v", e)
	}
}
