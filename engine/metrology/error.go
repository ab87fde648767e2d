package metrology

import "fmt"

// Code says why something was refused.
type Code string

// The reasons. A and B of the Error are given in brackets.
const (
	CodeNoReadings    Code = "no readings"
	CodeReading       Code = "reading"        // below zero or too long [the reading]
	CodeState         Code = "state"          // unknown [the state]
	CodeForce         Code = "force"          // below zero [the force]
	CodeStrength      Code = "strength"       // needed to correct the pull [the pull, the plan's]
	CodeNominal       Code = "nominal"        // not given, to look ahead
	CodeOneReading    Code = "one reading"    // a reference needs two
	CodeNotRepeating  Code = "not repeating"  // readings too far apart for a reference [spread, allowed]
	CodeBench         Code = "bench"          // a fault of the profile [key, what is taken]
	CodeNotAlike      Code = "not alike"      // two states or rules [first, second]
	CodeNotEvaluated  Code = "not evaluated"  // a measurement without terms
	CodeNoUncertainty Code = "no uncertainty" // U not above zero, or absurd
	CodeLimit         Code = "limit"          // not above zero, or absurd [the limit]
	CodeKey           Code = "key"            // the profile has no such key [key, the keys]
	CodeNoUse         Code = "no use"         // a key that means nothing on this bench [key, where it does]
	CodeNoAnswer      Code = "no answer"      // a key without a fallback [label, question]
	CodeOption        Code = "option"         // none of the answers [typed, the answers]
	CodeNumber        Code = "number"         // no decimal number [typed, unit]
	CodeFewReadings   Code = "few readings"   // for a repeatability [count, wanted]
)

// Error is a refusal. Nothing was computed.
type Error struct {
	Code Code
	A, B string
}

// Error says in one line what is wrong.
func (e *Error) Error() string {
	switch e.Code {
	case CodeNoReadings:
		return "there is no reading to evaluate"
	case CodeReading:
		return fmt.Sprintf("a reading of %s cannot be a length on the bench", e.A)
	case CodeState:
		return fmt.Sprintf("there is no state %q", e.A)
	case CodeForce:
		return fmt.Sprintf("a force of %s cannot be a strength or a pull", e.A)
	case CodeStrength:
		return fmt.Sprintf("pulled at %s, the plan asks for %s, and without the strength of the line its stretch is not known", e.A, e.B)
	case CodeNominal:
		return "without an expected length nothing can be foreseen"
	case CodeOneReading:
		return "one reading alone is no reference"
	case CodeNotRepeating:
		return fmt.Sprintf("the readings lie %s apart, %s are allowed: they are no reference", e.A, e.B)
	case CodeBench:
		return fmt.Sprintf("bench profile: %s is not one that is taken", e.A)
	case CodeNotAlike:
		return fmt.Sprintf("not alike: one was measured %s, the other %s", e.A, e.B)
	case CodeNotEvaluated:
		return "a measurement without its uncertainty cannot be compared"
	case CodeNoUncertainty:
		return "a deviation without its uncertainty proves nothing"
	case CodeKey:
		return fmt.Sprintf("there is no key %q in a bench profile", e.A)
	case CodeNoUse:
		return fmt.Sprintf("%s has no use on this bench", e.A)
	case CodeNoAnswer:
		return fmt.Sprintf("%s needs an answer", e.A)
	case CodeOption:
		return fmt.Sprintf("%q is none of the answers", e.A)
	case CodeNumber:
		return fmt.Sprintf("%q is no number", e.A)
	case CodeFewReadings:
		return fmt.Sprintf("%s readings do not tell how well these hands repeat", e.A)
	case CodeLimit:
		return fmt.Sprintf("a limit of %s cannot be judged against", e.A)
	}
	return string(e.Code)
}

// Cure says in one line what to do.
func (e *Error) Cure() string {
	switch e.Code {
	case CodeNoReadings:
		return "measure once at least"
	case CodeReading:
		return fmt.Sprintf("read again: up to %s is taken, and nothing below zero", MaxLength)
	case CodeState:
		return "use loose, installed or plain"
	case CodeForce:
		return "give a force above 0 N, or none where it is not known"
	case CodeStrength:
		return "pull as the plan asks, or give the strength of each line"
	case CodeNominal:
		return "give the expected length with its source"
	case CodeOneReading:
		return "measure it a second time, from the start"
	case CodeNotRepeating:
		return "settle the line and measure again; a bare core whose sheath slides is compared with its twin instead"
	case CodeBench:
		return fmt.Sprintf("set %s to %s", e.A, e.B)
	case CodeNotAlike:
		return "measure both the same way: loose with loose, installed with installed"
	case CodeNotEvaluated:
		return "measure both on a bench first"
	case CodeNoUncertainty:
		return "evaluate the readings on a bench first"
	case CodeKey:
		return "keys: " + e.B
	case CodeNoUse:
		return "it has one " + e.B
	case CodeNoAnswer:
		return e.B
	case CodeOption:
		return "answers: " + e.B
	case CodeNumber:
		if e.B == "" {
			return "type one number such as 24 or 1,5"
		}
		return "type one number such as 24 or 1,5, alone or in " + e.B
	case CodeFewReadings:
		return fmt.Sprintf("give %s of one line, each measured from the start", e.B)
	case CodeLimit:
		return "give a limit above 0 mm, with its source"
	}
	return "look at the values given"
}
