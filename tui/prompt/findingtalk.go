package prompt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// FindingTalk asks what was found on one thing: which damage, where, in which
// words, with which pictures. It reads and prints nothing, so that line mode
// and the bench put the same questions.
type FindingTalk struct {
	thing job.Thing
	rule  *procedure.FindingRule
	seen  job.Seen
	at    talkStep
	keep  func(path string) (job.Photo, error)
	try   func(*job.Seen) error
}

type talkStep int

const (
	askRule talkStep = iota
	askPlace
	askNote
	askPhoto
	talkOver
)

// NewFindingTalk begins on a thing of an inspect step. keep takes a picture into
// the job; try says whether the finding could be written as far as it is told, so
// that a place beyond the line is refused where it is asked and not at the end.
func NewFindingTalk(thing job.Thing, keep func(path string) (job.Photo, error), try func(*job.Seen) error) *FindingTalk {
	return &FindingTalk{thing: thing, keep: keep, try: try, seen: job.Seen{Thing: thing.Ref}}
}

// TalkQuestion is one question of a talk.
type TalkQuestion struct {
	Ask     string
	Options []string // answered by their number; none: by a text
	Numbers []int    // of the options, where they are not counted from 1
	Empty   string   // what an empty answer means; "": it is none
}

// Number chooses an option.
func (q TalkQuestion) Number(option int) int {
	if q.Numbers == nil {
		return option + 1
	}
	return q.Numbers[option]
}

// Question is the one that is due.
func (t *FindingTalk) Question() TalkQuestion {
	switch t.at {
	case askRule:
		q := TalkQuestion{Ask: "What is it on " + t.thing.Ref.String() + "?"}
		for _, r := range t.thing.Rules {
			q.Options, q.Numbers = append(q.Options, r.Text.In("en")), append(q.Numbers, r.Number)
		}
		return q
	case askPlace:
		return TalkQuestion{Ask: "Where, from its lower end, the one toward the pilot? A length in mm (or cm, m, in, ft if you type it)", Empty: standsElse(t.seen.Place, "not measured")}
	case askNote:
		return TalkQuestion{Ask: "A note in a few words", Empty: standsElse(t.seen.Note, "none")}
	}
	return TalkQuestion{Ask: fmt.Sprintf("Photo file (%s so far)", photos(len(t.seen.Photos))), Empty: "no more"}
}

// standsElse says what an empty answer means: after going back it keeps what
// was said.
func standsElse(said, none string) string {
	if said == "" {
		return none
	}
	return "it stays as it was said, " + said
}

func photos(n int) string {
	if n == 1 {
		return "1 photo"
	}
	return strconv.Itoa(n) + " photos"
}

// Measures reports whether a length in mm is asked for.
func (t *FindingTalk) Measures() bool { return t.at == askPlace }

// Place says a place as it is understood: "1500 mm from its lower end"; "" where
// none is said. The error says what is accepted.
func (t *FindingTalk) Place(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	at, err := quantity.ParseLength(text)
	if err != nil {
		return "", Cured(err)
	}
	return at.String() + " from its lower end", nil
}

// Over reports whether nothing more is asked.
func (t *FindingTalk) Over() bool { return t.at == talkOver }

// Seen is what was answered, for an entry.
func (t *FindingTalk) Seen() *job.Seen { return &t.seen }

// Verdict says what becomes of the finding by its rule.
func (t *FindingTalk) Verdict() string {
	if t.rule == nil {
		return ""
	}
	return fmt.Sprintf("%s: %s", dispositions[t.rule.Disposition], t.rule.Reason.In("en"))
}

// dispositions says in words what becomes of a finding.
var dispositions = map[procedure.Disposition]string{
	procedure.Replace:  "To be replaced before the next flight",
	procedure.Mend:     "To be put right before the next flight",
	procedure.ByLength: "To be measured; its length decides",
	procedure.Workshop: "For a workshop; the wing stays on the ground",
	procedure.Watch:    "To be watched",
	procedure.Sound:    "Sound",
}

// Disposition says in words what becomes of a finding.
func Disposition(d procedure.Disposition) string { return dispositions[d] }

// Take takes the answer to the question that is due. The error says what is
// accepted, and nothing is taken then.
func (t *FindingTalk) Take(text string) error {
	text = strings.TrimSpace(text)
	switch t.at {
	case askRule:
		r, ok := procedure.RuleNamed(t.thing.Rules, text)
		if !ok {
			return fmt.Errorf("%q is none of the answers\n  type one of these numbers: %s", text, procedure.RuleNumbers(t.thing.Rules))
		}
		if !r.Place {
			if err := t.could(r, ""); err != nil {
				return err
			}
			t.seen.Place = ""
		}
		t.rule, t.seen.Rule = r, r.ID
		t.at = askPlace
		if !r.Place {
			t.at = askNote
		}
	case askPlace:
		if text == "" {
			text = t.seen.Place
		}
		if _, err := t.Place(text); err != nil {
			return err
		}
		if err := t.could(t.rule, text); err != nil {
			return err
		}
		t.seen.Place = text
		t.at = askNote
	case askNote:
		if text != "" {
			t.seen.Note = text
		}
		t.at = askPhoto
	case askPhoto:
		if text == "" {
			t.at = talkOver
			return nil
		}
		photo, err := t.keep(text)
		if err != nil {
			return err
		}
		t.seen.Photos = append(t.seen.Photos, photo)
	}
	return nil
}

// could says whether the finding could be written with a rule and a place.
func (t *FindingTalk) could(r *procedure.FindingRule, place string) error {
	seen := t.seen
	seen.Rule, seen.Place = r.ID, place
	return t.try(&seen)
}

// Back goes to the question before; what was answered to all the others stays.
// False at the first.
func (t *FindingTalk) Back() bool {
	switch {
	case t.at == askRule:
		return false
	case t.at == askNote && !t.rule.Place:
		t.at = askRule
	default:
		t.at--
	}
	return true
}

// ThingNamed finds a thing of an inspect step as a person names it: by its
// code, with or without its side and kind, or by its words.
func ThingNamed(things []job.Thing, text string) (job.Thing, error) {
	text = strings.Join(strings.Fields(text), " ")
	var fits []job.Thing
	for _, t := range things {
		if slices.Contains(callings(t.Ref), text) {
			fits = append(fits, t)
		}
	}
	switch len(fits) {
	case 1:
		return fits[0], nil
	case 0:
		if slices.ContainsFunc(things, func(t job.Thing) bool { return calledInOtherCase(t.Ref, text) }) {
			return job.Thing{}, fmt.Errorf("%q is not looked at here: capital and small letters count\n  type the code as the list has it", text)
		}
		return job.Thing{}, fmt.Errorf("%q is not looked at here\n  type the code of a thing as the list has it; capital and small letters count", text)
	}
	all := make([]string, len(fits))
	for i, t := range fits {
		all[i] = t.Ref.String()
	}
	return job.Thing{}, fmt.Errorf("%q can be %s\n  type it with its side or kind", text, strings.Join(all, ", "))
}

// calledInOtherCase reports whether only capital and small letters keep a text
// from being a thing.
func calledInOtherCase(ref wing.Ref, text string) bool {
	return slices.ContainsFunc(callings(ref), func(name string) bool { return strings.EqualFold(name, text) })
}

// callings are the ways in which a thing can be called.
func callings(ref wing.Ref) []string {
	whole := ref.String()
	bare := strings.TrimSuffix(whole, " "+string(ref.Side))
	out := []string{whole, bare, ref.Text(), string(ref.Kind)}
	if ref.Code != "" {
		kind := string(ref.Kind)
		out = []string{whole, bare, ref.Text(), kind + " " + ref.Code, kind + " " + ref.Code + " " + string(ref.Side)}
		if ref.Kind == wing.KindLine || ref.Kind == wing.KindTab {
			out = append(out, ref.Code, ref.Code+" "+string(ref.Side))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
