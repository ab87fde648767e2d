package job

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

// maxText is the longest text that one entry may have, in bytes.
const maxText = 4000

// Decide gives the event that an entry writes, or a *Refusal. It changes
// nothing: only Apply does, once the event is on the disk.
func Decide(j *Job, st Stamp, en Entry) (Event, error) { return decide(j, st, en, false) }

// decide also serves the preview, which leaves out what takes long.
func decide(j *Job, st Stamp, en Entry, preview bool) (Event, error) {
	if err := decent(en.Text); err != nil {
		return Event{}, err
	}
	if j.Lines == 0 {
		return Event{}, refuse(NotStarted)
	}
	if j.Closed != nil {
		return Event{}, refuse(JobClosed)
	}
	if j.handed != nil && en.Kind != EnterTakeOver {
		return Event{}, refuse(HandedAway, j.handed.To)
	}
	d := &decider{j: j, st: st, en: en, preview: preview, ev: Event{At: st.At, Who: st.Who, Sitting: st.Sitting, Task: en.Task}}
	if err := d.decide(); err != nil {
		return Event{}, err
	}
	return d.ev, nil
}

// Begin gives the first event of a job.
func Begin(st Stamp, s Start) Event {
	s.Journal = Edition
	return Event{At: st.At, Who: st.Who, Sitting: st.Sitting, Kind: Started, Start: &s}
}

func decent(text string) error {
	if len(text) > maxText {
		return refuse(TooLong, maxText)
	}
	if !utf8.ValidString(text) || strings.ContainsFunc(text, source.Hidden) {
		return refuse(Unprintable)
	}
	return nil
}

// decider holds what one decision needs.
type decider struct {
	j    *Job
	st   Stamp
	en   Entry
	ev   Event
	task *Task
	slot *procedure.Slot

	preview bool
}

func (d *decider) decide() error {
	switch d.en.Kind {
	case EnterAdd:
		return d.add()
	case EnterNote:
		return d.note()
	case EnterStrike:
		return d.strike()
	case EnterBench:
		return d.bench()
	case EnterClose:
		return d.close()
	case EnterDefer:
		return d.deferFinding()
	case EnterClear:
		return d.clearFinding()
	case EnterDecide:
		if d.en.Path != nil {
			return d.decidePath()
		}
	case EnterPart:
		return d.part()
	case EnterHandOn:
		return d.handOn()
	case EnterTakeOver:
		return d.takeOver()
	}
	t, ok := d.j.Task(d.en.Task)
	if !ok {
		return refuse(NoTask, d.en.Task)
	}
	d.task = t
	switch d.en.Kind {
	case EnterDrop:
		return d.drop()
	case EnterLayDown:
		return d.layDown()
	case EnterTakeUp:
		return d.takeUp()
	case EnterReopen:
		return d.reopen()
	case EnterFinding:
		return d.finding()
	}
	return d.work()
}

// ready refuses work on a task that cannot go on.
func (d *decider) ready() error {
	switch d.task.state {
	case Gone:
		return refuse(TaskOver, d.task.No)
	case Waiting:
		return refuse(TaskWaits, d.task.No)
	}
	if d.j.interrupted(d.task, d.st.Sitting) && d.en.Kind != EnterOn {
		return refuse(ConfirmFirst, d.task.sayingKey(d.task.lastDone))
	}
	return nil
}

// work decides the entries that need a running task at its current step.
func (d *decider) work() error {
	if err := d.ready(); err != nil {
		return err
	}
	if d.j.interrupted(d.task, d.st.Sitting) {
		d.ev.Kind, d.ev.Key = Confirmed, d.task.lastDone
		return nil
	}
	slot, err := d.task.current()
	if err != nil {
		return refuse(Fault, slot.Key, err)
	}
	if slot == nil {
		return refuse(AllDone, d.task.No)
	}
	if d.en.Key != "" && d.en.Key != slot.Key {
		return d.notCurrent(slot)
	}
	d.slot, d.ev.Key = slot, slot.Key
	if slot.Card.By == procedure.Second && d.en.Kind != EnterLook {
		if d.task.looker == "" || d.task.lookedIn != d.st.Sitting {
			return refuse(LookerFirst)
		}
		d.ev.Who = d.task.looker
	}
	switch d.en.Kind {
	case EnterLook:
		return d.look()
	case EnterAnswer:
		return d.answer()
	case EnterSheet:
		return d.sheet()
	case EnterOn:
		return d.on()
	case EnterStands:
		return d.stands()
	case EnterDecide:
		return d.judgeByPerson()
	case EnterSign:
		return d.sign()
	case EnterDisagree:
		return d.disagree()
	}
	return refuse(NotYet, d.en.Kind, d.task.saying(slot))
}

// notCurrent says why another step than the current one cannot be answered.
func (d *decider) notCurrent(current *procedure.Slot) error {
	if current.Step.Kind == procedure.Sign {
		return refuse(HoldWaits, d.task.saying(current))
	}
	return refuse(NotYet, d.en.Key, d.task.saying(current))
}

// interrupted reports whether the last step of a task has to be confirmed
// before the work goes on: in a new sitting, or after work in another task.
func (j *Job) interrupted(t *Task, sitting int) bool {
	return t.lastDone != "" && (t.sitting != sitting || j.at != t.No)
}

func (d *decider) add() error {
	a := d.en.Add
	u, err := d.j.unfold(a)
	if err != nil {
		return err
	}
	if t, link := d.j.LinkOpen(); t != nil {
		if own, ok := d.j.link(u.Target); !ok || own != link {
			return refuse(LinkOpen, t.No, link)
		}
	}
	d.ev.Kind, d.ev.Add, d.ev.Task, d.ev.Reason = Added, a, len(d.j.Tasks)+1, d.en.Text
	return nil
}

// unfold lays a procedure out from its pinned bytes, never from today's.
func (j *Job) unfold(a *Add) (*procedure.Unfolded, error) {
	if a == nil {
		return nil, refuse(PartUnpinned, "the procedure")
	}
	var files []procedure.File
	for _, sha := range append([]string{a.SHA256}, a.Parts...) {
		data, err := j.pins.Pinned(sha)
		if err != nil {
			return nil, refuse(PartUnpinned, sha)
		}
		files = append(files, procedure.File{Name: sha[:12] + ".toml", Data: data})
	}
	lib, err := procedure.Known(files)
	if err != nil {
		return nil, err
	}
	p, ok := lib.Get(a.Procedure)
	if !ok {
		return nil, refuse(PartUnpinned, a.Procedure)
	}
	return procedure.Unfold(p, j.Plan, a.Target)
}

func (d *decider) note() error {
	if strings.TrimSpace(d.en.Text) == "" {
		return refuse(ValueWanted, "a note")
	}
	d.ev.Kind, d.ev.Text, d.ev.Key = Noted, d.en.Text, d.en.Key
	return nil
}

// bench puts another profile in force. Readings that wait for their verdict
// were taken on the old one and would be judged by the new.
func (d *decider) bench() error {
	if d.en.Bench == nil {
		return refuse(ValueWanted, "a bench profile")
	}
	if err := d.en.Bench.Validate(); err != nil {
		return refuseValue(err)
	}
	for _, t := range d.j.Tasks {
		for key, a := range t.answers {
			if t.state != Gone && a.State == Partial && len(a.counting()) > 0 {
				return refuse(BenchInUse, t.sayingKey(key))
			}
		}
	}
	d.ev.Kind, d.ev.Bench, d.ev.Task = Benched, d.en.Bench, 0
	return nil
}

func (d *decider) drop() error {
	if d.task.state == Gone {
		return refuse(TaskOver, d.task.No)
	}
	if t, _ := d.j.LinkOpen(); t == d.task || d.task.OneSide() {
		return refuse(LinkOpenDrop, d.task.No)
	}
	return d.withReason(Dropped)
}

func (d *decider) layDown() error {
	if d.task.state != Running {
		return refuse(TaskWaits, d.task.No)
	}
	if err := d.safely(d.j.SafeState(d.task.No)); err != nil {
		return err
	}
	return d.withReason(LaidDown)
}

func (d *decider) takeUp() error {
	if d.task.state != Waiting {
		return refuse(TaskRuns, d.task.No)
	}
	d.ev.Kind = TakenUp
	return nil
}

// withReason finishes an event that needs words.
func (d *decider) withReason(kind Kind) error {
	if strings.TrimSpace(d.en.Text) == "" {
		return refuse(ReasonMissing)
	}
	d.ev.Kind, d.ev.Reason = kind, strings.TrimSpace(d.en.Text)
	return nil
}

func (d *decider) reopen() error {
	if d.task.state == Gone {
		return refuse(TaskOver, d.task.No)
	}
	a := d.task.answers[d.en.Key]
	slot, ok := d.task.Unfolded.Slot(d.en.Key)
	if !ok || a == nil || a.State != Ready {
		return refuse(NotDone, d.task.sayingKey(d.en.Key))
	}
	if t, link := d.j.LinkOpen(); t != nil && !d.j.onLink(slot.Target, link) {
		return refuse(LinkOpen, t.No, link)
	}
	if err := d.withReason(Reopened); err != nil {
		return err
	}
	d.ev.Key, d.ev.Voids = d.en.Key, d.j.Voids(d.task.No, d.en.Key)
	return nil
}

// stands confirms the old answer of a void step. What was measured, counted,
// put in order, checked or signed is done anew.
func (d *decider) stands() error {
	a := d.task.answers[d.slot.Key]
	if a == nil || a.State != Void || a.Old == nil {
		return refuse(NotVoid, d.task.saying(d.slot))
	}
	if !standing(d.slot) {
		return refuse(DoAnew)
	}
	d.ev.Kind, d.ev.Outcome, d.ev.Line = Stands, Taken, a.Old.Line
	return nil
}

func (d *decider) strike() error {
	n := d.en.Line
	if n < 1 || n > len(d.j.events) {
		return refuse(NotAReading, n)
	}
	e := d.j.events[n-1]
	switch {
	case e.Kind == Settled && e.Value != nil:
		return refuse(StrikeClosed, n) // a plain reading closes its step at once
	case e.Kind != Read && e.Kind != Sheeted && e.Kind != Noted && e.Kind != FoundOne:
		return refuse(NotAReading, n)
	case e.Kind == Sheeted && d.en.Path != nil && !e.onSheet(*d.en.Path):
		return refuse(NotAReading, n)
	}
	if e.Kind == Sheeted {
		d.ev.Path = d.en.Path
	}
	for _, past := range d.j.events {
		if past.Kind == Struck && past.Line == n && (past.Path == nil || d.ev.Path != nil && *past.Path == *d.ev.Path) {
			return refuse(StruckAlready, n)
		}
	}
	if e.Kind == Read || e.Kind == Sheeted {
		t, _ := d.j.Task(e.Task)
		a := t.answers[e.Key]
		if a == nil || a.State != Partial || !a.holds(n) {
			return refuse(StrikeClosed, n)
		}
	}
	d.ev.Line, d.ev.Task, d.ev.Key = n, e.Task, e.Key
	if e.Kind == FoundOne {
		d.ev.Voids = d.j.unfind(e)
	}
	return d.withReason(Struck)
}

func (a *Answer) holds(line int) bool {
	for _, r := range a.Readings {
		if r.Line == line {
			return true
		}
	}
	return false
}

func (d *decider) close() error {
	if t, link := d.j.LinkOpen(); t != nil {
		return refuse(LinkOpen, t.No, link)
	}
	var open []string
	for _, t := range d.j.Tasks {
		if s := t.State(); s == Running {
			open = append(open, d.j.TargetName(t))
		}
	}
	if len(open) > 0 {
		return refuse(TasksOpen, strings.Join(open, ", "))
	}
	// A stray key must not close a job for good.
	if !strings.ContainsFunc(d.en.Text, unicode.IsLetter) {
		return refuse(WordsMissing)
	}
	d.ev.Kind, d.ev.Text = Closed, strings.TrimSpace(d.en.Text)
	return nil
}

// onLink reports whether work on a target opens a link.
func (j *Job) onLink(target, link wing.Ref) bool {
	own, ok := j.link(target)
	return ok && own == link
}
