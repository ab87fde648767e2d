package job

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

// Words gives a reason in words: one line what, one line what to do. Every
// wording of a refusal or of a noted entry stands in this file.
func (b *Because) Words() (what, do string) {
	w, ok := wording[b.Code]
	if !ok {
		return string(b.Code) + " " + strings.Join(b.Args, " "), ""
	}
	return put(w.what, b.Args), put(w.do, b.Args)
}

// put writes arguments for {0}, {1} …; what is not there leaves nothing.
func put(text string, args []string) string {
	for i := 0; i < 5; i++ {
		value := ""
		if i < len(args) {
			value = args[i]
		}
		text = strings.ReplaceAll(text, fmt.Sprintf("{%d}", i), value)
	}
	return strings.TrimSpace(text)
}

var wording = map[Code]struct{ what, do string }{
	JobClosed:        {"This job is closed.", "Nothing can be added. Start a new job for this wing."},
	NotStarted:       {"This job has no first line.", "Start it with a wing."},
	NoTask:           {"There is no task {0} in this job.", "Choose one from the overview."},
	TaskOver:         {"Task {0} was dropped.", "Add a new task for the work."},
	TaskWaits:        {"Task {0} is laid down.", "Take it up again first."},
	TaskRuns:         {"Task {0} is not laid down.", "Go on with it."},
	NotYet:           {"Steps open in order: {0} is not due yet.", "Due now: {1}"},
	NotDone:          {"Not answered yet: {0}", "Only an answered step can be re-opened."},
	AllDone:          {"All steps of task {0} are answered.", "Close the job, or add another task."},
	ConfirmFirst:     {"The work was interrupted after: {0}", "Look at that step on the wing first: Enter if it is as it says, or re-open it."},
	ValueWanted:      {"An empty entry does not answer this.", "Wanted: {0}"},
	NoValueWanted:    {"This step takes no value.", "Enter when it is done; a note can be written at any time."},
	BadValue:         {"{0}", "{1}"},
	ChoiceUnknown:    {"{0} is none of the answers.", "Type a number from 1 to {1}."},
	RuleUnknown:      {"{0} is nothing that is found on {1}.", "Type one of these numbers: {2}."},
	ReasonMissing:    {"A reason is needed.", "Write it in a few words."},
	CodeCase:         {"{0} is not {1}: capital and small letters count.", "{2}"},
	CodeOther:        {"{0} is not {1}.", "{2}"},
	CodeCovered:      {"{0} is not the code that is wanted here. Capital and small letters count.", "{1}"},
	WordsMissing:     {"A closing statement needs words.", "Say in a few words what was done. Closing is final."},
	CodeUnknown:      {"{0} is no line on this link.", "Lines on it, not in their order: {1}"},
	CodeAmbiguous:    {"{0} can mean {1}.", "Type the whole code."},
	OrderIncomplete:  {"{0} codes, but {1} lines hang on this link.", "Type every line once, the one nearest the centre first."},
	OrderTwice:       {"{0} stands twice.", "Type every line once."},
	OrderCrossed:     {"Crossed: {0}.", "Fewest to move: {1}. {2}"},
	OrderUnlike:      {"Not as in the plan, which has them the other way round: {0}.", "{1}"},
	OrderOffPlan:     {"Not as in the plan, which has them the other way round: {0}.", "Fewest out of place: {1}. {2}"},
	OrderMirrored:    {"The order is exactly the other way round.", "Say first from which side the link is seen. {0}"},
	OrderNoSide:      {"Without the side the order says nothing, and nothing was written.", "Find by its upper end the line nearest the centre of the wing, keep a finger on it, and read from it outward."},
	WrongState:       {"Found: {0}. That is not right yet.", "{1}"},
	StopHere:         {"{0}: this task ends here.", "{1}"},
	MustFails:        {"{0} is not right here.", "{1}"},
	SeenOther:        {"What you saw belongs to {0}. The task was started for another line.", "{1}"},
	SeenNone:         {"No line of the plan fits all these answers.", "{0}"},
	SeenSeveral:      {"These answers fit {0} lines.", "{1}"},
	TypeAgain:        {"{0}, where {1}.", "Type it again if the tape really says so; nothing is written yet."},
	TypeAgainCovered: {"{0} lies far from what was to be expected.", "Type it again if the tape really says so; nothing is written yet."},
	Implausible:      {"{0} is not between {1} and {2}. It is written down and does not count.", "Read again; look at the unit and at the zero of the tape."},
	Miscounted:       {"{0} is not between {1} and {2}. It is written down and does not count.", "Count again."},
	MoreReadings:     {"{0} of {1} readings.", "Let go, pull again, read again."},
	SpreadWide:       {"The readings differ by {0}, more than {1}.", "Measure a third time. No mean is taken of two that do not agree."},
	NoReference:      {"No reference: {0}.", "What does not repeat is compared with nothing. Re-open the question before and say that it does not count."},
	StrikeOdd:        {"The readings still differ by {0}, more than {1}.", "Strike the odd one with a reason (entry {3}: {2}), or measure again."},
	OutsideLimit:     {"{0}", "{1}"},
	NotProvedYet:     {"{0}", "Measure again (both, where two are compared), on a better bench if it stays; or a person decides, with a reason."},
	NotProvedMore:    {"{0}", "{1} readings in all would decide, if the mean stays where it is."},
	NotProvedNever:   {"{0}", "No number of readings would decide on this bench: a better pull or tape would, or a person with a reason."},
	BenchInUse:       {"Readings wait for their verdict: {0}", "Finish or strike them first; then describe the bench anew."},
	CannotCompare:    {"{0} cannot be compared: {1}.", "Measure it first, in the same way."},
	NothingProved:    {"There is nothing here for a person to decide.", "Only a value that is not proved can be taken by decision. One that is outside cannot."},
	LinkOpen:         {"The {1} is open (task {0}).", "Close it first: one link is open at a time."},
	LinkOpenDrop:     {"Task {0} has a link open or one brake moved.", "Finish it, or lay it down in a safe state. It cannot be dropped."},
	HoldWaits:        {"A hold stops everything behind it: {0}", "It has to be signed, or not agreed with a reason, or the task laid down."},
	SameKey:          {"This key is the doer's ({0}).", "A second look needs another person with a key of their own."},
	SamePerson:       {"{0} did the work in this job.", "A second look needs another person."},
	LookedAtIt:       {"{0} looked at this work as the second person.", "Here the person signs who did it."},
	LookerFirst:      {"The second person says their name first.", "Their answers stand under it. The doer steps back."},
	LookIsBlind:      {"What the doer wrote stays covered while the second person looks.", "It opens once their questions are answered."},
	OtherLooker:      {"{0} gave the answers, {1} cannot sign for them.", "{0} signs, or does not agree; or the step is looked at anew by another person."},
	WrongRole:        {"The role {0} does not sign here.", "Wanted: {1}"},
	StaleSignature:   {"The signature is over an older state of the job.", "Sign again; look at the answers before you do."},
	NotAReading:      {"Entry {0} is no reading and no note.", "Only a reading or a note can be struck. To change an answer, re-open its step."},
	StrikeClosed:     {"Entry {0} stands in a step that is closed.", "Re-open that step; the reading is then measured anew."},
	StruckAlready:    {"Entry {0} is struck already.", "Nothing to do."},
	NotVoid:          {"No old answer could still stand here: {0}", "Answer it."},
	DoAnew:           {"What was measured, counted, put in order, looked at or signed is done anew.", "Do it again and enter what you find."},
	TasksOpen:        {"Not finished: {0}.", "Finish it, drop it with a reason, or lay it down. A job with a task laid down can be closed; the record says so first."},
	PartUnpinned:     {"The job's copy of {0} is missing or changed.", "Take it from the export or a backup; the job cannot be read without it."},
	Fault:            {"The procedure has a fault at {0}: {1}.", "Lay the task down and tell the procedure's author."},
	TooLong:          {"The text is too long.", "At most {0} characters."},
	Unprintable:      {"The text holds a character that cannot be shown.", "Type it again without it."},
	TouchFirst:       {"{0} is neither a thing that is looked at here nor the word for all the rest.", "Mark what you found by its code; 1 when your hand went over all the rest and it is sound."},
	NoInspection:     {"Nothing is looked at here that a finding could belong to.", "Note it with :note, or start a damage survey."},
	NotLookedAt:      {"{0} is not looked at in this step.", "Mark it where its row or its side is looked at; codes are case-sensitive."},
	PlaceBeyond:      {"{0} is beyond the end of {1}, which is {2} long.", "Measure from its lower end, the one toward the pilot."},
	FoundAlready:     {"{0}: {1} is marked there already.", "Give another place if there are two, or go on."},
	NoFinding:        {"There is no finding {0} in this job.", "Choose one from the list of findings."},
	FindingOver:      {"The finding on {0} is {1} already.", "Nothing to do."},
	GroundsStill:     {"{0}: {1} keeps the wing on the ground and cannot be carried over.", "Mend it, or give the wing to a workshop."},
	LimitMissing:     {"What is carried over needs one limit.", "Give flying hours, such as 10 h, or a date, such as 2027-03-01."},
	HoursUnknown:     {"{0} of flying never run out here: the wing's hours were not written when this job began.", "Give a date, such as 2027-03-01."},
	DateUnknown:      {"{0} is no date.", "Write year, month and day: 2027-03-01."},
	DatePast:         {"{0} is not ahead.", "Give a date after today."},
	LookingIsNot:     {"{0}: {1} does not end by another look.", "Mend it, measure it where its rule says so, or give it to a workshop."},
	LengthNotProved:  {"{0}: its finding does not end by length here.", "Every path through it has to be measured after it was found, and be inside; and its rule has to ask for a length."},
	WayUnknown:       {"{0} is no way in which a finding ends.", "Say measured, looked again, or workshop."},
	NotClear:         {"The wing stays on the ground: {1}.", "{0} in all. Mend or clear each; what may wait is carried over with a reason and a limit."},
	PathUnknown:      {"{0} is not measured in this step.", "Measured here: {1}. Capital and small letters count."},
	PathSide:         {"{0} left or {0} right?", "Type {0} left 4208, or {0}L 4208."},
	LengthsDue:       {"{0} of {1} paths are not read yet: {2}.", "Read each of them; a bare number is for the one that is due."},
	LengthsAgain:     {"To be read again, without sight of the first value: {0}.", "Let go, pull again, read; a bare number is for the one that is due."},
	LengthsOdd:       {"{0}: the readings still differ by {1}, more than {2}.", "Strike the odd one with a reason (entry {4}: {3}), or read it again."},
	LengthsRead:      {"Every path here is read.", "Enter closes the list. To read one again name it, as {0} 4208."},
	NothingWorked:    {"Nothing was worked on in this job.", "What work changed is measured after it: do the work first, or drop this task."},
	SheetNotHere:     {"No sheet of lengths is taken here.", "It is taken where paths are measured, row by row."},
	SheetNone:        {"No length of the sheet is for this step.", "Measured here: {0}. Capital and small letters count."},
	SheetOff:         {"{0}: {1} is not between {2} and {3}. Nothing of the sheet was taken.", "Put it right in the sheet, or take it out there and read that path again."},
	SheetTwice:       {"The same sheet was taken already, entry {0}.", "A second reading needs a second pull: type it, or take a sheet that holds it."},
	SheetLong:        {"{0} lengths are too many for one entry.", "At most {1}; split the sheet."},
	LoopUnknown:      {"{0} is no loop of this wing's table.", "Loops in it: {1}."},
	LoopLine:         {"{0} is no line that hangs on a link.", "Name the lowest line with its side and its loop, as C1.2 left wrapped; plain where all are plain."},
	PartUnknown:      {"There is no part {0} on the order list.", "Choose one by its number."},
	PartNoThing:      {"{1} of {0} cannot be ordered.", "Name a line, a link or another part of this wing, and 1 to 99 of it."},
	PartTwice:        {"{0} is on the order list already, number {1}.", "Drop that one with a reason, or go on with it."},
	PartLength:       {"The length of {0} has no source.", "Say whether it is the plan's or a copy of the twin."},
	PartFar:          {"{1} for {0} is more than 200 mm from the plan's {2}.", "Measure the twin again: that is another line, or a slip of typing."},
	PartUnread:       {"Not read back yet: {0}.", "Read each code from the plan or the old line, letter by letter, before the order is final."},
	PartNone:         {"Nothing on the list waits to be ordered.", "List what is wanted first."},
	PartIs:           {"{0} is {1}.", "That move does not fit here; look at the order list."},
	PartByTask:       {"{0} is a line: it is received by a look at label, ends, thickness and length.", "Add the task part-receipt on it."},
	PartOpUnknown:    {"The order list knows no {0}.", "List, drop, read back, order, receive or return."},
	SafeFirst:        {"Work stops in the middle: first the safe state. {0}", "Answer what you see."},
	NotSafe:          {"{0}: {1}. It cannot be left so.", "{2}"},
	NobodyNamed:      {"Nobody is named who goes on.", "Type the name of the person who takes the job over."},
	NotHanded:        {"This job was not handed on.", "Go on with it."},
	HandedAway:       {"This job was handed on to {0}.", "Whoever goes on takes it over first."},
	PhotoWanted:      {"That file could not be taken as a photo.", "Give the path of a jpg, png or heic file."},
}

// seenFrom says behind an order from which side its link was seen.
var seenFrom = map[SeenFrom]string{
	SeenAsAsked:   ", seen as the step says",
	SeenOtherSide: ", turned round: seen from the other side",
}

// wanted says what a step asks for, for someone who sent an empty line.
func wanted(s *procedure.Slot) string {
	switch s.Step.Kind {
	case procedure.Measure:
		return "a reading in " + unitOf(s.Step.Quantity)
	case procedure.Count:
		if s.Step.Quantity == "turns" {
			return "a number of turns, as 5 or 5.25"
		}
		return "a number"
	case procedure.Choose, procedure.Check:
		return "the number of an answer"
	case procedure.Code:
		return "the code exactly as it is written; capital and small letters count"
	case procedure.Order:
		return "the codes of all lines on the link, the one nearest the centre first"
	case procedure.Photo:
		return "the path of a picture"
	case procedure.Inspect:
		return "1 when all the rest was touched and is sound; or the code of what is damaged"
	case procedure.Lengths:
		return "a reading in " + unitOf(string(quantity.KindLength)) + "; of another path than the one that is due with its name, as C7 left 4208"
	case procedure.Trim:
		return "nothing: an empty line makes the report"
	case procedure.Loops:
		return "plain where every line hangs plain; else those that do not, as C1.2 left wrapped, B1.1 hitched"
	case procedure.Clear:
		return "nothing: an empty line, once nothing keeps the wing on the ground"
	}
	return "a few words"
}

// saying names a step as a person knows it: by what it asks.
func (t *Task) saying(s *procedure.Slot) string {
	if ask := s.Say(s.Step.Ask, "en", t); ask != "" {
		return ask
	}
	return s.Say(s.Step.States, "en", t)
}

// sayingKey does the same for a key, which may not be one.
func (t *Task) sayingKey(key string) string {
	if s, ok := t.Unfolded.Slot(key); ok {
		return t.saying(s)
	}
	return key
}

// unitOf names the unit of a bare number and what else is taken.
func unitOf(q string) string {
	switch quantity.Kind(q) {
	case quantity.KindLength:
		return "mm (or cm, m, in, ft if you type it)"
	case quantity.KindForce:
		return "N (or daN, kgf, lbf if you type it)"
	case quantity.KindTorque:
		return "N·m (or lbf·in, lbf·ft if you type it)"
	}
	return q
}
