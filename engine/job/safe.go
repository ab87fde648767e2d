package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// SafeQuestion is asked before work stops with a link open or one side of a
// pair done. The state is entered, not "ok".
type SafeQuestion struct {
	Ask     string
	Options []string // the first is the safe one; none: a number is asked
	Low     int      // of the number
	High    int
	Do      string // what makes it safe
}

// SafeState lists what is looked at before a task stops in the middle: nothing
// where nothing is open.
func (j *Job) SafeState(task int) []SafeQuestion {
	var out []SafeQuestion
	if t, link := j.LinkOpen(); t != nil && (task == 0 || t.No == task || j.sameLink(task, link)) {
		lines := len(j.Plan.OnLink(link.Code))
		out = append(out,
			SafeQuestion{Ask: "The lines of the " + link.String(), Options: []string{"on a rod in their order, both ends stopped", "not on a rod, or not in order"},
				Do: "Slide them on a rod in the order that was written down, a stop on both ends."},
			SafeQuestion{Ask: fmt.Sprintf("Lines on the rod, counted (%d hang on this link; one may be out)", lines), Low: lines - 1, High: lines,
				Do: "Find the missing ones and put them on the rod in their place before you leave."},
			SafeQuestion{Ask: "On the link itself hangs", Options: []string{"the tag LINK OPEN", "nothing"}, Do: "Tie the tag LINK OPEN on the link."})
	}
	if len(out) > 0 || j.oneSided() {
		out = append(out, SafeQuestion{Ask: "On the wing hangs", Options: []string{"the tag DO NOT FLY", "nothing"}, Do: "Tie the tag DO NOT FLY on the wing."})
	}
	return out
}

func (j *Job) sameLink(task int, link wing.Ref) bool {
	t, ok := j.Task(task)
	if !ok {
		return false
	}
	return slices.ContainsFunc(t.targets(), func(r wing.Ref) bool { return j.onLink(r, link) })
}

func (j *Job) oneSided() bool {
	for _, t := range j.Tasks {
		if t.OneSide() {
			return true
		}
	}
	return false
}

// safely takes the answers to the safe state into the event.
func (d *decider) safely(questions []SafeQuestion) error {
	for i, q := range questions {
		if i >= len(d.en.Safe) {
			return refuse(SafeFirst, q.Ask)
		}
		words, ok := q.read(d.en.Safe[i])
		if !ok {
			return refuse(NotSafe, q.Ask, strings.TrimSpace(d.en.Safe[i]), q.Do)
		}
		d.ev.Safe = append(d.ev.Safe, q.Ask+": "+words)
	}
	return nil
}

// read takes one answer; false where it is not the safe one.
func (q SafeQuestion) read(answer string) (string, bool) {
	n, err := strconv.Atoi(strings.TrimSpace(answer))
	switch {
	case err != nil:
		return "", false
	case len(q.Options) > 0:
		return q.Options[0], n == 1
	}
	return strconv.Itoa(n), n >= q.Low && n <= q.High
}

// handOn gives the job to another person at another place. It is the last line
// here until somebody takes it over.
func (d *decider) handOn() error {
	to := strings.TrimSpace(d.en.To)
	if to == "" {
		return refuse(NobodyNamed)
	}
	if err := decent(to); err != nil {
		return err
	}
	if err := d.safely(d.j.SafeState(0)); err != nil {
		return err
	}
	d.ev.Kind, d.ev.To, d.ev.Text, d.ev.Task = HandedOn, to, strings.TrimSpace(d.en.Text), 0
	return nil
}

// takeOver goes on with a job that was handed on, here or elsewhere.
func (d *decider) takeOver() error {
	if d.j.handed == nil {
		return refuse(NotHanded)
	}
	d.ev.Kind, d.ev.Task = TakenOver, 0
	return nil
}

// HandedTo names who was to go on with the job, "" where it was not handed on
// or was taken over since.
func (j *Job) HandedTo() string {
	if j.handed == nil {
		return ""
	}
	return j.handed.To
}

// HandedWords is what was said when the job was handed on.
func (j *Job) HandedWords() string {
	if j.handed == nil {
		return ""
	}
	return j.handed.Text
}

// HandedState is the state in which the work was left, as it was looked at.
func (j *Job) HandedState() []string {
	if j.handed == nil {
		return nil
	}
	return j.handed.Safe
}
