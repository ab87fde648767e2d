// Package job is the state machine of one visit to the bench: a wing, its
// tasks, their answers.
//
// Decide looks at an entry and gives the one event it would write, or a
// refusal; it changes nothing. Apply takes an event that was written and
// moves the job on; it judges nothing, since everything that was judged
// stands in the event. So the same journal gives the same job, always, and a
// later rule does not rewrite an old verdict.
//
// The package reads no clock, no file, no key: time, names and signatures
// come in with the Stamp and the Entry.
package job

import (
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Kind says what an event did.
type Kind string

// The kinds of events. The strings stand in journals.
const (
	Started   Kind = "start"    // first line: wing, plan, bench
	Added     Kind = "add"      // a task
	Dropped   Kind = "drop"     // a task, with the reason
	LaidDown  Kind = "lay_down" // a task waits in a safe state
	TakenUp   Kind = "take_up"  // and goes on
	Answered  Kind = "answer"   // a value for a step
	Read      Kind = "reading"  // one reading of a measure step
	Settled   Kind = "settle"   // the readings evaluated and judged
	Decided   Kind = "decide"   // a person's decision where the verdict is not proved
	Stands    Kind = "stands"   // the old answer of a void step still holds
	Confirmed Kind = "confirm"  // after an interruption: the last step is as it says
	Reopened  Kind = "reopen"   // a step and what rests on it are void
	Struck    Kind = "strike"   // a reading or a note is withdrawn
	Noted     Kind = "note"     // words at any time
	Looking   Kind = "look"     // who the second person is, before they answer
	Signed    Kind = "sign"     // a hold
	Disagreed Kind = "disagree" // a hold not agreed: its work is done again
	Benched   Kind = "bench"    // the bench is described anew
	FoundOne  Kind = "finding"  // a defect seen at an inspect step
	Deferring Kind = "defer"    // a finding is carried over, with reason and limit
	Clearing  Kind = "clear"    // a finding is over: measured, mended elsewhere, looked at again
	Sheeted   Kind = "sheet"    // readings of many paths at once
	Parted    Kind = "part"     // the order list moves on
	HandedOn  Kind = "hand_on"  // the job goes to another place; nothing is taken here until it is taken over
	TakenOver Kind = "take_over"
	Closed    Kind = "close" // last line
)

// Outcome says what became of an entry that was written.
type Outcome string

// The outcomes. A refused entry is not written at all.
const (
	Taken Outcome = "taken" // the step is done
	Open  Outcome = "noted" // written, but the step stays open
)

// Stamp is what the session adds to an entry: when, who, in which sitting,
// and where the journal stands.
type Stamp struct {
	At      string // RFC 3339, as the writer's clock claims it
	Who     string // name of the person at the bench
	Key     string // fingerprint of that person's key; "" if none is open
	Sitting int    // counts the openings of the job that wrote something
	HeadN   int    // last line of the journal
	Head    string // its hash
}

// Event is one line of a journal. Fields that do not belong to its kind are
// empty and left out of the file.
type Event struct {
	At      string `json:"at"`
	Who     string `json:"who"`
	Sitting int    `json:"sitting"`
	Kind    Kind   `json:"kind"`
	Task    int    `json:"task,omitempty"`
	Key     string `json:"key,omitempty"` // step key without the task's number

	Typed   string          `json:"typed,omitempty"`  // exactly as entered
	Value   *quantity.Value `json:"value,omitempty"`  // rounded once: whole µm, mN, mN·m, 1/1000 turn
	Choice  string          `json:"choice,omitempty"` // option id
	Codes   []string        `json:"codes,omitempty"`  // an order, centre first
	Text    string          `json:"text,omitempty"`   // code, note, reason behind an option
	Photo   *Photo          `json:"photo,omitempty"`
	Outcome Outcome         `json:"outcome,omitempty"`
	Why     *Because        `json:"why,omitempty"` // why the step stays open

	// SeenFrom was asked for, since the order that was typed was a full mirror;
	// from the other side Codes is what was typed, turned round.
	SeenFrom SeenFrom `json:"seen_from,omitempty"`

	// FarFrom says what a reading lies far from, which was therefore typed
	// twice: "the left side has 41 mm".
	FarFrom string `json:"far_from,omitempty"`

	Expected    *Expected              `json:"expected,omitempty"`
	Measurement *metrology.Measurement `json:"measurement,omitempty"`
	Difference  *metrology.Difference  `json:"difference,omitempty"`
	Judgement   *metrology.Judgement   `json:"judgement,omitempty"`

	Reason string   `json:"reason,omitempty"`
	Line   int      `json:"line,omitempty"`  // strike: the line that is withdrawn; decide on a path: the one that closed its row
	Voids  []string `json:"voids,omitempty"` // "task/key" that no longer count
	Opened string   `json:"open_item,omitempty"`
	// Grounds says that what Opened names keeps the wing on the ground.
	Grounds bool `json:"grounds,omitempty"`

	Found    *Found    `json:"found,omitempty"`
	Finding  string    `json:"finding,omitempty"` // defer, clear: its ID
	Deferral *Deferral `json:"deferral,omitempty"`
	Way      Way       `json:"way,omitempty"` // clear: how

	Path    *trim.PathRef `json:"path,omitempty"`    // reading, decide: of which path; strike: of which path of a sheet
	Sheet   []PathRead    `json:"sheet,omitempty"`   // sheet: all its readings
	Lengths []PathLength  `json:"lengths,omitempty"` // settle: the paths of a row, evaluated and judged
	Trim    *trim.Report  `json:"trim,omitempty"`    // answer of a trim step: of the whole wing as it is now
	Move    *trim.Move    `json:"move,omitempty"`    // and what the work moved, where it was reported before; the reports in it are without their paths
	Loops   *trim.Choice  `json:"loops,omitempty"`   // answer of a loops step

	// LoopFit is what was reckoned of the loops when one was chosen for a new line.
	LoopFit *LoopFit `json:"loop_fit,omitempty"`

	Part *PartMove `json:"part,omitempty"`
	Safe []string  `json:"safe,omitempty"` // lay down, hand on: the state of the open link, as it was looked at
	To   string    `json:"to,omitempty"`   // hand on: who goes on with it

	Start *Start `json:"start,omitempty"`
	// Bench is the profile from here on; of a reading, BenchName names the one
	// that it was taken on.
	Bench     *metrology.Bench `json:"bench,omitempty"`
	BenchName string           `json:"bench_name,omitempty"`
	Add       *Add             `json:"add,omitempty"`
	Sign      *Mark            `json:"sign,omitempty"`
}

// Start is what the first line pins.
type Start struct {
	Journal  int             `json:"linewright_job"` // edition of the events
	Job      int             `json:"job"`
	WingID   string          `json:"wing"`
	WingName string          `json:"wing_name"`
	Serial   string          `json:"serial,omitempty"`
	Plan     string          `json:"plan_sha256"`
	Bench    metrology.Bench `json:"bench"`
	Reason   string          `json:"reason,omitempty"` // why the wing is here
	Demo     bool            `json:"demo,omitempty"`   // sample data: no statement about any wing
	Hours    *Hours          `json:"hours_tenths,omitempty"`
	Carried  []Carried       `json:"carried,omitempty"` // findings of earlier jobs that are not over
	Loops    *trim.LoopTable `json:"loops,omitempty"`   // of this wing, where somebody measured it
}

// Edition is the edition of the events that this package writes and reads.
const Edition = 1

// Add is what a new task pins.
type Add struct {
	Procedure string   `json:"procedure"`
	Edition   string   `json:"edition"`
	SHA256    string   `json:"sha256"`
	Parts     []string `json:"parts,omitempty"` // SHA-256 of what it includes
	Target    wing.Ref `json:"target"`
}

// Photo is a picture that lies in the job's folder.
type Photo struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// Expected is what a reading was held against, with the source.
type Expected struct {
	Value  quantity.Length `json:"value_um"`
	Limit  quantity.Length `json:"limit_um,omitempty"`
	Source string          `json:"source,omitempty"`
	Rule   string          `json:"limit_source,omitempty"`
}

// Mark is a signature of a hold over HoldText.
type Mark struct {
	Role        string `json:"role"`
	Name        string `json:"name"`
	Fingerprint string `json:"fingerprint"`
	Custody     string `json:"custody"` // how the key was kept
	Namespace   string `json:"namespace"`
	OverN       int    `json:"over_line"` // the journal's last line when it was signed
	OverHash    string `json:"over_hash"`
	States      string `json:"states"`
	Signature   string `json:"signature"` // armoured SSH signature
}

// Photos lists the pictures that an event names.
func (e *Event) Photos() []Photo {
	var out []Photo
	if e.Photo != nil {
		out = append(out, *e.Photo)
	}
	if e.Found != nil {
		out = append(out, e.Found.Photos...)
	}
	return out
}

// EntryKind says what the person wants.
type EntryKind string

// The kinds of entries.
const (
	EnterAnswer   EntryKind = "answer"   // text for the current step: a value, a reading
	EnterOn       EntryKind = "on"       // bare Enter: go on, done, settle, confirm
	EnterStands   EntryKind = "stands"   // the old answer still holds
	EnterReopen   EntryKind = "reopen"   // Key, Text is the reason
	EnterStrike   EntryKind = "strike"   // Line, Text is the reason
	EnterNote     EntryKind = "note"     // Text
	EnterDecide   EntryKind = "decide"   // Text is the reason
	EnterAdd      EntryKind = "add"      // Add
	EnterDrop     EntryKind = "drop"     // Task, Text is the reason
	EnterLayDown  EntryKind = "lay_down" // Task, Text is the reason and the safe state
	EnterTakeUp   EntryKind = "take_up"  // Task
	EnterLook     EntryKind = "look"     // Text is the name of the second person
	EnterSign     EntryKind = "sign"     // Sign, already verified by the caller
	EnterDisagree EntryKind = "disagree" // Text is the reason
	EnterBench    EntryKind = "bench"    // Bench
	EnterFinding  EntryKind = "finding"  // Seen; Key may be an inspect step that is answered already
	EnterDefer    EntryKind = "defer"    // Finding, Deferral, Text is the reason
	EnterClear    EntryKind = "clear"    // Finding, Way, Text is the reason
	EnterSheet    EntryKind = "sheet"    // Sheet
	EnterPart     EntryKind = "part"     // Part
	EnterHandOn   EntryKind = "hand_on"  // To, Safe, Text is what the other person has to know
	EnterTakeOver EntryKind = "take_over"
	EnterClose    EntryKind = "close" // Text is the closing statement
)

// Entry is one thing that a person confirmed.
type Entry struct {
	Kind  EntryKind
	Task  int
	Key   string // step key; must be the current step except for reopen
	Text  string
	Line  int
	Photo *Photo
	Add   *Add
	Sign  *Mark
	Bench *metrology.Bench

	Seen     *Seen
	Finding  string
	Deferral *Deferral
	Way      Way
	Path     *trim.PathRef // decide: the path that is not proved; strike: one path of a sheet
	Sheet    []PathRead
	Part     *PartMove
	Safe     []string
	To       string
	SeenFrom SeenFrom // answer of an order, once OrderMirrored asked for it
	Again    string   // reading: what was typed before, once TypeAgain asked for it
}
