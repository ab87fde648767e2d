// Package procedure reads the files that say how a task is done: phases,
// cards, steps, and the expressions that tie a step's answer to what was
// answered before it.
//
// A procedure is data. It is checked when it is read (see Lint), so that a
// fault in it is met by its author at the desk and not by the person who
// holds an open link. Unfolding depends on the procedure, the plan and the
// target alone, never on an answer: a `when` skips a step, it never adds one.
package procedure

import "example.org/linewright/engine/source"

// Edition is the edition of the file format that this package writes and the
// newest it reads.
const Edition = 1

// Kind says what a step asks of the person.
type Kind string

// The kinds of steps. Values answer steps, not "ok": only Do is answered by a
// bare Enter.
const (
	Do      Kind = "do"      // a thing to do; answered when it is done
	Measure Kind = "measure" // readings of a length, force or torque
	Choose  Kind = "choose"  // one of several states, any of which may be met
	Check   Kind = "check"   // one of several states, of which some are right
	Count   Kind = "count"   // a number of things or turns
	Code    Kind = "code"    // a line code as it is written on the part
	Order   Kind = "order"   // the codes of the lines on a link, centre first
	Note    Kind = "note"    // free text
	Photo   Kind = "photo"   // a picture file
	Sign    Kind = "sign"    // a hold: a named person signs

	Inspect Kind = "inspect" // things looked at one by one: findings, then the rest is touched and sound
	Lengths Kind = "lengths" // the paths of a row, both sides, measured one after the other
	Trim    Kind = "trim"    // the report of what the lengths steps before it measured
	Loops   Kind = "loops"   // which loops bring the trim reported before it inside its limits; the changes are work where a choice behind it on its card is answered "change", or none stands there
	Clear   Kind = "clear"   // nothing is left that keeps the wing on the ground
)

// article names the kind with its article.
func (k Kind) article() string {
	if k == Order || k == Inspect {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// Each says over what a phase, a card or a step is repeated.
type Each string

// The things that unfolding repeats over.
const (
	Once          Each = ""
	EachSide      Each = "side"       // left, then right
	EachLine      Each = "line"       // every line of the target's link, from the centre
	EachJoint     Each = "joint"      // the joints between link and canopy end of the target, link first
	EachRefit     Each = "refit"      // the same joints, canopy first: what is nearest the canopy is looped first
	EachNeighbour Each = "neighbours" // the other lines of the target's link, from the centre
	EachRow       Each = "row"        // every row of the plan
	EachRowSide   Each = "row side"   // every row of the plan, its left and then its right
)

// Role says who may sign a hold.
type Role string

// The roles of a signature.
const (
	Doer   Role = "doer"
	Second Role = "second" // a second look: another key than the doer's
	Pilot  Role = "pilot"  // takes the tag off; may have done the work
)

// Text is a text by language. "en" is always there; Lint sees to it.
type Text map[string]string

// In gives the text in a language, or else in English.
func (t Text) In(lang string) string {
	if s, ok := t[lang]; ok {
		return s
	}
	return t["en"]
}

// Empty reports whether there is no text at all.
func (t Text) Empty() bool { return len(t) == 0 }

// Procedure is one procedure file.
type Procedure struct {
	Format  int    `toml:"linewright_procedure"`
	ID      string `toml:"id"`
	Edition string `toml:"edition"` // edition of this procedure, printed in the record
	Title   Text   `toml:"title"`
	Purpose Text   `toml:"purpose"`
	Shelf   Shelf  `toml:"shelf"`  // with which others it stands in lists
	Order   int    `toml:"order"`  // place there; 0 stands last
	Target  string `toml:"target"` // "line", "link", "brakes" or "wing"
	Pair    bool   `toml:"pair"`   // neither side counts as closed until both are
	Source  string `toml:"source"` // where the practice comes from

	// Receives says that the part for the target is at hand and right once such
	// a task is done: the name `received` is true in other tasks on it.
	Receives bool `toml:"receives"`
	// Mends lists the kinds of things (wing.Kind) whose findings are mended by a
	// task that is done: the target itself, or what belongs to it.
	Mends []string `toml:"mends"`
	// PutsRight lists the kinds of things whose findings are over after the task
	// where they need no new part: a gate that was loose is home.
	PutsRight []string `toml:"puts_right"`
	// Findings are the rules of the inspect steps.
	Findings []FindingRule `toml:"finding"`

	Params []Param `toml:"param"`
	Tables []Table `toml:"table"`
	Lets   []Let   `toml:"let"`
	Bars   []Bar   `toml:"bar"`
	Phases []Phase `toml:"phase"`

	data []byte
	sha  string // SHA-256 of the file, hex

	doc   *source.Doc
	size  int // steps, with those of all includes
	byID  map[string]*located
	parts map[string]*Procedure // included procedures by id
}

// SHA256 is the digest of the file's bytes, in hex: what a job pins.
func (p *Procedure) SHA256() string { return p.sha }

// Param is a value that an including procedure may hand over.
type Param struct {
	Name     string `toml:"name"`
	Type     string `toml:"type"` // "number", "text" or "list"
	Optional bool   `toml:"optional"`
}

// Let names an expression, so that texts and several steps can use it.
type Let struct {
	Name string `toml:"name"`
	Each Each   `toml:"each"`
	Is   string `toml:"is"`
	expr *Expr
	typ  Type
}

// Table puts values of both sides beside each other, as a sheet of paper does;
// a card names it. What is not there yet is left blank.
type Table struct {
	ID   string `toml:"id"`
	Rows []Row  `toml:"row"`
}

// Row is one value of both sides, with what it is held to. Its expressions are
// read once for each side.
type Row struct {
	Name  Text   `toml:"name"`
	Is    string `toml:"is"`    // in mm, unless Plain
	Plain bool   `toml:"plain"` // a number without a unit
	Plan  string `toml:"plan"`  // what it should be
	Least string `toml:"least"` // at least this
	Limit string `toml:"limit"` // how far the two may lie apart, or from plan

	is, plan, least, limit *Expr
}

// Bar keeps the procedure from being used on a target that it does not fit.
// It is judged once, when the task is added, from the plan alone.
type Bar struct {
	When    string `toml:"when"`
	Say     Text   `toml:"say"`     // what is in the way
	Instead Text   `toml:"instead"` // what to do instead

	expr *Expr
}

// Phase is one mark on the phase cord: some cards, or another procedure.
type Phase struct {
	ID      string            `toml:"id"`
	Title   Text              `toml:"title"`
	Each    Each              `toml:"each"` // only Once or EachSide
	When    string            `toml:"when"`
	Only    Text              `toml:"only"`   // the condition in words, for the printed sheet
	Hidden  bool              `toml:"hidden"` // the target is covered
	Include string            `toml:"include"`
	Twin    bool              `toml:"twin"` // include: it is about the same line or link of the other side
	With    map[string]string `toml:"with"`
	Covers  string            `toml:"covers"` // include: the step from which its holds send the work back
	Cards   []Card            `toml:"card"`

	when *Expr
	with map[string]*Expr
}

// Card is what fills the screen: one action and the fields that answer it.
type Card struct {
	ID      string `toml:"id"`
	Each    Each   `toml:"each"`
	When    string `toml:"when"`
	Only    Text   `toml:"only"` // the condition in words
	Action  Text   `toml:"action"`
	Detail  Text   `toml:"detail"`
	Caution Text   `toml:"caution"`
	Reason  Text   `toml:"reason"`
	Picture string `toml:"picture"`
	// Show names the values that the picture draws from what was answered
	// elsewhere; tui/picture says which names each picture knows.
	Show  map[string]string `toml:"show"`
	Table string            `toml:"table"` // values of both sides that are seen with the card
	By    Role              `toml:"by"`    // Second: the second person answers
	Steps []Step            `toml:"step"`

	when *Expr
	show map[string]*Expr
}

// Step is one field of a card: one value, one event in the journal.
type Step struct {
	ID   string `toml:"id"`
	Kind Kind   `toml:"kind"`
	Each Each   `toml:"each"`
	When string `toml:"when"`
	Only Text   `toml:"only"` // the condition in words
	Ask  Text   `toml:"ask"`

	// Opens and Closes name the target's link ("link") where the step takes
	// the gate off it or brings it home. One link is open at a time in a job.
	Opens  bool `toml:"opens"`
	Closes bool `toml:"closes"`
	// Alters marks the step that changes one side of a pair.
	Alters bool `toml:"alters"`
	// Mends names the kind of thing that is mended on the step's side once it
	// is answered: work on both brakes need not renew everything of them.
	Mends string `toml:"mends"`

	// Observes names the feature of the wing that the answer is about
	// (wing.Feature). Such a step never shows what is expected. ObservesAt is
	// the joint from the riser, from 1, where the feature has to be looked for.
	Observes   string `toml:"observes"`
	ObservesAt int    `toml:"observes_at"`

	Quantity string  `toml:"quantity"` // "length", "force", "torque", "turns", "count"
	State    string  `toml:"state"`    // measure: "loose", "installed" or "plain"
	Expect   string  `toml:"expect"`   // in mm, N, N·m or turns
	Source   string  `toml:"source"`   // where the expected value comes from
	Low      string  `toml:"low"`      // plausible range of a reading, not a limit
	High     string  `toml:"high"`
	Limit    string  `toml:"limit"` // how far from expected, or from Against
	LimitOf  string  `toml:"limit_source"`
	Against  string  `toml:"against"`   // an earlier measure step: the difference is judged
	Readings int     `toml:"readings"`  // at least so many; 0 is 1
	SpreadMM float64 `toml:"spread_mm"` // readings further apart call for another
	Blind    bool    `toml:"blind"`     // earlier readings stay covered
	// Reference asks for readings that repeat: others are no reference for
	// what is compared with them, and no third one mends that.
	Reference bool `toml:"reference"`
	// Near lists what a reading should lie near, of which the first that has a
	// value counts. One that lies far from it is asked for once more. Without it
	// the job goes by what it knows itself (job/again.go).
	Near []Near `toml:"near"`

	// Part marks an answer that says which part was fitted: the record lists it
	// under parts. Code, choose, note, photo and measure only.
	Part bool `toml:"part"`

	SameAs string `toml:"same_as"` // order, code: must repeat this earlier answer
	Must   string `toml:"must"`    // condition on `value`; false: noted, the step stays open
	Else   Text   `toml:"else"`    // what to say then

	Options  []Option `toml:"option"`
	Optional bool     `toml:"optional"` // note and photo only: an empty Enter passes it

	// Of says what an inspect step looks at: "cloth", "lines", "fittings" or
	// "kin"; and what a lengths step measures: "row" or "changed".
	Of string `toml:"of"`

	Role   Role   `toml:"role"`   // sign
	States Text   `toml:"states"` // sign: what the signature states
	Covers string `toml:"covers"` // sign: the step from which the work is done again if not agreed

	when, expect, low, high, limit, must *Expr
}

// Near is a value that a reading of a measure step should lie near.
type Near struct {
	Is     string `toml:"is"`     // in the step's unit; may read `value`, the reading itself
	Where  Text   `toml:"where"`  // who has it: "the left side has {left.tail} mm"
	Within string `toml:"within"` // how far off is still near; without it a slip by ten is looked for

	is, within *Expr
}

// Option is one answer of a choose or check step.
type Option struct {
	ID      string `toml:"id"`
	Text    Text   `toml:"text"`
	Right   bool   `toml:"right"`     // check: this is the state to be met
	Stop    Text   `toml:"stop"`      // the task cannot go on: what to do instead
	Open    Text   `toml:"open_item"` // taken, but leaves this open in the record
	Grounds bool   `toml:"grounds"`   // what is left open keeps the wing on the ground
	// Until lists the procedures of which a later done task ends what is open,
	// unless it leaves something open itself that one of them ends.
	Until   []string `toml:"until"`
	Reason  bool     `toml:"needs_reason"` // words are wanted behind the number
	Exclude string   `toml:"unless"`       // not offered where this holds

	exclude *Expr
}
