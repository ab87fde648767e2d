package wing

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var bench = FoundHead{By: "tester", Date: "2026-05-01"}

// asked gives the answers one after the other and writes down the questions.
func asked(t testing.TB, head FoundHead, answers ...string) (Found, string) {
	t.Helper()
	f := NewFound(head)
	var talk strings.Builder
	for _, answer := range answers {
		q, more := f.Ask()
		if !more {
			t.Fatalf("nothing is asked that %q answers", answer)
		}
		fmt.Fprintf(&talk, "%d. %s [%s] (%s)\n", q.No, q.Ask, q.Kind, q.Hint)
		for _, o := range q.Options {
			fmt.Fprintf(&talk, "     %s: %s\n", o.Word, o.Text)
		}
		next, err := f.Answer(answer)
		if err != nil {
			t.Fatalf("%s: %q: %v", q.Key, answer, err)
		}
		fmt.Fprintf(&talk, "   > %s\n", answer)
		f = next
	}
	if q, more := f.Ask(); more {
		t.Fatalf("%s is still asked", q.Key)
	}
	return f, talk.String()
}

// The plan that a swap of one lower line needs, with labels and without: eleven
// answers, of which the wing's file may give two.
func TestFoundLowerLine(t *testing.T) {
	f, talk := asked(t, bench, "Dishcloth", "M", "screw", "C", "C1.1 C1.2 C1.3", "2", "above", "C1.2", "right", "50", "4205")
	text, p, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/found/lower.txt", talk+"\n"+string(text))
	equal(t, "on the link", list(p.OnLink("C")), "C1.1 C1.2 C1.3")
	equal(t, "carried", list(p.Carries("C1.2")), "C2.3 C2.4")
	equal(t, "marked", p.AsFound && p.Partial, true)

	f, _ = asked(t, FoundHead{"tester", "2026-05-01", "Dishcloth", "M"}, "1", "C", "3", "2", "above", "C1.2", "2", "50 N", "4205")
	_, counted, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "answers", f.Answers(), 9)
	equal(t, "the same lines", list(counted.Lines), list(p.Lines))
	equal(t, "source", counted.Source.Text, "as found on the wing, 2026-05-01 by tester; lengths of the right side; lines without a label were counted")
}

// A line above a joint asks what it carries itself; a stabilo keeps its row; a
// line that nobody measured has no length.
func TestFoundAboveAJoint(t *testing.T) {
	f, talk := asked(t, bench, "Dishcloth", "M", "soft", "B", "B1 B2 S1", "b1 b2 / b3 / 0", "b1", "b3 B2", "c7 c8", "left", "5 daN", "4190", "-")
	text, p, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/found/above.txt", talk+"\n"+string(text)+"\n"+strings.Join(p.Missing(), "\n")+"\n")
}

// On the handle and on a riser tab there is no link.
func TestFoundHandle(t *testing.T) {
	f, talk := asked(t, bench, "Dishcloth", "M", "handle", "1", "3", "none", "none")
	text, p, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/found/handle.txt", talk+"\n"+string(text))
	equal(t, "brake main", p.Brake.Main, "Br1.1")
	f, _ = asked(t, bench, "Dishcloth", "M", "tab", "A", "A1", "0", "none", "A1", "left", "50", "5.2 m")
	_, p, err = f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	l, _ := p.Line("A1")
	equal(t, "on a tab", l.On.String()+" "+l.Length.String(), "riser:A 5200 mm")
}

// What is refused says what and what to do, and leaves the question open.
func TestFoundRefusals(t *testing.T) {
	all := []string{"Dishcloth", "M", "screw", "C", "C1 C2", "2 1", "none", "C1", "left", "50", "4205"}
	var said strings.Builder
	for _, c := range []struct {
		after int
		typed string
	}{
		{0, ""}, {0, "Dish\x1b[2Jcloth"}, {0, strings.Repeat("x", 81)},
		{2, "rope"}, {2, "5"},
		{3, "C 1"}, {3, strings.Repeat("C", 13)},
		{4, "0"}, {4, "31"}, {4, "C1 C1"}, {4, "C1 C:2"}, {4, "handle"}, {4, strings.Repeat("x ", 31)},
		{5, "1 2 3"}, {5, "9"}, {5, "-1"}, {5, "c1 /"}, {5, "c1 / c1"}, {5, "c1 / C2"}, {5, "c1 c2"},
		{6, "C9"}, {6, "c1"},
		{7, "C9"},
		{8, "port"},
		{9, "50 kg"}, {9, "0"}, {9, "501"},
		{10, "long"}, {10, "12.001 m"}, {10, "49"},
	} {
		f := NewFound(bench)
		for _, answer := range all[:c.after] {
			f, _ = f.Answer(answer)
		}
		before, _ := f.Ask()
		next, err := f.Answer(c.typed)
		var refusal *SumError
		if !errors.As(err, &refusal) || refusal.What == "" || refusal.Cure == "" {
			t.Errorf("%s: %q: %v", before.Key, c.typed, err)
			continue
		}
		after, _ := next.Ask()
		equal(t, "still open", fmt.Sprint(after), fmt.Sprint(before))
		fmt.Fprintf(&said, "%s: %q\n%s\n\n", before.Key, c.typed, err)
	}
	golden(t, "testdata/found/refusals.txt", said.String())
}

func TestFoundBackAndUnfinished(t *testing.T) {
	f, _ := asked(t, bench, "Dishcloth", "M", "screw", "C", "C1 C2", "0", "none", "none")
	_, done, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "no pull was asked", done.Pull, Pull{})
	f = f.Back()
	q, _ := f.Ask()
	equal(t, "looked back", q.Key, FoundTarget)
	_, p, err := f.Plan()
	if err == nil || p != nil {
		t.Errorf("a plan with open questions: %v", err)
	}
	equal(t, "back from the beginning", NewFound(bench).Back().Answers(), 0)
	_, err = NewFound(FoundHead{"tester", "2026-05-01", "n", "s"}).Answer("screw")
	equal(t, "name and size are known", err, nil)
	whole, _ := asked(t, bench, "n", "s", "tab", "A", "1", "0", "all", "none")
	_, err = whole.Answer("more")
	equal(t, "nothing more", err != nil, true)
}

// Whatever is answered and taken, a sound plan comes out in the end, marked as
// found, and looking back and answering again changes nothing.
func TestFoundAlwaysGivesAPlan(t *testing.T) {
	words := []string{
		"Dishcloth", "M", "screw", "soft", "tab", "handle", "C", "B'", "漢", strings.Repeat("D", 12), "1", "2", "3", "2 2", "0 2 1", "C1 c1", "C2.1 C2.2",
		strings.Repeat("E", 23) + "1", "7 8", "a b / c", "c1 / c2 c3", "0 / x", "all", "none", "above", "left", "right", "50", "50 N", "4205", "-", "4.2 m", "", "x",
	}
	rapid.Check(t, func(t *rapid.T) {
		f := NewFound(bench)
		for range 200 {
			q, more := f.Ask()
			if !more {
				break
			}
			pool := append([]string{}, words...)
			for _, o := range q.Options {
				pool = append(pool, o.Word)
			}
			pool = append(pool, f.replay().codes(func(foundLine) bool { return true })...)
			next, err := f.Answer(rapid.SampledFrom(pool).Draw(t, string(q.Key)))
			if err == nil && fmt.Sprint(next.Back()) != fmt.Sprint(f) {
				t.Fatal("looking back gives something else")
			}
			f = next
		}
		if _, more := f.Ask(); more {
			t.Skip("not answered to the end")
		}
		text, p, err := f.Plan()
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if !p.AsFound || !p.Partial || len(p.Loose) > 0 || !strings.HasPrefix(p.Source.Text, "as found on the wing, 2026-05-01 by tester") {
			t.Fatalf("%+v", p)
		}
		for _, l := range p.Lines {
			if foot, ok := p.Foot(l.Code); !ok || foot.Kind == OnLine {
				t.Fatalf("%s hangs on nothing", l.Code)
			}
		}
	})
}
