package record

import (
	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
)

// Edition is the edition of record.json and record.txt that this package
// writes and checks.
const Edition = 1

// Content is what record.json holds. Lengths are whole micrometres, forces
// whole millinewtons; their keys end in _um and _mn.
type Content struct {
	Edition int             `json:"linewright_record"`
	Demo    bool            `json:"demo"` // sample data: no statement about any wing
	Job     int             `json:"job"`
	Wing    Wing            `json:"wing"`
	Begun   Stamp           `json:"begun"`
	Closed  Closing         `json:"closed"`
	Open    []OpenItem      `json:"open_items"`
	Plan    Plan            `json:"plan"`
	Bench   metrology.Bench `json:"bench"` // at the start
	Benches []BenchAt       `json:"benches"`
	Rule    string          `json:"decision_rule"`
	Tasks   []Task          `json:"tasks"`
	Parts   []Part          `json:"parts"`

	Hours     *job.Hours  `json:"hours_tenths,omitempty"` // of the wing when the job began
	Findings  []Finding   `json:"findings,omitempty"`
	Order     []OrderItem `json:"order_list,omitempty"`
	Lengths   []LengthAt  `json:"path_lengths,omitempty"` // in the order of the plan, the left one first
	Handovers []Handover  `json:"handovers,omitempty"`

	Looks         []Look      `json:"looks"`
	Strikes       []Change    `json:"strikes"`
	Reopenings    []Change    `json:"reopenings"`
	Disagreements []Change    `json:"disagreements"`
	Superseded    []HoldAt    `json:"superseded_signatures"`
	Pauses        []Pause     `json:"pauses"`
	Confirmations []Change    `json:"confirmations"` // after an interruption
	Notes         []Note      `json:"notes"`
	People        []string    `json:"people"`        // who worked at the bench, in the order of their first entry
	SecondPeople  []string    `json:"second_people"` // who answered or signed as the second person
	Journal       JournalHead `json:"journal"`
	Files         []File      `json:"files,omitempty"`
}

// BenchAt is the bench as it was described anew during the job; it is in force
// from that line on.
type BenchAt struct {
	Stamp
	Bench metrology.Bench `json:"bench"`
}

// Stamp says when and by whom a line of the journal was written. The time is
// RFC 3339 as the writer's clock claimed it.
type Stamp struct {
	Line int    `json:"line"`
	At   string `json:"at"`
	Who  string `json:"who"`
}

// Wing is the wing that the job was about.
type Wing struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Serial string `json:"serial,omitempty"`
	Reason string `json:"reason,omitempty"` // why it was worked on
}

// Closing is the last line of the journal.
type Closing struct {
	Stamp
	Statement string `json:"statement"`
}

// OpenItem is something that was left open.
type OpenItem struct {
	Task int    `json:"task"`
	Step string `json:"step,omitempty"`
	Text string `json:"text"`
	At   string `json:"at,omitempty"` // when it was first written
	// Grounds says that it keeps the wing on the ground.
	Grounds bool `json:"grounds,omitempty"`
}

// Plan is the line plan that was used, and where its data come from.
type Plan struct {
	Name       string `json:"name"`
	Size       string `json:"size"`
	Source     string `json:"source"`
	SourceDate string `json:"source_date"`
	Partial    bool   `json:"partial"`
	AsFound    bool   `json:"as_found"` // made from the wing as it was found
	SHA256     string `json:"sha256"`
}

// Procedure is a procedure that was used.
type Procedure struct {
	ID      string `json:"id"`
	Edition string `json:"edition"`
	Title   string `json:"title"`
	Source  string `json:"source,omitempty"`
	SHA256  string `json:"sha256"`
}

// Task is one procedure on one target.
type Task struct {
	No        int         `json:"no"`
	Begun     Stamp       `json:"begun"`
	Reason    string      `json:"reason,omitempty"` // why it was added
	Procedure Procedure   `json:"procedure"`
	Includes  []Procedure `json:"includes"`
	Target    string      `json:"target"`      // stable form: "line:C1.2@left"
	TargetAs  string      `json:"target_text"` // for a person: "C1.2 left"
	State     string      `json:"state"`       // "done", "laid down", "dropped"
	Why       string      `json:"state_reason,omitempty"`
	OneSide   bool        `json:"one_side"` // one of a pair, brake or line, is done and the other is not
	Done      int         `json:"steps_done"`
	Of        int         `json:"steps_needed"`
	Steps     []Step      `json:"steps"` // those with something written
}

// Step is one step with what stands written for it.
type Step struct {
	Key    string `json:"key"`
	Phase  string `json:"phase"`
	Action string `json:"action"`
	Ask    string `json:"ask,omitempty"`
	At     string `json:"turn,omitempty"` // of a repetition: side, line or joint
	Kind   string `json:"kind"`
	Second bool   `json:"second_person,omitempty"` // answered by the second person
	Role   string `json:"role,omitempty"`          // of a hold: who has to sign
	State  string `json:"state"`                   // "done", "open" or "void"

	Entry       *Stamp                 `json:"entry,omitempty"` // the line that counts
	Typed       string                 `json:"typed,omitempty"`
	Answer      string                 `json:"answer,omitempty"` // as a person reads it
	Choice      string                 `json:"choice,omitempty"`
	Codes       []string               `json:"codes,omitempty"`
	Value       *Value                 `json:"value,omitempty"`
	Photo       *job.Photo             `json:"photo,omitempty"`
	Readings    []Reading              `json:"readings,omitempty"`
	Expected    *Expected              `json:"expected,omitempty"`
	Measurement *metrology.Measurement `json:"measurement,omitempty"`
	Difference  *metrology.Difference  `json:"difference,omitempty"`
	Judgement   *metrology.Judgement   `json:"judgement,omitempty"`
	Judged      *Stamp                 `json:"judged,omitempty"`   // the verdict that a person decided on
	Decision    string                 `json:"decision,omitempty"` // reason of that person
	Open        string                 `json:"open_item,omitempty"`
	Grounds     bool                   `json:"grounds,omitempty"` // what is open keeps the wing on the ground
	Lengths     []job.PathLength       `json:"lengths,omitempty"`
	Paths       []PathDecision         `json:"path_decisions,omitempty"`
	Trim        *trim.Report           `json:"trim,omitempty"`
	Move        *trim.Move             `json:"move,omitempty"`
	Loops       *trim.Choice           `json:"loops,omitempty"`
	LoopFit     *job.LoopFit           `json:"loop_fit,omitempty"`
	Hold        *Hold                  `json:"hold,omitempty"`
	Stands      []Stamp                `json:"confirmed,omitempty"` // the old answer was found to stand
	Earlier     []Earlier              `json:"earlier,omitempty"`   // what does not count, or no longer
}

// PathDecision says that a person took a path that was not proved.
type PathDecision struct {
	Stamp
	trim.PathRef
	Reason string `json:"reason"`
}

// Value is one number in its base unit. One field is there.
type Value struct {
	UM         *int64 `json:"um,omitempty"`
	MN         *int64 `json:"mn,omitempty"`
	MNM        *int64 `json:"mnm,omitempty"`
	MilliTurns *int64 `json:"milliturns,omitempty"`
	Count      *int64 `json:"count,omitempty"`
}

// Reading is one raw value of a measure step.
type Reading struct {
	Stamp
	Path   string `json:"path,omitempty"` // of a lengths step
	Typed  string `json:"typed"`
	Value  Value  `json:"value"`
	Bench  string `json:"bench,omitempty"` // the name of the one that it was taken on
	Counts bool   `json:"counts"`
	Struck string `json:"struck,omitempty"` // reason
	Why    *Why   `json:"why,omitempty"`    // why it did not count
	// FarFrom says what it lies far from, for which it was typed twice.
	FarFrom string `json:"far_from,omitempty"`
}

// Expected is what a value was held against.
type Expected struct {
	Value       quantity.Length `json:"value_um"`
	Source      string          `json:"source"`
	Limit       quantity.Length `json:"limit_um,omitempty"` // either way; 0: none
	LimitSource string          `json:"limit_source,omitempty"`
}

// Why is the reason for which an entry did not close its step.
type Why = job.Because

// Earlier is an entry that was noted and did not close its step, or that
// counted until the step was opened again.
type Earlier struct {
	Stamp
	Kind      string               `json:"kind"`
	Typed     string               `json:"typed,omitempty"`
	Answer    string               `json:"answer,omitempty"`
	Taken     bool                 `json:"taken"`
	Why       *Why                 `json:"why,omitempty"`
	Judgement *metrology.Judgement `json:"judgement,omitempty"`
	Decision  string               `json:"decision,omitempty"`
	VoidBy    int                  `json:"void_by_line,omitempty"`
}

// Hold is a signature that was made at the bench, over all lines before its
// own.
type Hold struct {
	Role        string `json:"role"`
	Name        string `json:"name"`
	Fingerprint string `json:"fingerprint"`
	Custody     string `json:"custody"` // "pass phrase", "unencrypted" or "agent"
	States      string `json:"states"`
	OverLine    int    `json:"over_line"`
	OverHash    string `json:"over_hash"`
}

// HoldAt is a signature whose step was opened again. It stays valid for what
// it signed.
type HoldAt struct {
	Stamp
	Task   int    `json:"task"`
	Step   string `json:"step"`
	Hold   Hold   `json:"hold"`
	VoidBy int    `json:"void_by_line,omitempty"`
}

// Part is an answer that says which part was fitted.
type Part struct {
	Stamp
	Task   int    `json:"task"`
	Step   string `json:"step"`
	Ask    string `json:"ask"`
	Answer string `json:"answer"`
}

// Look is where a second person said their name; what they answered from there
// on stands under it. Only a signature proves it.
type Look struct {
	Stamp
	Task int    `json:"task"`
	Step string `json:"step"` // that was due
	Name string `json:"name"`
}

// Change is a strike, a re-opening, a disagreement or a confirmation.
type Change struct {
	Stamp
	Task   int      `json:"task,omitempty"`
	Step   string   `json:"step,omitempty"`
	Reason string   `json:"reason,omitempty"`
	Struck int      `json:"struck_line,omitempty"`
	Voids  []string `json:"voids,omitempty"` // "task/step"
}

// Pause says that a task was laid down, taken up or dropped.
type Pause struct {
	Stamp
	Task   int    `json:"task"`
	Kind   string `json:"kind"` // "lay_down", "take_up", "drop"
	Reason string `json:"reason,omitempty"`
	// Safe is the state in which an open link was left, as it was looked at.
	Safe []string `json:"safe,omitempty"`
}

// Note is free text that somebody wrote.
type Note struct {
	Stamp
	Task   int    `json:"task,omitempty"`
	Step   string `json:"step,omitempty"`
	Text   string `json:"text"`
	Struck string `json:"struck,omitempty"` // reason
}

// JournalHead names the last line of the journal.
type JournalHead struct {
	Lines int    `json:"lines"`
	Hash  string `json:"hash"`
}

// File is a file that a signature over record.json covers.
type File struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}
