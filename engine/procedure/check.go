package procedure

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"example.org/linewright/engine/wing"
)

// A procedure is proved before it is used: every id, every reference, every
// expression and its types; and that each value an expression reads belongs
// to an earlier step under no stricter `when`, or is guarded by has(name).

var idForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z][a-z0-9_]*$`) })
var procForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z][a-z0-9-]*$`) })

const (
	cureID   = "use small letters, digits and _, starting with a letter"
	cureExpr = "an expression has names, numbers, \"texts\", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len"
	cureName = "name an earlier step, a let above, a param or a fact; or guard it with has(name)"
)

// maxSteps is the most steps that a procedure may have with all its includes:
// far beyond any bench, and it keeps includes within includes from growing
// without end.
const maxSteps = 2000

// checker walks one procedure and notes faults at the keys where they stand.
type checker struct {
	p   *Procedure
	ids map[string]bool
}

func (p *Procedure) check() {
	c := &checker{p: p, ids: map[string]bool{}}
	c.head()
	c.params()
	c.lets()
	c.bars()
	c.tables()
	for i := range p.Phases {
		c.phase(i)
	}
	if len(p.Phases) == 0 {
		c.add("phase", "there is no phase", "write at least one [[phase]]")
	}
	if p.size > maxSteps {
		c.add("phase", fmt.Sprintf("%d steps with all includes", p.size), fmt.Sprintf("at most %d are laid out", maxSteps))
	}
}

func (c *checker) add(key, what, cure string) { c.p.doc.Add(key, what, cure) }

// targets are what a procedure may work on.
var targets = []string{string(wing.KindLine), string(wing.KindLink), string(wing.KindBrakes), string(wing.KindWing)}

func (c *checker) head() {
	p := c.p
	if !procForm().MatchString(p.ID) {
		c.add("id", fmt.Sprintf("%q is no id", p.ID), "use small letters, digits and -, starting with a letter")
	}
	if p.Edition == "" {
		c.add("edition", "the edition is missing", `write edition = "1"; changing a step's id makes a new edition`)
	}
	if !slices.Contains(targets, p.Target) {
		c.add("target", fmt.Sprintf("%q is no target", p.Target), `write "line", "link", "brakes" or "wing"`)
	}
	if p.Shelf.rank() < 0 {
		c.add("shelf", fmt.Sprintf("%q is no shelf", p.Shelf), `write "look", "parts", "mend", "measure" or "back", or leave it out`)
	}
	if p.Pair && p.Target != "brakes" && p.Target != "line" {
		c.add("pair", "only brakes, or a line and its twin, are a pair", `take pair out, or write target = "brakes" or "line"`)
	}
	c.findings()
	c.bare("title", p.Title, true)
	c.bare("purpose", p.Purpose, false)
}

func (c *checker) params() {
	for i, q := range c.p.Params {
		key := fmt.Sprintf("param[%d]", i)
		c.id(key+".name", q.Name)
		if !slices.Contains([]Type{Number, Word, List}, Type(q.Type)) {
			c.add(key+".type", fmt.Sprintf("%q is no type", q.Type), `write "number", "text" or "list"`)
		}
	}
}

// lets gives lets their types; one may use those above it.
func (c *checker) lets() {
	for i := range c.p.Lets {
		l := &c.p.Lets[i]
		key := fmt.Sprintf("let[%d]", i)
		if l.Each != Once && l.Each != EachSide {
			c.add(key+".each", fmt.Sprintf("a let cannot be repeated over %q", l.Each), `write each = "side", or take it out`)
		}
		if l.expr = c.expr(key+".is", l.Is, "", &place{each: l.Each}); l.expr != nil {
			l.typ = l.expr.Result
		}
		c.id(key+".name", l.Name)
	}
}

func (c *checker) bars() {
	for i := range c.p.Bars {
		b := &c.p.Bars[i]
		key := fmt.Sprintf("bar[%d]", i)
		c.barText(key+".say", b.Say)
		c.barText(key+".instead", b.Instead)
		if b.expr = c.expr(key+".when", b.When, Truth, &place{}); b.expr != nil {
			c.factsOnly(key+".when", b.expr)
		}
	}
}

// barText checks what a bar says: nothing is answered when it is said.
func (c *checker) barText(key string, t Text) {
	c.text(key, t, true, &place{})
	for _, lang := range sortedKeys(t) {
		for _, name := range namesIn(t[lang]) {
			if _, ok := c.typeOf(name, &place{}); ok {
				c.isFact(key+"."+lang, name)
			}
		}
	}
}

// factsOnly proves that an expression rests on what is known before a task
// begins.
func (c *checker) factsOnly(key string, e *Expr) {
	for _, n := range e.guards {
		c.isFact(key, n)
	}
	for _, u := range e.uses {
		if c.isFact(key, u.Name) && mayLack[u.Name] && !u.Guarded {
			c.add(key, fmt.Sprintf("not every plan gives %q", u.Name), "guard it: has("+u.Name+") && …")
		}
	}
}

func (c *checker) isFact(key, name string) bool {
	_, ok := factTypes[name]
	if !ok {
		c.add(key, fmt.Sprintf("%q is not a fact of plan and target", name), "a bar is judged before the first step: use facts only")
	}
	return ok
}

// id checks the form of a name and that it is the only one.
func (c *checker) id(key, id string) {
	switch {
	case !idForm().MatchString(id):
		c.add(key, fmt.Sprintf("%q is no id", id), cureID)
	case c.ids[id]:
		c.add(key, fmt.Sprintf("%q is used twice", id), "give every step, let, param, phase and include a name of its own")
	case reserved(id):
		c.add(key, fmt.Sprintf("%q has a meaning of its own", id), "choose another name")
	}
	c.ids[id] = true
}

// keywords are the words that an expression understands by itself.
var keywords = []string{
	"left", "right", "twin", "has", "quotient", "product", "true", "false", "nil", "not", "and", "or", "in", "let", "if", "else",
	"matches", "contains", "startswith", "endswith",
}

// reserved reports whether a name would hide a fact, an extra, a function or
// a word of the expressions.
func reserved(id string) bool {
	if slices.Contains(keywords, id) || slices.Contains(allowed, id) {
		return true
	}
	hides := func(name string) bool { return name == id || strings.HasPrefix(name, id+".") }
	for name := range factTypes {
		if hides(name) {
			return true
		}
	}
	for name := range extraTypes {
		if hides(name) {
			return true
		}
	}
	return false
}

// text checks that English is there and that every {name} is known; a text
// on a covered card must not give the target away.
func (c *checker) text(key string, t Text, needed bool, pl *place) {
	if needed && t["en"] == "" {
		c.add(key, "the English text is missing", key[strings.LastIndex(key, ".")+1:]+`.en = "…"`)
	}
	for _, lang := range sortedKeys(t) {
		c.slots(key+"."+lang, t[lang], pl)
	}
}

// bare checks a text that is shown as it stands, without a task behind it.
func (c *checker) bare(key string, t Text, needed bool) {
	c.text(key, t, needed, &place{})
	for _, lang := range sortedKeys(t) {
		if len(namesIn(t[lang])) > 0 {
			c.add(key+"."+lang, "nothing is filled in here", "take the {…} out")
		}
	}
}

func (c *checker) slots(key, text string, pl *place) {
	for _, name := range namesIn(text) {
		if _, ok := c.typeOf(name, pl); !ok {
			c.add(key, fmt.Sprintf("{%s} is not known here", name), "name a step, let, param or fact")
		} else if pl.hidden && shows(name, pl.each) {
			c.add(key, fmt.Sprintf("{%s} gives the covered target away", name), "take it out; the person has to find it")
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
