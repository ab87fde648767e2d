package reckon

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

// reader hands the values of a sum out by name and kind. The first that cannot
// be read is kept; what follows is zero.
type reader struct {
	fields []Field
	values Values
	env    Env
	err    error
}

// check refuses names that the sum does not have, several values for one, and
// a value that is missing.
func (r *reader) check() error {
	for _, name := range sortedNames(r.values) {
		f, ok := r.field(name)
		switch n := len(r.given(name)); {
		case !ok:
			return refuse("", "fields: "+r.names(), "this sum has no field %s", shown(name))
		case n > 1 && !f.Many:
			return refuse(name, "give one value", "%d values were given", n)
		case slices.ContainsFunc(r.values[name], func(text string) bool { return len(text) > mostTyped }):
			return refuse(name, "give the values alone", "a text of more than %d bytes is not read", mostTyped)
		case f.Kind == KindText && strings.ContainsFunc(r.text(name), source.Hidden):
			return refuse(name, "type it again in plain characters", "there is a control character in it")
		case n > 0 && f.Plan && r.env.Plan == nil:
			return refuse(name, "name the wing too, or give the numbers themselves", "it has a use only with the plan of a wing")
		}
	}
	for _, f := range r.fields {
		if !f.Optional && len(r.given(f.Name)) == 0 {
			return refuse(f.Name, f.Ask, "a value is missing")
		}
	}
	return nil
}

// mostTyped is far above any list of readings.
const mostTyped = 4096

// shown quotes what was typed, cut to a line and fit for a terminal.
func shown(text string) string {
	if runes := []rune(text); len(runes) > quantity.MaxTyped {
		text = string(runes[:quantity.MaxTyped]) + "..."
	}
	return strconv.QuoteToGraphic(text)
}

func sortedNames(values Values) []string {
	names := make([]string, 0, len(values))
	for name := range values {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func (r *reader) field(name string) (Field, bool) {
	for _, f := range r.fields {
		if f.Name == name {
			return f, true
		}
	}
	return Field{}, false
}

func (r *reader) names() string {
	names := make([]string, len(r.fields))
	for i, f := range r.fields {
		names[i] = f.Name
	}
	return strings.Join(names, ", ")
}

// given lists the values of a field that hold anything.
func (r *reader) given(name string) []string {
	var list []string
	for _, text := range r.values[name] {
		if text = strings.TrimSpace(text); text != "" {
			list = append(list, text)
		}
	}
	return list
}

func (r *reader) has(name string) bool { return len(r.given(name)) > 0 }

// text is the one value of a field, "" where it is left out.
func (r *reader) text(name string) string {
	if list := r.given(name); len(list) > 0 {
		return list[0]
	}
	return ""
}

// read reads the one value of a field; zero where it is left out.
func read[T any](r *reader, name string, parse func(string) (T, error)) (value T) {
	text := r.text(name)
	if text == "" || r.err != nil {
		return value
	}
	value, err := parse(text)
	if err != nil {
		r.err = refusal(name, err)
	}
	return value
}

func (r *reader) length(name string) quantity.Length { return read(r, name, quantity.ParseLength) }
func (r *reader) force(name string) quantity.Force   { return read(r, name, quantity.ParseForce) }
func (r *reader) torque(name string) quantity.Torque { return read(r, name, quantity.ParseTorque) }
func (r *reader) turns(name string) quantity.Turns   { return read(r, name, quantity.ParseTurns) }

func (r *reader) signed(name string) quantity.Length {
	return read(r, name, func(text string) (quantity.Length, error) {
		if rest, below := cutMinus(text); below {
			l, err := quantity.ParseLength(rest)
			return -l, err
		}
		return quantity.ParseLength(text)
	})
}

// cutMinus takes the sign off a number below zero; a second one is refused
// with the rest.
func cutMinus(text string) (rest string, below bool) {
	for _, sign := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(text, sign); ok {
			return strings.TrimSpace(rest), true
		}
	}
	return text, false
}

var decimal = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9]+([.,][0-9]+)?$`) })

// number reads a plain decimal from 0 up, with or without the unit.
func (r *reader) number(name, unit string) float64 {
	return read(r, name, func(text string) (float64, error) {
		bare := strings.TrimSpace(strings.TrimSuffix(text, unit))
		x, err := strconv.ParseFloat(strings.Replace(bare, ",", ".", 1), 64)
		if err != nil || !decimal().MatchString(bare) || len(bare) > quantity.MaxTyped || math.IsInf(x, 0) {
			return 0, refuse(name, "give one number such as 15 or 7,5, alone or in "+unit, "%s is no number from 0 up", shown(text))
		}
		return x, nil
	})
}

// count is one whole number; ok is false where it is left out.
func (r *reader) count(name string) (n int, ok bool) {
	return int(read(r, name, quantity.ParseCount)), r.has(name)
}

// counts lists whole numbers, several of which may stand in one text.
func (r *reader) counts(name string) []int {
	var list []int
	for _, word := range strings.Fields(strings.Join(r.given(name), " ")) {
		n, err := quantity.ParseCount(strings.Trim(word, ",;"))
		if err != nil && r.err == nil {
			r.err = refusal(name, err)
		}
		list = append(list, int(n))
	}
	return list
}

// readings lists lengths, several of which may stand in one text.
func (r *reader) readings(name string) []metrology.Reading {
	if r.err != nil || !r.has(name) {
		return nil
	}
	var all []metrology.Reading
	for _, text := range r.given(name) {
		rs, err := metrology.ParseReadings(text)
		if err != nil {
			r.err = refusal(name, err)
			return nil
		}
		all = append(all, rs...)
	}
	return all
}

// choice is one of the options of a field, in any case; the first letters are
// enough where only one begins so.
func (r *reader) choice(name string) string {
	f, _ := r.field(name)
	return read(r, name, func(text string) (string, error) {
		var found []string
		for _, o := range f.Options {
			if strings.EqualFold(text, o) {
				return o, nil
			}
			if len(text) <= len(o) && strings.EqualFold(text, o[:len(text)]) {
				found = append(found, o)
			}
		}
		if len(found) == 1 {
			return found[0], nil
		}
		return "", refuse(name, "take "+strings.Join(f.Options, ", "), "%s is none of the answers", shown(text))
	})
}

// line finds the line that a text such as C1.2@left names in the plan.
func (r *reader) line(name string) (wing.Ref, wing.Line) {
	var l wing.Line
	ref := read(r, name, func(text string) (wing.Ref, error) {
		const cure = "write code and side as C1.2@left; C1 and c1 are two codes"
		ref, err := wing.ParseRef("line:" + strings.TrimPrefix(text, "line:"))
		if err != nil {
			return ref, refuse(name, cure, "%s names no line", shown(text))
		}
		var ok bool
		if l, ok = r.env.Plan.LineAt(ref); !ok {
			return ref, refuse(name, cure, "the plan has no line %s", ref)
		}
		return ref, nil
	})
	return ref, l
}
