// Package reckon holds the bench sums: one form a sum, so that the command,
// line mode and the screen all offer the same, without a job.
//
// A front end shows the fields of a Sum, takes each value as typed, and calls
// Do. What comes back is said three ways: rows for a person, the sum followed
// by hand (Why), and a value for JSON, whose names carry their unit.
//
// The package reckons nothing itself: lengths are judged by metrology, and
// paths, knots and strengths by wing. A number that nobody gave says that it
// is a fallback wherever it is shown.
package reckon

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// Kind says what a field takes.
type Kind string

// The kinds of fields.
const (
	KindReadings Kind = "readings" // lengths of one thing; several may stand in one text, see metrology.ParseReadings
	KindLength   Kind = "length"
	KindSigned   Kind = "signed length" // may be below zero
	KindForce    Kind = "force"
	KindTorque   Kind = "torque"
	KindTurns    Kind = "turns"
	KindCount    Kind = "count" // several may stand in one text, parted by blanks
	KindNumber   Kind = "number"
	KindChoice   Kind = "choice"
	KindText     Kind = "text"
)

// Field is one value that a sum takes.
type Field struct {
	Name     string   `json:"name"` // snake_case; a flag writes - for _
	Ask      string   `json:"ask"`
	Kind     Kind     `json:"kind"`
	Unit     string   `json:"unit,omitempty"` // of a bare number
	Options  []string `json:"options,omitempty"`
	Optional bool     `json:"optional,omitempty"`
	Many     bool     `json:"many,omitempty"`     // takes several values
	First    bool     `json:"first,omitempty"`    // a command takes it without its name
	Plan     bool     `json:"plan,omitempty"`     // has a use only where Env has a plan
	Fallback string   `json:"fallback,omitempty"` // what stands where it is left out
}

// Values holds what was typed, by the name of the field.
type Values map[string][]string

// Env is what a sum finds at the bench.
type Env struct {
	Bench metrology.Bench
	Plan  *wing.Plan // nil: no wing was named
}

// Sum is one bench sum.
type Sum struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Purpose string  `json:"purpose"`
	Fields  []Field `json:"fields"`

	do func(*reader) (Result, error)
}

// Row is one line of a result.
type Row struct {
	Name string
	Text string
}

// Result is a sum worked out.
type Result struct {
	Rows []Row
	// Why is the sum as a person follows it by hand, in lines of at most 78
	// columns: the budget of a length, else the terms and their sources.
	Why []string
	// JSON is the value for a program: snake_case names with their unit.
	JSON any
	// Answer is false where the sum says no: outside, not proved, a tail too
	// short, a line too weak. A sum that asks nothing has true.
	Answer bool
}

// Refusal says why nothing was reckoned.
type Refusal struct {
	Field string // the field at fault, empty where it is none alone
	What  string
	Cure  string // what is accepted
}

// Error says in one line what is wrong and in one line what to do.
func (r *Refusal) Error() string {
	what := r.What
	if r.Field != "" {
		what = r.Field + ": " + what
	}
	return what + "\n" + r.Cure
}

// Sums lists the bench sums.
func Sums() []Sum {
	return []Sum{lengthSum, pairSum, pathSum, knotSum, strengthSum, twistSum, threadSum, spannerSum}
}

// Find gives a sum by its ID.
func Find(id string) (Sum, bool) {
	all := Sums()
	i := slices.IndexFunc(all, func(s Sum) bool { return s.ID == id })
	if i < 0 {
		return Sum{}, false
	}
	return all[i], true
}

// Do works the sum out. The error is a *Refusal.
func (s Sum) Do(values Values, env Env) (Result, error) {
	r := &reader{fields: s.Fields, values: values, env: env}
	if err := r.check(); err != nil {
		return Result{}, err
	}
	result, err := s.do(r)
	if r.err != nil {
		err = r.err
	}
	if err != nil {
		return Result{}, refusal("", err)
	}
	return result, nil
}

// refusal turns an error of the engine into a Refusal: the first line says
// what, the second what to do.
func refusal(field string, err error) *Refusal {
	if r, ok := err.(*Refusal); ok {
		return r
	}
	what, cure, _ := strings.Cut(err.Error(), "\n")
	if cured, ok := err.(interface{ Cure() string }); ok {
		cure = cured.Cure()
	}
	return &Refusal{Field: field, What: what, Cure: cure}
}

func refuse(field, cure, what string, args ...any) *Refusal {
	return &Refusal{Field: field, What: fmt.Sprintf(what, args...), Cure: cure}
}
