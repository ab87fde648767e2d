// Package logbook folds the jobs of a wing into its logbook: what was fitted,
// how long each line was and when, what was found and what became of it, what
// is due, and what keeps the wing on the ground.
//
// PageOf says what one job has to tell; a page is plain data and can be kept.
// Bind folds the pages of one wing. Both read no clock and no file: the same
// jobs on the same day give the same book. The book never says that a wing may
// fly: it says what stands written.
package logbook

import (
	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Edition is the edition of a page. It changes whenever the shape of Page does,
// or what PageOf writes into it: a page that was kept by another edition is
// made anew.
const Edition = 4

// Page is what one job says to the book of its wing. Times are RFC 3339, as
// the writer's clock claimed them.
type Page struct {
	Job int `json:"job"` // the number by which it is opened here
	// Journal is the number that its journal has, which is another where the job
	// came from elsewhere and its number was taken.
	Journal int `json:"job_in_journal,omitempty"`
	// Fault says why the job cannot be read. The rest is then what its first
	// line says, or nothing.
	Fault string `json:"fault,omitempty"`

	Wing      string     `json:"wing"`
	WingName  string     `json:"wing_name"`
	Serial    string     `json:"serial,omitempty"`
	Begun     string     `json:"begun"`
	Last      string     `json:"last_entry"`
	Closed    bool       `json:"closed"`
	Statement string     `json:"closing_statement,omitempty"`
	Reason    string     `json:"reason,omitempty"`
	Hours     *job.Hours `json:"hours_tenths,omitempty"` // flying hours of the wing when it began
	Demo      bool       `json:"demo,omitempty"`

	LinkOpen string `json:"link_open,omitempty"`
	OneSide  bool   `json:"one_side_moved,omitempty"` // one side of a pair is done, the other is not
	HandedTo string `json:"handed_to,omitempty"`      // who goes on with it at another place

	Tasks    []Task     `json:"tasks"`
	Fitted   []Fitted   `json:"fitted"`
	Measured []Measured `json:"measured"`
	Findings []Finding  `json:"findings"`
	Open     []Item     `json:"open_items"`
	Released []Release  `json:"released"`
}

// Moment is an entry of a job: which line of its journal, and when.
type Moment struct {
	Line int    `json:"line"`
	At   string `json:"at"`
}

// Day is the date of a moment.
func (m Moment) Day() string { return day(m.At) }

// Task is one task of a job and how far it is.
type Task struct {
	No        int           `json:"no"`
	Procedure string        `json:"procedure"`
	Title     string        `json:"title"`
	Target    wing.Ref      `json:"target,omitzero"` // nothing while it is still to be found out
	On        string        `json:"on"`              // the target in words
	State     job.TaskState `json:"state"`
	Why       string        `json:"reason,omitempty"` // why it was dropped or laid down
	Done      int           `json:"steps_done"`
	Of        int           `json:"steps"` // known to be needed so far
	OneSide   bool          `json:"one_side_moved,omitempty"`
	// Looked says that every line was looked at: it is done, and was a survey.
	Looked  bool `json:"looked_at_lines,omitempty"`
	Changes bool `json:"changes_wing,omitempty"` // its procedure does
	// Work is its last entry, once it did change the wing.
	Work *Moment `json:"work,omitempty"`
}

// Fitted is a part that was fitted by a task that is done.
type Fitted struct {
	Thing  wing.Ref `json:"thing"`
	Task   int      `json:"task"`
	Title  string   `json:"title"` // of the procedure
	Moment          // the last entry of the task
	// Part is what says which part it was: label, batch, material.
	Part []Answer `json:"part"`
	// Points are the ends of the paths that run through it, of a line.
	Points []string `json:"points,omitempty"`
}

// Answer is a question of a procedure with its answer, in words.
type Answer struct {
	Ask    string `json:"ask"`
	Answer string `json:"answer"`
}

// Measuring is what the lengths that one entry judged have in common.
type Measuring struct {
	Job  int `json:"job"`
	Task int `json:"task"`
	Moment
	State   string `json:"state"`                  // "loose", "installed" or "path"
	Against string `json:"against,omitempty"`      // what they were held against
	LimitOf string `json:"limit_source,omitempty"` // who gives the limit
}

// Length is the length of a line or a path as it was measured and judged.
type Length struct {
	Of    Place           `json:"of"`
	Value quantity.Length `json:"value_um"`
	// Expected is what it was held against; 0: nothing, and the deviation is
	// not known.
	Expected  quantity.Length   `json:"expected_um,omitempty"`
	Deviation quantity.Length   `json:"deviation_um"` // measured − expected
	U         quantity.Length   `json:"u_um"`
	Limit     quantity.Length   `json:"limit_um,omitempty"`
	Verdict   metrology.Verdict `json:"verdict,omitempty"`
	Decided   string            `json:"decision,omitempty"` // a person's reason for taking what is not proved
}

// Measured is what one entry says about lengths: of one line, or of a row.
type Measured struct {
	Measuring
	Lengths []Length `json:"lengths"`
}

// LengthAt is a length with when and how it was measured.
type LengthAt struct {
	Measuring
	Length
}

// Finding is a defect with what one job says about it. What was written when
// it was found stands in Carried, with the first date, by whom, and the ID.
type Finding struct {
	job.Carried
	State  job.FindingState `json:"state"`
	Task   int              `json:"found_in_task,omitempty"` // 0: carried over into this job
	Mended int              `json:"mended_by_task,omitempty"`
	Way    job.Way          `json:"way,omitempty"` // how it was cleared
	Why    string           `json:"why,omitempty"` // why it was cleared or struck
	// Said is the entry by which this job made it so; nothing where it stands
	// as it was carried in.
	Said Moment `json:"said,omitzero"`
	// Before is the deferral with which it was carried in.
	Before *job.Deferral `json:"deferred_before,omitempty"`
}

// Item is something that a job left open.
type Item struct {
	Task    int    `json:"task"`
	Step    string `json:"step,omitempty"`
	Text    string `json:"text"`
	Since   string `json:"since,omitempty"`
	Grounds bool   `json:"grounds,omitempty"` // it keeps the wing on the ground
	Decided bool   `json:"decided,omitempty"` // a person took what was not proved
}

// Left counts what the record of a job lists as open: what its work left open,
// and the findings that are not over. What a person took by decision has a place
// of its own there.
func (p Page) Left() int {
	n := 0
	for _, it := range p.Open {
		if !it.Decided {
			n++
		}
	}
	for _, f := range p.Findings {
		if f.State == job.StateOpen || f.State == job.StateDeferred {
			n++
		}
	}
	return n
}

// Release is a pilot's signature in a release that is done.
type Release struct {
	Task int    `json:"task"`
	Name string `json:"name"`
	Moment
	States string `json:"states"` // what was signed
}
