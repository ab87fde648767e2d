package procedure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// The kinds of steps that look at a whole wing: inspect, lengths, trim, loops
// and clear. What they find is kept by the job; here stands what they look at
// and by which rules.

// Disposition says what becomes of a finding.
type Disposition string

// The dispositions. All but Watch and Sound keep the wing on the ground.
const (
	Replace  Disposition = "replace"  // the part is renewed before the next flight
	Mend     Disposition = "mend"     // put right at the bench, without a new part
	ByLength Disposition = "measure"  // its length decides
	Workshop Disposition = "workshop" // no work for a bench: cloth, tabs, sewing
	Watch    Disposition = "watch"    // may fly; it is looked at again
	Sound    Disposition = "sound"    // noted, and nothing follows
)

// Dispositions lists all of them, the gravest first.
var Dispositions = []Disposition{Workshop, Replace, Mend, ByLength, Watch, Sound}

// Grounds reports whether a finding keeps the wing on the ground while it is
// open. What is not known does.
func (d Disposition) Grounds() bool { return d != Watch && d != Sound }

// FindingRule is one state that can be found on a thing, and what becomes of
// it. The rules are a table of the procedure: what a maker or a workshop
// prescribes otherwise is another table.
type FindingRule struct {
	ID string `toml:"id"`
	// Number chooses it, on whatever thing it is found, so that hands learn it:
	// what cannot be on a thing leaves its number out there. In a table without
	// numbers it is the place in the table.
	Number      int         `toml:"number"`
	Text        Text        `toml:"text"` // as a person finds it
	On          []string    `toml:"on"`   // kinds of things: see thingKinds
	Disposition Disposition `toml:"disposition"`
	Reason      Text        `toml:"reason"`
	// Place asks where on the thing it is.
	Place bool `toml:"place"`
}

// Two kinds of lines and of links have different damages.
const (
	onSheathed = "sheathed line"
	onBare     = "bare line"
	onScrew    = "screw link"
	onSoft     = "soft link"
)

// thingKinds are the words that a rule's `on` may have.
var thingKinds = []string{
	onSheathed, onBare, onScrew, onSoft,
	string(wing.KindTab), string(wing.KindCloth), string(wing.KindRetainer), string(wing.KindRiser),
	string(wing.KindPulley), string(wing.KindHandle), string(wing.KindKnot), string(wing.KindParking),
}

// What an inspect step looks at, and a lengths step measures.
const (
	OfCloth    = "cloth"
	OfLines    = "lines"
	OfFittings = "fittings"
	OfKin      = "kin"     // twins and neighbours of what was found damaged
	OfRow      = "row"     // all paths of the turn's row
	OfChanged  = "changed" // paths that the work of this job changed, their twins, one that it did not touch
)

// thingKind is the word of a rule's `on` for a thing.
func thingKind(plan *wing.Plan, ref wing.Ref) string {
	switch ref.Kind {
	case wing.KindLine:
		if l, ok := plan.LineAt(ref); ok && l.Bare {
			return onBare
		}
		return onSheathed
	case wing.KindLink:
		if l, ok := plan.Link(ref.Code); ok && l.Kind == wing.Soft {
			return onSoft
		}
		return onScrew
	}
	return string(ref.Kind)
}

// Rules lists what can be found on a thing by the table of the slot's
// procedure, in the order of their numbers.
func (sl *Slot) Rules(ref wing.Ref) []*FindingRule {
	kind := thingKind(sl.scope.whole.plan, ref)
	table := sl.scope.proc.Findings
	var out []*FindingRule
	for i := range table {
		if slices.Contains(table[i].On, kind) {
			out = append(out, &table[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *FindingRule) int { return cmp.Compare(a.Number, b.Number) })
	return out
}

// Rule finds a rule of the slot's procedure by its id.
func (sl *Slot) Rule(id string) (*FindingRule, bool) {
	table := sl.scope.proc.Findings
	i := slices.IndexFunc(table, func(r FindingRule) bool { return r.ID == id })
	if i < 0 {
		return nil, false
	}
	return &table[i], true
}

// Things lists what an inspect step looks at, in the order in which a hand
// goes over it. Of OfKin only the job knows: nil.
func (sl *Slot) Things() []wing.Ref {
	plan, turn := sl.scope.whole.plan, sl.Instance
	if plan == nil {
		return nil
	}
	switch sl.Step.Of {
	case OfCloth:
		return plan.ClothThings(turn.Side)
	case OfLines:
		return plan.LineThings(turn.Row, turn.Side)
	case OfFittings:
		return plan.FittingThings(turn.Side)
	}
	return nil
}

// whole checks a step that looks at the whole wing.
func (c *checker) whole(key string, s *Step) {
	if c.p.Target != string(wing.KindWing) {
		c.add(key+".kind", fmt.Sprintf("%s step is for a whole wing", s.Kind.article()), `write target = "wing", or another kind`)
	}
	of := map[Kind][]string{Inspect: {OfCloth, OfLines, OfFittings, OfKin}, Lengths: {OfRow, OfChanged}}[s.Kind]
	if len(of) > 0 && !slices.Contains(of, s.Of) {
		c.add(key+".of", fmt.Sprintf("%q is nothing that it can look at", s.Of), "write one of: "+strings.Join(of, ", "))
	}
	if s.Kind == Inspect && len(c.p.Findings) == 0 {
		c.add(key, "there are no rules for what is found", "write a [[finding]] for each state, with its disposition")
	}
}

// repeated checks that what a step looks at has the turns that it needs.
func (c *checker) repeated(key string, at *located) {
	want := map[string]Each{OfCloth: EachSide, OfFittings: EachSide, OfLines: EachRowSide, OfRow: EachRow, OfKin: Once, OfChanged: Once}
	each, known := want[at.Of]
	if !known || each == at.each || at.Kind != Inspect && at.Kind != Lengths {
		return
	}
	cure := fmt.Sprintf("write each = %q", each)
	if each == Once {
		cure = "take each out"
	}
	c.add(key+".of", fmt.Sprintf("%q is not looked at once for each %q", at.Of, at.each), cure)
}

// findings checks the table of rules.
func (c *checker) findings() {
	seen := map[string]bool{}
	for i := range c.p.Findings {
		r := &c.p.Findings[i]
		key := fmt.Sprintf("finding[%d]", i)
		if !idForm().MatchString(r.ID) || seen[r.ID] {
			c.add(key+".id", fmt.Sprintf("%q is no id, or stands twice", r.ID), cureID)
		}
		seen[r.ID] = true
		c.bare(key+".text", r.Text, true)
		c.bare(key+".reason", r.Reason, true)
		if !slices.Contains(Dispositions, r.Disposition) {
			c.add(key+".disposition", fmt.Sprintf("%q is no disposition", r.Disposition), `write "replace", "mend", "measure", "workshop", "watch" or "sound"`)
		}
		if strings.HasPrefix(r.ID, "unsure") && !r.Disposition.Grounds() {
			c.add(key+".disposition", "what is not known is not sound", `write "measure", "replace" or "workshop"`)
		}
		c.foundOn(key, r)
		c.numbered(i)
	}
	if c.p.Receives && c.p.Target != string(wing.KindLine) {
		c.add("receives", "only a line is received by a task of its own", `take it out, or write target = "line"`)
	}
	for i, kind := range c.p.PutsRight {
		if !slices.Contains(mendable, wing.Kind(kind)) {
			c.add(fmt.Sprintf("puts_right[%d]", i), fmt.Sprintf("%q is no kind of thing that work here puts right", kind), cureMends)
		}
	}
	for i, kind := range c.p.Mends {
		if !slices.Contains(mendable, wing.Kind(kind)) {
			c.add(fmt.Sprintf("mends[%d]", i), fmt.Sprintf("%q is no kind of thing that work here mends", kind), cureMends)
		}
		if c.p.Target == string(wing.KindBrakes) && !c.p.hasStep(func(s *Step) bool { return s.Mends == kind }) {
			c.add(fmt.Sprintf("mends[%d]", i), fmt.Sprintf("no step says on which side a %s is mended", kind), fmt.Sprintf("write mends = %q at the step by which it is", kind))
		}
	}
}

// foundOn checks on what a state can be found. Only a line has a length that
// can end a finding.
func (c *checker) foundOn(key string, r *FindingRule) {
	for _, on := range r.On {
		switch {
		case !slices.Contains(thingKinds, on):
			c.add(key+".on", fmt.Sprintf("%q is no kind of thing", on), "write some of: "+strings.Join(thingKinds, ", "))
		case r.Disposition == ByLength && on != onSheathed && on != onBare:
			c.add(key+".disposition", fmt.Sprintf("no length decides about a %s", on), `write "replace" or "workshop", or keep to lines`)
		}
	}
	if len(r.On) == 0 {
		c.add(key+".on", "it can be found on nothing", "write some of: "+strings.Join(thingKinds, ", "))
	}
}

// mends checks a step by which something of the brakes is mended.
func (c *checker) mends(key string, at *located) {
	switch {
	case at.Mends == "":
	case c.p.Target != string(wing.KindBrakes):
		c.add(key+".mends", "only work on both brakes says which step mends what", "take it out; the head says what the task mends")
	case !slices.Contains(c.p.Mends, at.Mends):
		c.add(key+".mends", fmt.Sprintf("the head does not say that a %q is mended", at.Mends), "add it to mends in the head")
	case at.each != EachSide:
		c.add(key+".mends", "nobody can tell on which side", `write each = "side"`)
	}
}

// hasStep reports whether one of the procedure's own steps is such a one.
func (p *Procedure) hasStep(is func(*Step) bool) bool {
	for _, at := range p.byID {
		if is(at.Step) {
			return true
		}
	}
	return false
}

const cureMends = `write some of "line", "link", "retainer", "riser", "pulley", "handle", "knot", "parking"`

// mendable are the kinds of things that a task can mend; cloth and tabs are
// for a workshop.
var mendable = []wing.Kind{
	wing.KindLine, wing.KindLink, wing.KindRetainer, wing.KindRiser, wing.KindPulley, wing.KindHandle, wing.KindKnot, wing.KindParking,
}
