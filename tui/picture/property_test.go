package picture

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var names = []string{"", NameFan, NameStack, NameScale, NameHitch, NameKnot, NamePulleys, NameGate, NameSides, "no such picture"}

// plans are whole, small, large, with wide and combining codes, empty, none.
func plans(t testing.TB) []*wing.Plan {
	return []*wing.Plan{
		sample(t), large(t), nil, {},
		lines(t, [5]string{"A1", "A", "lower", "link:A", "1"}),
		lines(t,
			[5]string{"線1", "線", "lower", "link:線", "1"}, [5]string{"線2", "線", "lower", "link:線", "2"},
			[5]string{"é\u0301\u0302", "線", "middle", "線2", "1"}, [5]string{"\u0301", "線", "middle", "線2", "2"},
			[5]string{"🪂🪂🪂🪂🪂🪂", "B", "lower", "handle", "1"}, [5]string{"ABCDEFGHIJKLMNOPQRSTUVWX", "B", "lower", "handle", "2"}),
	}
}

// hostile are texts as a card could hold them if another part failed.
var hostile = []string{"", "C1.1", "C1.2", "s2.1", "\x1b[31mred\x1b[0m", "\r\n", "a\tb", "線線線線線線線線線線線線線線線線", "e\u0301\u200d\u202e", "5.25 turns", "\xff\xfe"}

func drawCard(t *rapid.T, plan *wing.Plan) job.Card {
	text := rapid.SampledFrom(hostile)
	length := rapid.OneOf(rapid.Int64Range(-20_000, 20_000), rapid.Int64Range(4_190_000, 4_220_000), rapid.SampledFrom([]int64{0, math.MaxInt64, math.MinInt64, quantity.Max, -quantity.Max}))
	c := job.Card{
		Picture: rapid.SampledFrom(names).Draw(t, "picture"),
		Ref:     drawRef(t, plan),
		Hidden:  rapid.Bool().Draw(t, "hidden"),
		Second:  rapid.Bool().Draw(t, "second"),
		Key:     rapid.SampledFrom([]string{"", "a.b@2", "@", "x@-1", "y@99999999999999999999"}).Draw(t, "key"),
		At:      rapid.IntRange(-2, 4).Draw(t, "at"),
	}
	for range rapid.IntRange(0, 3).Draw(t, "orders") {
		c.Orders = append(c.Orders, job.Stack{Key: text.Draw(t, "order key"), Codes: rapid.SliceOfN(text, 0, 5).Draw(t, "codes")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "fields") {
		c.Fields = append(c.Fields, drawField(t, text, length))
	}
	c.Shown = map[string]any{}
	for _, name := range []string{showFound, showNew, showDistance, showTail, showGateEnd} {
		c.Shown[name] = rapid.OneOf(rapid.Float64().AsAny(), text.AsAny()).Draw(t, name)
	}
	return c
}

func drawField(t *rapid.T, text *rapid.Generator[string], length *rapid.Generator[int64]) job.Field {
	f := job.Field{
		Key:     rapid.SampledFrom([]string{"x@2", "x"}).Draw(t, "step"),
		Kind:    rapid.SampledFrom([]procedure.Kind{procedure.Do, procedure.Measure, procedure.Choose, procedure.Check, procedure.Count, procedure.Order, procedure.Sign}).Draw(t, "kind"),
		State:   rapid.SampledFrom([]job.AnswerState{job.Blank, job.Partial, job.Ready, job.Void}).Draw(t, "state"),
		Answer:  text.Draw(t, "answer"),
		Options: rapid.SliceOfN(text, 0, 3).Draw(t, "options"),
	}
	if rapid.Bool().Draw(t, "scale") {
		s := &job.Scale{
			Quantity: rapid.SampledFrom([]quantity.Kind{quantity.KindLength, quantity.KindTurns, quantity.KindCount, quantity.KindTorque, ""}).Draw(t, "quantity"),
			Expected: quantity.Length(length.Draw(t, "expected")), HasValue: rapid.Bool().Draw(t, "has value"),
			Limit: quantity.Length(length.Draw(t, "limit")), HasLimit: rapid.Bool().Draw(t, "has limit"),
			Deviation: quantity.Length(length.Draw(t, "deviation")), U: quantity.Length(length.Draw(t, "u")),
			Covered: rapid.Bool().Draw(t, "covered"), Source: text.Draw(t, "source"), Against: text.Draw(t, "against"),
		}
		for range rapid.IntRange(0, 12).Draw(t, "readings") {
			s.Readings = append(s.Readings, job.Reading{
				Value:   quantity.Value{Kind: s.Quantity, N: length.Draw(t, "reading")},
				Outcome: rapid.SampledFrom([]job.Outcome{job.Taken, job.Open}).Draw(t, "outcome"),
			})
		}
		if rapid.Bool().Draw(t, "valued") {
			s.Value = &metrology.Measurement{Value: quantity.Length(length.Draw(t, "value")), U: s.U}
		}
		f.Scale = s
	}
	return f
}

func drawRef(t *rapid.T, plan *wing.Plan) wing.Ref {
	side := rapid.SampledFrom([]wing.Side{wing.Left, wing.Right, ""}).Draw(t, "side")
	all := []wing.Ref{{}, wing.Brakes(), wing.LineRef("none", side), wing.LinkRef("none", side)}
	if plan != nil {
		for _, l := range plan.Lines {
			all = append(all, wing.LineRef(l.Code, side))
		}
		for _, l := range plan.Links {
			all = append(all, wing.LinkRef(l.Name, side))
		}
	}
	return rapid.SampledFrom(all).Draw(t, "ref")
}

func TestNoPictureLeavesItsRoom(t *testing.T) {
	all := plans(t)
	rapid.Check(t, func(t *rapid.T) {
		plan := all[rapid.IntRange(0, len(all)-1).Draw(t, "plan")]
		card := drawCard(t, plan)
		w, h := rapid.IntRange(-1, 200).Draw(t, "w"), rapid.IntRange(-1, 60).Draw(t, "h")
		signs := Signs(rapid.IntRange(0, 1).Draw(t, "signs"))
		facts := Facts(card, plan)
		got := Of(card, plan, w, h, signs)
		if len(got) > max(h, 0) {
			t.Fatalf("%d lines in %d", len(got), h)
		}
		if len(got) > 0 && len(facts) == 0 {
			t.Fatalf("a picture without words:\n%s", strings.Join(got, "\n"))
		}
		for _, line := range append(got, facts...) {
			if strings.ContainsFunc(line, unicode.IsControl) || strings.ContainsRune(line, '\u202e') {
				t.Fatalf("control sign in %q", line)
			}
		}
		for _, line := range got {
			if ansi.StringWidth(line) > w {
				t.Fatalf("%d columns in %d: %q", ansi.StringWidth(line), w, line)
			}
			if line != strings.TrimRight(line, " ") {
				t.Fatalf("blanks behind %q", line)
			}
		}
	})
}

// Any marks, also such as are none.
func TestNoFanLeavesItsRoom(t *testing.T) {
	all := plans(t)
	rapid.Check(t, func(t *rapid.T) {
		plan := all[rapid.IntRange(0, len(all)-1).Draw(t, "plan")]
		marked := map[string]Mark{"none": InHand}
		if plan != nil {
			for _, l := range plan.Lines {
				marked[l.Code] = Mark(rapid.SampledFrom([]int{0, 0, 0, 1, 2, 4, 9, 16, 255}).Draw(t, "mark"))
			}
		}
		w, h := rapid.IntRange(0, 200).Draw(t, "w"), rapid.IntRange(0, 60).Draw(t, "h")
		got := Fan(plan, wing.Right, marked, w, h, Richer)
		if len(got) > h {
			t.Fatalf("%d lines in %d", len(got), h)
		}
		for _, line := range got {
			if ansi.StringWidth(line) > w {
				t.Fatalf("%q in %d columns", line, w)
			}
		}
	})
}

// The sample has plain codes only, so a picture of ASCII signs has no other.
func TestASCIIIsASCII(t *testing.T) {
	plan := sample(t)
	for name, card := range cards {
		for w := 1; w <= 120; w += 7 {
			for _, line := range Of(card, plan, w, 40, ASCII) {
				if strings.ContainsFunc(line, func(r rune) bool { return r < 0x20 || r > 0x7e }) {
					t.Fatalf("%s at %d: %q", name, w, line)
				}
			}
		}
	}
}

// More room never takes a picture away.
func TestMoreRoomKeepsThePicture(t *testing.T) {
	plan := sample(t)
	for name, card := range cards {
		for h := 1; h <= 30; h++ {
			had := false
			for w := 1; w <= 80; w++ {
				has := len(Of(card, plan, w, h, ASCII)) > 0
				if had && !has {
					t.Fatalf("%s: a picture in %d columns, none in %d, %d lines", name, w-1, w, h)
				}
				had = has
			}
		}
	}
}

func FuzzStack(f *testing.F) {
	f.Add("C1.1 C1.2 C1.3", "C1.3 C1.2 C1.1", 32, 14)
	f.Fuzz(func(t *testing.T, before, after string, w, h int) {
		w, h = w%200, h%60
		s := Stack{Link: "link C left", Before: strings.Fields(before), After: strings.Fields(after)}
		for _, line := range s.Draw(w, h, Richer) {
			if ansi.StringWidth(line) > w || strings.ContainsFunc(line, unicode.IsControl) {
				t.Fatalf("%q in %d columns", line, w)
			}
		}
	})
}
