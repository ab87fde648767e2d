package wing

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/source"
)

// Fault is one thing that is wrong in a plan file: File, Line, Key, What, Cure.
type Fault = source.Fault

// Faults is every fault of a plan file, in the order of the file.
type Faults = source.Faults

// The lengths in mm that a line or riser branch can have.
const (
	minLineMM = 50
	maxLineMM = 12000
)

// ParsePlan reads a plan file. name is how the file is called in faults. The
// error is a Faults and holds every fault that can be found; the plan is then
// nil. A file that is no TOML stops at its first fault.
func ParsePlan(data []byte, name string) (*Plan, error) {
	var f planFile
	b := &builder{doc: source.Decode(name, data, &f), plan: &Plan{}}
	if b.doc.Unread {
		return nil, b.doc.Faults.Err()
	}
	if f.Edition == nil || *f.Edition != Edition {
		b.edition(f.Edition, data)
		return nil, b.doc.Faults.Err()
	}
	b.decoded()
	b.head(&f)
	b.limits(&f)
	b.risers(f.Risers)
	b.links(f.Links)
	b.lines(f.Lines)
	b.brake(f.Brake)
	b.exceptions(f.Exceptions)
	b.cascade()
	b.stated(&f)
	b.rowPlaces(f.Rows)
	if err := b.doc.Faults.Err(); err != nil {
		return nil, err
	}
	return b.plan, nil
}

// builder turns a planFile into a Plan and notes what is wrong on the way.
type builder struct {
	doc   *source.Doc
	plan  *Plan
	bad   map[string]bool   // keys that could not be read: they are not missing too
	first map[string]string // where a value that must be unique stood first
	at    []int             // place of each line of the plan in the file, where loose lines stand among them
	// looped marks the lines of a loop: their ends say nothing more.
	looped map[int]bool
}

// decoded remembers which keys already have their fault.
func (b *builder) decoded() {
	b.bad = make(map[string]bool, len(b.doc.Faults))
	for _, f := range b.doc.Faults {
		b.bad[f.Key] = true
	}
	b.first = map[string]string{}
}

// edition says why a file is not read further. A key that is there but could
// not be read already has its fault.
func (b *builder) edition(found *int, data []byte) {
	const key = "linewright_plan"
	if found != nil {
		b.doc.Add(key, fmt.Sprintf("edition %d of the plan file is not known", *found),
			fmt.Sprintf("this program reads edition %d: a newer file needs a newer program", Edition))
	} else if !bytes.Contains(data, []byte(key)) {
		b.doc.Add("", "this is no plan file: the key "+key+" is missing", fmt.Sprintf("begin the file with %s = %d", key, Edition))
	}
}

// missing notes a key that has to be there, unless its value, or the table it
// belongs in, was already found faulty.
func (b *builder) missing(key, cure string) {
	for at := key; at != ""; at = at[:max(0, strings.LastIndexByte(at, '.'))] {
		if b.bad[at] {
			return
		}
	}
	b.doc.Add(key, "missing", cure)
}

// key names the key of a field of a line of the plan.
func (b *builder) key(i int, field string) string {
	return fmt.Sprintf("line[%d].%s", b.at[i], field)
}

// name checks a code or name that has to be there.
func (b *builder) name(key, value, example string) bool {
	switch {
	case b.bad[key]:
		return false
	case value == "":
		b.missing(key, "give it, such as "+example)
		return false
	case !IsName(value):
		b.doc.Add(key, fmt.Sprintf("%q cannot be a name", value),
			fmt.Sprintf(`use 1 to %d characters without spaces and without : @ / \ , ; "`, maxName))
		return false
	}
	return true
}

// text checks a free text; need says what to give where it may not be empty.
func (b *builder) text(key, value, need string) string {
	if strings.ContainsRune(value, '\n') {
		b.doc.Add(key, "the text has a line break", "write it on one line")
		return ""
	}
	if strings.TrimSpace(value) == "" && need != "" {
		b.missing(key, need)
	}
	return value
}

// unique notes a value that stands twice among those of its kind.
func (b *builder) unique(kind, value, key, cure string) bool {
	id := kind + "\x00" + value
	if earlier, taken := b.first[id]; taken {
		b.doc.Add(key, fmt.Sprintf("%s %s is already used on line %d", kind, value, b.doc.Line(earlier)), cure)
		return false
	}
	b.first[id] = key
	return true
}

// number checks a number that may be left out and lies from low to high.
func (b *builder) number(key string, v *float64, low, high float64, unit string) (float64, bool) {
	if v == nil {
		return 0, false
	}
	if *v < low || *v > high {
		b.doc.Add(key, strings.TrimSpace(fmt.Sprintf("%v is outside %v to %v %s", *v, low, high, unit)),
			"check the number and its unit against the source")
		return 0, false
	}
	return *v, true
}

// length is number for a length in mm.
func (b *builder) length(key string, mm *float64, low, high float64) quantity.Length {
	v, ok := b.number(key, mm, low, high, "mm")
	if !ok {
		return 0
	}
	l, err := quantity.LengthFromMM(v)
	if err != nil {
		b.doc.Add(key, err.Error(), "give a plain decimal number")
	}
	return l
}

// lineLength is length for a line or a riser branch. Only a partial plan may
// leave it out.
func (b *builder) lineLength(key string, mm *float64) quantity.Length {
	switch {
	case mm == nil && !b.plan.Partial:
		b.missing(key, fmt.Sprintf("give it in mm, %d to %d; only a partial plan may leave it out", minLineMM, maxLineMM))
	case mm != nil && *mm <= 0:
		b.doc.Add(key, fmt.Sprintf("%v mm is not a length", *mm), fmt.Sprintf("give it in mm, %d to %d", minLineMM, maxLineMM))
	default:
		return b.length(key, mm, minLineMM, maxLineMM)
	}
	return 0
}

// given reads a length that has to come with its source.
func (b *builder) given(key string, g *givenTable, high float64) Limit {
	if g == nil {
		return Limit{}
	}
	if g.MM == nil {
		b.missing(key+".mm", "give it in mm, or leave out "+key)
	}
	return Limit{
		Length: b.length(key+".mm", g.MM, 0.1, high),
		Source: b.text(key+".source", g.Source, "say who gives this number"),
	}
}

// oneOf checks a word that has to be one of a few.
func oneOf[T ~string](b *builder, key, value string, words []T) (T, bool) {
	if slices.Contains(words, T(value)) {
		return T(value), true
	}
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = string(w)
	}
	cure := "write one of: " + strings.Join(all, ", ")
	if value == "" {
		b.missing(key, cure)
	} else {
		b.doc.Add(key, fmt.Sprintf("%q is not known here", value), cure)
	}
	return "", false
}
