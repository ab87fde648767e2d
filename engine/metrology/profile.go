package metrology

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
)

// AnswerKind says what a question about the bench takes.
type AnswerKind string

// The kinds of answers.
const (
	AnswerText     AnswerKind = "text"
	AnswerChoice   AnswerKind = "choice" // an option, or its number from 1
	AnswerLength   AnswerKind = "length" // with or without a unit
	AnswerForce    AnswerKind = "force"
	AnswerNumber   AnswerKind = "number"
	AnswerReadings AnswerKind = "readings" // ten of one line, see ParseReadings
)

// Option is one answer to a choice.
type Option struct {
	Value string `json:"value"`
	Text  string `json:"text"` // what it means
}

// Question is one plain question about the bench.
type Question struct {
	Key      string     `json:"key"` // of the profile's file
	Label    string     `json:"label"`
	Ask      string     `json:"ask"`
	How      string     `json:"how,omitempty"` // how to find it out
	Kind     AnswerKind `json:"kind"`
	Unit     string     `json:"unit,omitempty"` // of a bare number
	Options  []Option   `json:"options,omitempty"`
	Fallback string     `json:"fallback,omitempty"` // what an empty answer takes; empty: an answer is needed
	Now      string     `json:"now,omitempty"`      // what stands; empty: nothing yet
	Assumed  bool       `json:"assumed,omitempty"`  // what stands is a fallback
}

// item is one key of the profile: how it is asked, kept, printed and read.
type item struct {
	key, label, ask, how string
	kind                 AnswerKind
	unit                 string
	options              []Option

	needs   string           // the key that decides whether this one has a use; empty: it always has
	only    string           // when it has one, in words
	belongs func(Bench) bool // nil: always
	quiet   bool             // stands in the file and is not asked
	asked   func(Bench) bool // nil: whenever it belongs and is not quiet

	empty func(Bench) stand // nil: an answer is needed

	at   func(*Bench) any // where the value lies; else set and text serve
	set  func(b *Bench, text string) error
	text func(Bench) string
}

// NewBench returns a bench of which nobody has said anything yet: every key is
// at its fallback and named in Fallback. Answer fills it.
func NewBench() Bench {
	var b Bench
	for _, it := range profile {
		if it.here(b) && it.empty != nil {
			it.leave(&b)
		}
	}
	return b
}

// Questions lists, in order, what is asked about a bench as it stands. An
// answer can bring questions with it, always behind its own, or take some
// away: a caller asks for the list again after each Answer. DefaultBench is
// taken for NewBench.
func Questions(b Bench) []Question {
	b = b.described()
	var list []Question
	for _, it := range profile {
		if it.here(b) && !it.quiet && (it.asked == nil || it.asked(b)) {
			list = append(list, it.question(b))
		}
	}
	return list
}

// Answer returns the bench with the answer to one question, by the key of the
// profile. An empty answer takes the fallback and marks it in Fallback. What
// hangs on the answer follows: a balance check goes with the balance. Whether
// the bench is whole is said by Validate, at the end. The error, a *Error or a
// *quantity.ParseError, leaves the bench as it was.
func Answer(b Bench, key, text string) (Bench, error) {
	i := slices.IndexFunc(profile, func(it item) bool { return it.key == key })
	if i < 0 {
		return b, &Error{Code: CodeKey, A: key, B: keys()}
	}
	it, next := profile[i], b.described()
	if !it.here(next) {
		return b, &Error{Code: CodeNoUse, A: key, B: it.only}
	}
	text = strings.TrimSpace(text)
	if text == "" && it.empty == nil {
		return b, &Error{Code: CodeNoAnswer, A: it.label, B: it.ask}
	}
	if text == "" {
		it.leave(&next)
	} else if err := it.give(&next, text); err != nil {
		return b, err
	}
	next.settle()
	return next, nil
}

// described is a copy that can be changed without touching b.
func (b Bench) described() Bench {
	if b.Default {
		return NewBench()
	}
	b.Calibration, b.TapeRun, b.Balance = clone(b.Calibration), clone(b.TapeRun), clone(b.Balance)
	b.Fallback = slices.Clone(b.Fallback)
	return b
}

func clone[T any](p *T) *T {
	if p == nil {
		return nil
	}
	return new(*p)
}

// mark notes, in the order of the profile, that a fallback acts in a key.
func (b *Bench) mark(key string) {
	if !b.assumes(key) {
		b.Fallback = append(b.Fallback, key)
	}
}

func (b *Bench) unmark(key string) {
	b.Fallback = slices.DeleteFunc(b.Fallback, func(k string) bool { return k == key })
	if len(b.Fallback) == 0 {
		b.Fallback = nil
	}
}

// settle makes the rest fit the last answer: parts that came or went, and
// fallbacks that hang on another key.
func (b *Bench) settle() {
	switch certified := b.TapeClass == ClassCalibrated; {
	case certified && b.Calibration == nil:
		b.Calibration, b.Hook = &Calibration{}, false
	case !certified && b.Calibration != nil:
		b.Calibration = nil
		b.mark(keyHook)
	}
	if b.TapeMaterial == steel {
		b.TapeExpansionPerC = 0
	}
	if b.PullHow != PullBalance {
		b.Balance = nil
	}
	marked := b.Fallback
	b.Fallback = nil
	for _, it := range profile {
		if slices.Contains(marked, it.key) && it.here(*b) {
			it.leave(b)
		}
	}
}

// here reports whether the key has a use on the bench.
func (it item) here(b Bench) bool { return it.belongs == nil || it.belongs(b) }

// leave takes what an empty answer stands for.
func (it item) leave(b *Bench) {
	s := it.empty(*b)
	if err := it.put(b, s.text); err != nil {
		panic("metrology: fallback of " + it.key + ": " + err.Error())
	}
	b.unmark(it.key)
	if s.assumed {
		b.mark(it.key)
	}
}

// give takes an answer and checks it.
func (it item) give(b *Bench, text string) error {
	if it.kind == AnswerChoice {
		option, err := it.option(text)
		if err != nil {
			return err
		}
		text = option
	}
	b.unmark(it.key)
	if err := it.put(b, text); err != nil {
		return err
	}
	for _, d := range slices.Concat(b.basicDemands(), b.budgetDemands(), b.optionalDemands()) {
		if d.key == it.key && !d.met {
			return &Error{Code: CodeBench, A: d.key, B: d.want}
		}
	}
	return nil
}

func (it item) option(text string) (string, error) {
	var values []string
	for i, o := range it.options {
		if strings.EqualFold(text, o.Value) || text == fmt.Sprint(i+1) {
			return o.Value, nil
		}
		values = append(values, o.Value)
	}
	return "", &Error{Code: CodeOption, A: text, B: strings.Join(values, ", ")}
}

// put keeps a text as the value of the key.
func (it item) put(b *Bench, text string) (err error) {
	if it.set != nil {
		return it.set(b, text)
	}
	switch p := it.at(b).(type) {
	case *string:
		*p = text
	case *bool:
		*p = text == yes
	case *quantity.Length:
		*p, err = orZero(quantity.ParseLength, text)
	case *quantity.Force:
		*p, err = orZero(quantity.ParseForce, text)
	case *float64:
		*p, err = parseNumber(text, it.unit)
	}
	return err
}

func orZero[T any](parse func(string) (T, error), text string) (T, error) {
	if text == "" {
		var zero T
		return zero, nil
	}
	return parse(text)
}

const (
	yes = "yes"
	no  = "no"
)

// value is what stands, as an answer would give it; empty where nothing does.
func (it item) value(b Bench) string {
	if it.text != nil {
		return it.text(b)
	}
	switch p := it.at(&b).(type) {
	case *string:
		return *p
	case *bool:
		if *p {
			return yes
		}
		return no
	case *quantity.Length:
		return numberUnlessZero(p.MM())
	case *quantity.Force:
		return numberUnlessZero(p.N())
	case *float64:
		if it.kind == AnswerNumber && it.empty == nil {
			return numberUnlessZero(*p)
		}
		return plainNumber(*p)
	}
	return ""
}

func numberUnlessZero(x float64) string {
	if x == 0 {
		return ""
	}
	return plainNumber(x)
}

// words is what stands, for a person.
func (it item) words(b Bench) string {
	value := it.value(b)
	switch {
	case value == "" && it.empty != nil:
		return it.empty(b).words
	case value != "" && it.unit != "":
		return value + " " + it.unit
	}
	return value
}

func (it item) question(b Bench) Question {
	q := Question{
		Key: it.key, Label: it.label, Ask: it.ask, How: it.how, Kind: it.kind, Unit: it.unit, Options: it.options,
		Now: it.words(b), Assumed: b.assumes(it.key),
	}
	if it.empty != nil {
		left := b.described()
		it.leave(&left)
		q.Fallback = it.words(left)
	}
	return q
}

func unknownKey(key string) bool {
	return !slices.ContainsFunc(profile, func(it item) bool { return it.key == key })
}

func keys() string {
	names := make([]string, len(profile))
	for i, it := range profile {
		names[i] = it.key
	}
	return strings.Join(names, ", ")
}
