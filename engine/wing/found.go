package wing

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
)

// Found asks at the bench for a plan of the wing as it was found, where there
// are no papers: the lines of one link, what they carry, and the lengths of the
// twins of those that are to be worked on. It asks nothing that neither the
// plan nor the work on that line needs.
//
// It does not change: Answer gives the next one, so that looking back is to
// keep the one before. The same answers give the same plan.
type Found struct {
	head  FoundHead
	given []string
}

// FoundHead is what is known before the first question. Name and Size of the
// wing are asked for where they are empty.
type FoundHead struct {
	By   string // who asks the wing
	Date string // of that day, 2026-05-01
	Name string
	Size string
}

// NewFound begins.
func NewFound(head FoundHead) Found { return Found{head: head} }

// FoundKey names a question.
type FoundKey string

const (
	FoundName    FoundKey = "name"
	FoundSize    FoundKey = "size"
	FoundFoot    FoundKey = "foot"    // what the lines hang on
	FoundBranch  FoundKey = "branch"  // of the riser
	FoundLines   FoundKey = "lines"   // on it, from the centre
	FoundCarries FoundKey = "carries" // what each of them carries
	FoundBare    FoundKey = "bare"    // which have no sheath
	FoundTarget  FoundKey = "target"  // which are to be worked on
	FoundAbove   FoundKey = "above"   // what a target above a joint carries
	FoundSide    FoundKey = "side"    // on which the twins are measured
	FoundPull    FoundKey = "pull"
	FoundLength  FoundKey = "length" // of one line
)

// FoundKind says what answers a question.
type FoundKind string

const (
	FoundText   FoundKind = "text"
	FoundOne    FoundKind = "name"   // one name
	FoundChoice FoundKind = "choice" // one of the options
	FoundCodes  FoundKind = "codes"  // codes with spaces between, or an option
	FoundCounts FoundKind = "counts" // numbers, or codes with a slash between those of each line
	FoundForce  FoundKind = "force"
	FoundMM     FoundKind = "length" // or an option
)

// FoundQuestion is what is asked next. No is its number, from 1; Line is the
// line that it is about, where it is about one.
type FoundQuestion struct {
	No      int           `json:"no"`
	Key     FoundKey      `json:"key"`
	Kind    FoundKind     `json:"kind"`
	Line    string        `json:"line,omitempty"`
	Ask     string        `json:"ask"`
	Hint    string        `json:"hint"`
	Options []FoundOption `json:"options,omitempty"`
}

// FoundOption is a word that answers a question, and what it means.
type FoundOption struct {
	Word string `json:"word"`
	Text string `json:"text"`
}

// Ask gives the next question; false when all is said.
func (f Found) Ask() (FoundQuestion, bool) {
	s := f.replay()
	key, line, more := s.due()
	if !more {
		return FoundQuestion{}, false
	}
	q := s.words(key, line)
	q.No, q.Key, q.Line = len(f.given)+1, key, line
	return q, true
}

// Answer takes the answer to the question that is asked. The error is a
// *SumError: what is wrong and what to do; nothing is taken then.
func (f Found) Answer(text string) (Found, error) {
	s := f.replay()
	key, line, more := s.due()
	if !more {
		return f, refuse("nothing more is asked", "look back to change an answer")
	}
	text = strings.TrimSpace(text)
	if err := s.take(key, line, text); err != nil {
		return f, err
	}
	f.given = append(slices.Clone(f.given), text)
	return f, nil
}

// Back takes the last answer back.
func (f Found) Back() Found {
	f.given = f.given[:max(0, len(f.given)-1)]
	return f
}

// Answers counts the answers so far.
func (f Found) Answers() int { return len(f.given) }

// foundState is what is known after some answers.
type foundState struct {
	head   FoundHead
	done   map[FoundKey]bool
	foot   string // an option of FoundFoot
	branch string
	lines  []foundLine // those on the foot, each followed by what it carries
	bare   func(foundLine) bool
	target []string // codes, in their order
	above  map[string]bool
	side   Side
	pull   quantity.Force
	length map[string]quantity.Length
	// counted says that codes were made up here.
	counted bool
}

type foundLine struct {
	code   string
	on     string // code of the line below; empty: on the foot
	pos    int
	joints int
}

// replay goes through the answers. Each was taken before, so none is refused.
func (f Found) replay() *foundState {
	s := &foundState{head: f.head, done: map[FoundKey]bool{}, above: map[string]bool{}, length: map[string]quantity.Length{}}
	s.done[FoundName], s.done[FoundSize] = f.head.Name != "", f.head.Size != ""
	for _, text := range f.given {
		key, line, _ := s.due()
		_ = s.take(key, line, text)
	}
	return s
}

// due gives the question that comes next.
func (s *foundState) due() (key FoundKey, line string, more bool) {
	for _, key := range []FoundKey{FoundName, FoundSize, FoundFoot, FoundBranch, FoundLines, FoundCarries, FoundBare, FoundTarget} {
		if !s.done[key] {
			return key, "", true
		}
	}
	for _, code := range s.target {
		if l := s.line(code); l.joints > 0 && !s.above[code] {
			return FoundAbove, code, true
		}
	}
	if len(s.target) == 0 {
		return "", "", false
	}
	for _, key := range []FoundKey{FoundSide, FoundPull} {
		if !s.done[key] {
			return key, "", true
		}
	}
	for _, code := range s.target {
		if _, told := s.length[code]; !told {
			return FoundLength, code, true
		}
	}
	return "", "", false
}

func (s *foundState) line(code string) foundLine {
	i := slices.IndexFunc(s.lines, func(l foundLine) bool { return l.code == code })
	return s.lines[i]
}

// onFoot lists the codes of the lines that hang on the foot.
func (s *foundState) onFoot() []string {
	return s.codes(func(l foundLine) bool { return l.joints == 0 })
}

func (s *foundState) codes(which func(foundLine) bool) []string {
	var codes []string
	for _, l := range s.lines {
		if which(l) {
			codes = append(codes, l.code)
		}
	}
	return codes
}

// Plan gives the text of the plan file, and the plan that it is. The error is a
// *SumError while questions are open, else that of ParsePlan.
func (f Found) Plan() ([]byte, *Plan, error) {
	s := f.replay()
	if key, _, more := s.due(); more {
		return nil, nil, refuse(fmt.Sprintf("the question %q is open", key), "answer it first")
	}
	d := s.draft()
	d.Remark = fmt.Sprintf("Made at the bench from the wing as found, with %d answers. Add to it what is found out later.", len(f.given))
	text := d.TOML()
	p, err := ParsePlan(text, "plan of the wing as found")
	if err != nil {
		return nil, nil, err
	}
	return text, p, nil
}
