package job

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/source"
)

// Code names a reason, for a refusal or for a noted entry.
type Code string

// The reasons. Their words stand in words.go and nowhere else.
const (
	JobClosed        Code = "job_closed"
	NotStarted       Code = "not_started"
	NoTask           Code = "no_task"
	TaskOver         Code = "task_over"
	TaskWaits        Code = "task_waits"
	TaskRuns         Code = "task_runs"
	NotYet           Code = "not_yet"
	NotDone          Code = "not_done"
	AllDone          Code = "all_done"
	ConfirmFirst     Code = "confirm_first"
	ValueWanted      Code = "value_wanted"
	NoValueWanted    Code = "no_value_wanted"
	BadValue         Code = "bad_value"
	ChoiceUnknown    Code = "choice_unknown"
	RuleUnknown      Code = "rule_unknown"
	ReasonMissing    Code = "reason_missing"
	CodeCase         Code = "code_case"
	CodeOther        Code = "code_other"
	CodeCovered      Code = "code_covered"
	WordsMissing     Code = "words_missing"
	CodeUnknown      Code = "code_unknown"
	CodeAmbiguous    Code = "code_ambiguous"
	OrderIncomplete  Code = "order_incomplete"
	OrderTwice       Code = "order_twice"
	OrderCrossed     Code = "order_crossed"
	OrderUnlike      Code = "order_unlike" // what older journals have for order_off_plan
	OrderOffPlan     Code = "order_off_plan"
	OrderMirrored    Code = "order_mirrored" // say SeenFrom first; older journals have it as what an entry was noted for
	OrderNoSide      Code = "order_no_side"
	WrongState       Code = "wrong_state"
	StopHere         Code = "stop_here"
	MustFails        Code = "must_fails"
	SeenOther        Code = "seen_other"
	SeenNone         Code = "seen_none"
	SeenSeveral      Code = "seen_several"
	Implausible      Code = "implausible"
	Miscounted       Code = "miscounted"
	TypeAgain        Code = "type_again" // enter it again with Again
	TypeAgainCovered Code = "type_again_covered"
	MoreReadings     Code = "more_readings"
	BenchInUse       Code = "bench_in_use"
	SpreadWide       Code = "spread_wide"
	NoReference      Code = "no_reference"
	StrikeOdd        Code = "strike_odd"
	OutsideLimit     Code = "outside_limit"
	NotProvedYet     Code = "not_proved"
	NotProvedMore    Code = "not_proved_more"
	NotProvedNever   Code = "not_proved_never"
	CannotCompare    Code = "cannot_compare"
	NothingProved    Code = "nothing_to_decide"
	LinkOpen         Code = "link_open"
	LinkOpenDrop     Code = "link_open_drop"
	HoldWaits        Code = "hold_waits"
	SameKey          Code = "same_key"
	SamePerson       Code = "same_person"
	LookedAtIt       Code = "looked_at_it"
	LookerFirst      Code = "looker_first"
	LookIsBlind      Code = "look_is_blind"
	OtherLooker      Code = "other_looker"
	WrongRole        Code = "wrong_role"
	StaleSignature   Code = "stale_signature"
	NotAReading      Code = "not_a_reading"
	StrikeClosed     Code = "strike_closed"
	StruckAlready    Code = "struck_already"
	NotVoid          Code = "not_void"
	DoAnew           Code = "do_anew"
	TasksOpen        Code = "tasks_open"
	PartUnpinned     Code = "unpinned"
	Fault            Code = "fault" // an expression of the procedure gave no value
	TooLong          Code = "too_long"
	Unprintable      Code = "unprintable"
	PhotoWanted      Code = "photo_wanted"
	TouchFirst       Code = "touch_first"
	NoInspection     Code = "no_inspection"
	NotLookedAt      Code = "not_looked_at"
	PlaceBeyond      Code = "place_beyond"
	FoundAlready     Code = "found_already"
	NoFinding        Code = "no_finding"
	FindingOver      Code = "finding_over"
	GroundsStill     Code = "grounds_still"
	LimitMissing     Code = "limit_missing"
	HoursUnknown     Code = "hours_unknown"
	DateUnknown      Code = "date_unknown"
	DatePast         Code = "date_past"
	LookingIsNot     Code = "looking_is_not"
	LengthNotProved  Code = "length_not_proved"
	WayUnknown       Code = "way_unknown"
	NotClear         Code = "not_clear"
	PathUnknown      Code = "path_unknown"
	PathSide         Code = "path_side"
	LengthsDue       Code = "lengths_due"
	LengthsAgain     Code = "lengths_again"
	LengthsOdd       Code = "lengths_odd"
	LengthsRead      Code = "lengths_read"
	NothingWorked    Code = "nothing_worked"
	SheetNotHere     Code = "sheet_not_here"
	SheetNone        Code = "sheet_none"
	SheetOff         Code = "sheet_off"
	SheetTwice       Code = "sheet_twice"
	SheetLong        Code = "sheet_long"
	LoopUnknown      Code = "loop_unknown"
	LoopLine         Code = "loop_line"
	PartUnknown      Code = "part_unknown"
	PartNoThing      Code = "part_no_thing"
	PartTwice        Code = "part_twice"
	PartLength       Code = "part_length"
	PartFar          Code = "part_far"
	PartUnread       Code = "part_unread"
	PartNone         Code = "part_none"
	PartIs           Code = "part_is"
	PartByTask       Code = "part_by_task"
	PartOpUnknown    Code = "part_op_unknown"
	SafeFirst        Code = "safe_first"
	NotSafe          Code = "not_safe"
	NobodyNamed      Code = "nobody_named"
	NotHanded        Code = "not_handed"
	HandedAway       Code = "handed_away"
)

// Because is a reason with what it speaks of, as it stands in a journal.
type Because struct {
	Code Code     `json:"code"`
	Args []string `json:"args,omitempty"`
}

func because(code Code, args ...any) *Because {
	b := &Because{Code: code}
	for _, a := range args {
		b.Args = append(b.Args, source.Clean(fmt.Sprint(a)))
	}
	return b
}

// Refusal is an entry that was not understood or may not be made now. Nothing
// was written and nothing is lost.
type Refusal struct{ *Because }

func refuse(code Code, args ...any) *Refusal { return &Refusal{because(code, args...)} }

// NewRefusal lets a caller refuse in the same words, for what only it knows.
func NewRefusal(code Code, args ...any) *Refusal { return refuse(code, args...) }

// Error gives one line what, one line what to do.
func (r *Refusal) Error() string {
	what, do := r.Words()
	return strings.TrimSpace(what + "\n  " + do)
}
