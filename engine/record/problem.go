package record

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/source"
)

// Status is what a check of a record came to.
type Status string

// The statuses. Only Verified means that somebody who is trusted stands
// behind every byte.
const (
	Verified   Status = "verified"
	NotVouched Status = "not vouched for" // whole, but nobody who is trusted has signed it
	Broken     Status = "not verified"    // something does not fit
)

// Code names what is wrong with a file.
type Code string

// The reasons. Their words stand in words.go.
const (
	Missing      Code = "missing"
	Extra        Code = "extra"
	NotPlain     Code = "not_plain"
	TooLarge     Code = "too_large"
	Unreadable   Code = "unreadable"
	TooMany      Code = "too_many"
	NotARecord   Code = "not_a_record"
	OtherEdition Code = "other_edition"
	Changed      Code = "changed"
	Damaged      Code = "damaged"
	NotRebuilt   Code = "not_rebuilt"
	NotTheSame   Code = "not_the_same"
	SumLine      Code = "sum_line"
	SumOther     Code = "sum_other"
	SumNone      Code = "sum_none"
	SumWrong     Code = "sum_wrong"
	HoldPlace    Code = "hold_place"
	HoldText     Code = "hold_text"
	HoldRole     Code = "hold_role"
	HoldTrust    Code = "hold_trust"
	SameSigner   Code = "same_signer"
	SigBad       Code = "signature_bad"
	SigTrust     Code = "signature_trust"
	SigName      Code = "signature_name"
	NoSignature  Code = "no_signature"
)

// Problem is one thing that does not hold.
type Problem struct {
	Code Code
	File string // as it is called in the folder, without control characters
	Line int    // of the journal; 0 where none can be named
	Args []string
}

// maxProblems is how many problems a report lists; a hostile folder can have
// any number.
const maxProblems = 200

// findings gathers problems. Each is said once.
type findings struct {
	problems []Problem
	more     int // found and not listed
	status   Status
	byFile   map[string]int
	said     map[string]bool
}

func newFindings() findings {
	return findings{status: Verified, byFile: map[string]int{}, said: map[string]bool{}}
}

// add notes a problem with a file.
func (f *findings) add(code Code, file string, args ...any) { f.addAt(code, file, 0, args...) }

// addAt notes a problem with a line of a file.
func (f *findings) addAt(code Code, file string, line int, args ...any) {
	p := problem(code, file, line, args...)
	f.byFile[file]++
	f.status = worse(f.status, code)
	if key := fmt.Sprint(p); f.said[key] {
		return
	} else if len(f.problems) < maxProblems {
		f.said[key] = true
		f.problems = append(f.problems, p)
		return
	}
	f.more++
}

// worse gives the status after one more problem.
func worse(s Status, code Code) Status {
	switch code {
	case HoldTrust, SigTrust, NoSignature:
		if s == Verified {
			return NotVouched
		}
		return s
	}
	return Broken
}

func problem(code Code, file string, line int, args ...any) Problem {
	p := Problem{Code: code, File: source.Clean(file), Line: line}
	for _, a := range args {
		p.Args = append(p.Args, source.Clean(fmt.Sprint(a)))
	}
	return p
}

// Words gives one line what, beginning with the file, and one line what to do.
func (p Problem) Words() (what, do string) {
	w := wording[p.Code]
	place := p.File
	if p.Line > 0 {
		place = fmt.Sprintf("%s line %d", p.File, p.Line)
	}
	return strings.TrimSpace(place + ": " + put(w.what, p.Args)), put(w.do, p.Args)
}

// put writes arguments for {0}, {1} …
func put(text string, args []string) string {
	for i, a := range args {
		text = strings.ReplaceAll(text, fmt.Sprintf("{%d}", i), a)
	}
	return text
}
