package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// step checks one step: its form by kind, its texts, its expressions.
func (c *checker) step(key string, at *located, card *place) {
	s := at.Step
	c.id(key+".id", s.ID)
	c.each(key, card.each, s.Each)
	outside := *card
	outside.at, outside.each = at, at.each
	s.when = c.when(key, s.When, &outside)
	c.text(key+".only", s.Only, false, &outside)
	pl := outside.under(s.When)
	c.text(key+".ask", s.Ask, s.Kind != Sign, pl)
	c.text(key+".else", s.Else, false, pl)
	c.text(key+".states", s.States, s.Kind == Sign, pl)
	c.slots(key+".source", s.Source, pl)
	c.slots(key+".limit_source", s.LimitOf, pl)
	c.form(key, s)
	c.repeated(key, at)
	c.mends(key, at)
	c.measured(key, s)
	c.observing(key, s, pl)
	c.values(key, s, pl)
	c.near(key, s, pl)
	c.options(key, s, pl)
	c.references(key, s, pl)
}

// form checks that a step has what its kind needs and nothing of another.
func (c *checker) form(key string, s *Step) {
	only := func(field string, set bool, kinds ...Kind) {
		if set && !slices.Contains(kinds, s.Kind) {
			c.add(key+"."+field, fmt.Sprintf("%s step has no %s", s.Kind.article(), field), "take it out")
		}
	}
	switch s.Kind {
	case Do, Measure, Choose, Check, Count, Code, Order, Note, Photo, Sign:
	case Inspect, Lengths, Trim, Loops, Clear:
		c.whole(key, s)
	default:
		c.add(key+".kind", fmt.Sprintf("%q is no kind of step", s.Kind),
			`write "do", "measure", "choose", "check", "count", "code", "order", "note", "photo", "sign", or for a whole wing "inspect", "lengths", "trim", "loops", "clear"`)
		return
	}
	only("state", s.State != "", Measure)
	only("expect", s.Expect != "", Measure, Count)
	only("source", s.Source != "", Measure, Count)
	only("against", s.Against != "", Measure)
	only("limit", s.Limit != "", Measure)
	only("limit_source", s.LimitOf != "", Measure)
	only("blind", s.Blind, Measure)
	only("reference", s.Reference, Measure)
	only("readings", s.Readings != 0, Measure)
	only("spread_mm", s.SpreadMM != 0, Measure)
	only("near", len(s.Near) > 0, Measure)
	only("low", s.Low != "", Measure, Count)
	only("high", s.High != "", Measure, Count)
	only("option", len(s.Options) > 0, Choose, Check)
	only("same_as", s.SameAs != "", Order, Code)
	only("optional", s.Optional, Note, Photo)
	only("part", s.Part, Code, Choose, Note, Photo, Measure)
	only("must", s.Must != "", Count, Code, Choose, Measure)
	only("role", s.Role != "", Sign)
	only("covers", s.Covers != "", Sign)
	only("states", !s.States.Empty(), Sign)
	only("observes", s.Observes != "", Choose, Count, Code)
	only("opens", s.Opens, Do, Count)
	only("closes", s.Closes, Do, Count, Check)
	only("of", s.Of != "", Inspect, Lengths)
	if s.Alters && !c.p.Pair {
		c.add(key+".alters", "only a pair has sides that must not stay unequal", "take alters out, or write pair = true in the head")
	}
	if (s.Must != "" || s.SameAs != "") && s.Else.Empty() {
		c.add(key+".else", "the text for a wrong answer is missing", `write else.en = "…": what the person does now`)
	}
	if s.Kind == Sign && s.Role != Doer && s.Role != Second && s.Role != Pilot {
		c.add(key+".role", fmt.Sprintf("%q cannot sign", s.Role), `write role = "doer", role = "second" or role = "pilot"`)
	}
}

// features lists what can be observed.
func features() string {
	all := make([]string, len(wing.Features))
	for i, f := range wing.Features {
		all[i] = string(f)
	}
	return strings.Join(all, ", ")
}

// observing checks a step by whose answer the target is found out.
func (c *checker) observing(key string, s *Step, pl *place) {
	at := s.Observes == string(wing.FeatureForkPlace)
	switch {
	case s.Observes != "" && !slices.Contains(wing.Features, wing.Feature(s.Observes)):
		c.add(key+".observes", fmt.Sprintf("%q is not a feature that can be seen on a wing", s.Observes), "write one of: "+features())
	case s.Observes != "" && !pl.hidden:
		c.add(key+".observes", "what is found out here stands on the card already", "write hidden = true at the phase")
	case at && s.ObservesAt < 1, !at && s.ObservesAt != 0:
		c.add(key+".observes_at", fmt.Sprintf("joint %d", s.ObservesAt), "count joints from the riser, from 1, for fork_place only")
	}
}

func (c *checker) measured(key string, s *Step) {
	quantities := map[Kind][]string{Measure: {"length", "force", "torque"}, Count: {"turns", "count"}}
	if want, ok := quantities[s.Kind]; ok && !slices.Contains(want, s.Quantity) {
		c.add(key+".quantity", fmt.Sprintf("%q is no quantity of %s step", s.Quantity, s.Kind.article()), "write one of: "+strings.Join(want, ", "))
	} else if !ok && s.Quantity != "" {
		c.add(key+".quantity", fmt.Sprintf("%s step has no quantity", s.Kind.article()), "take it out")
	}
	if s.Kind != Measure {
		return
	}
	if s.Quantity == "length" && !slices.Contains([]string{"loose", "installed", "plain"}, s.State) {
		c.add(key+".state", fmt.Sprintf("%q is no state of what is measured", s.State), `write "loose", "installed" or "plain": like is compared with like only`)
	}
	if s.Readings < 0 || s.Readings > 10 {
		c.add(key+".readings", fmt.Sprintf("number of readings: %d", s.Readings), "ask for 1 to 10")
	}
	if s.Limit != "" && s.Expect == "" && s.Against == "" {
		c.add(key+".limit", "a limit needs something to differ from", "add expect or against")
	}
	if s.Limit != "" && s.LimitOf == "" {
		c.add(key+".limit_source", "the limit's source is missing", "say where the number comes from")
	}
	if s.Expect != "" && s.Source == "" {
		c.add(key+".source", "the expected value's source is missing", "say where the number comes from")
	}
	if s.Expect != "" && s.Against != "" {
		c.add(key+".against", "a reading is judged against one thing only", "keep expect or against")
	}
}

func (c *checker) values(key string, s *Step, pl *place) {
	// where the plan lacks a fact the number is left out and judges nothing
	lenient := *pl
	lenient.partial = true
	number := func(field, text string) *Expr {
		if text == "" {
			return nil
		}
		return c.expr(key+"."+field, text, Number, &lenient)
	}
	s.expect = number("expect", s.Expect)
	s.low = number("low", s.Low)
	s.high = number("high", s.High)
	s.limit = number("limit", s.Limit)
	if s.Must != "" {
		own := *pl
		own.entry, _ = stepType(s)
		own.observes = s.Observes != ""
		s.must = c.expr(key+".must", s.Must, Truth, &own)
	}
}

// near checks what readings should lie near. A value that is not there is no
// fault, since the next one counts then; one of a later step never would be.
func (c *checker) near(key string, s *Step, pl *place) {
	own := *pl
	own.maybe, own.entry = true, Number
	for i := range s.Near {
		n := &s.Near[i]
		at := fmt.Sprintf("%s.near[%d]", key, i)
		n.is = c.expr(at+".is", n.Is, Number, &own)
		if n.Within != "" {
			n.within = c.expr(at+".within", n.Within, Number, &own)
		}
		c.text(at+".where", n.Where, true, pl)
	}
}

func (c *checker) options(key string, s *Step, pl *place) {
	if s.Kind != Choose && s.Kind != Check {
		return
	}
	if len(s.Options) < 2 || len(s.Options) > 9 {
		c.add(key+".option", fmt.Sprintf("number of options: %d", len(s.Options)), "give 2 to 9: one digit answers")
	}
	right, seen := 0, map[string]bool{}
	for i := range s.Options {
		o := &s.Options[i]
		at := fmt.Sprintf("%s.option[%d]", key, i)
		if !idForm().MatchString(o.ID) || seen[o.ID] {
			c.add(at+".id", fmt.Sprintf("%q is no id, or stands twice", o.ID), cureID)
		}
		seen[o.ID] = true
		c.text(at+".text", o.Text, true, pl)
		c.text(at+".stop", o.Stop, false, pl)
		c.text(at+".open_item", o.Open, false, pl)
		if o.Right {
			right++
		}
		if len(o.Until) > 0 && o.Open.Empty() {
			c.add(at+".until", "nothing is left open here that could end", `add open_item.en = "…", or take until out`)
		}
		if o.Grounds && o.Open.Empty() {
			c.add(at+".grounds", "nothing is left open here that could keep the wing on the ground", `add open_item.en = "…", or take grounds out`)
		}
		if o.Exclude != "" {
			o.exclude = c.expr(at+".unless", o.Exclude, Truth, pl)
		}
	}
	if s.Kind == Check && right == 0 {
		c.add(key+".option", "no answer is the right one", "mark the state to be met with right = true, or write kind = \"choose\"")
	}
	if s.Kind == Choose && right > 0 {
		c.add(key+".option", "a choose step has no right answer", "take right out, or write kind = \"check\"")
	}
	if s.Kind == Check && s.Else.Empty() {
		c.add(key+".else", "the text for a wrong state is missing", `write else.en = "…": what the person does now`)
	}
}

// references checks the steps that a step names.
func (c *checker) references(key string, s *Step, pl *place) {
	if s.SameAs != "" {
		t, _ := stepType(s)
		if r, ok := c.p.resolve(s.SameAs, pl.each); !ok || r.typ != t {
			c.add(key+".same_as", fmt.Sprintf("%q is not an answer of the same kind", s.SameAs), "name an earlier step, a let, a param or a fact of that kind")
		} else {
			c.proved(key+".same_as", Use{Name: s.SameAs}, pl)
		}
	}
	if s.Against != "" {
		r, ok := c.p.resolve(s.Against, pl.each)
		switch {
		case !ok || r.typ != Number || r.kind == nameStep && r.step.Kind != Measure || r.kind != nameStep && r.kind != nameParam:
			c.add(key+".against", fmt.Sprintf("%q is not a measure step", s.Against), "name an earlier measure step or a param")
		case r.side == "twin" && r.step.Step == s:
			c.add(key+".against", fmt.Sprintf("the other side's %q is not there yet on the first side", s.Against), "write two steps, one for each side")
		default:
			c.proved(key+".against", Use{Name: s.Against}, pl)
		}
	}
	c.covers(key, s.Covers, pl)
}
