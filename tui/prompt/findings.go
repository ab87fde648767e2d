package prompt

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// findings lists what was found, and what became of it.
func (w *walk) findings(_ job.Card, _ string) {
	j := w.s.Job()
	if len(j.Findings()) == 0 {
		w.say("No findings.")
		return
	}
	for _, f := range j.Findings() {
		w.say("Finding %s of %s by %s: %s. %s", w.findingNo(f.ID), moment(f.At), f.Who, f.Words(), FindingState(j, f))
	}
	w.say("What may wait: :carry FINDING 10 h REASON, or :carry FINDING 2027-03-01 REASON. What is over: :clear FINDING WAY REASON; the way is measured, looked or workshop. A mistake: :strike ENTRY REASON.")
}

// FindingState says in words what became of a finding.
func FindingState(j *job.Job, f *job.Finding) string {
	state, task := j.StateOf(f)
	switch state {
	case job.StateMended:
		return fmt.Sprintf("Mended by task %d.", task.No)
	case job.StateCleared:
		return fmt.Sprintf("Over, %s: %s.", f.Clear.Way, strings.TrimSuffix(f.Clear.Reason, "."))
	case job.StateDeferred:
		return fmt.Sprintf("Carried over until %s: %s.", f.Deferred.Limit(), strings.TrimSuffix(f.Deferred.Reason, "."))
	case job.StateStruck:
		return fmt.Sprintf("Struck: %s.", strings.TrimSuffix(f.Struck, "."))
	case job.StateSound:
		return "Nothing follows."
	}
	if f.Disposition.Grounds() {
		return "OPEN, the wing stays on the ground."
	}
	return "OPEN, it may wait with a reason and a limit."
}

// carry carries a finding over to a later job.
func (w *walk) carry(c job.Card, rest string) {
	id, rest2, _ := strings.Cut(rest, " ")
	limit, reason, err := Limit(rest2)
	if err != nil {
		w.notTaken(c, rest, err)
		return
	}
	w.enter(c, job.Entry{Kind: job.EnterDefer, Finding: w.finding(id), Deferral: limit, Text: reason})
}

// Limit reads until when something is carried over, and the words behind it:
// "10 h worn a little", "2027-03-01 spring".
func Limit(text string) (*job.Deferral, string, error) {
	word, reason, _ := strings.Cut(strings.TrimSpace(text), " ")
	if strings.Count(word, "-") == 2 {
		return &job.Deferral{Until: word}, strings.TrimSpace(reason), nil
	}
	h, err := job.ParseHours(word)
	if err != nil {
		return nil, "", fmt.Errorf("%q is no limit\n  write hours or a date first, as in 10 h REASON or 2027-03-01 REASON", word)
	}
	reason = strings.TrimSpace(reason)
	if rest, ok := strings.CutPrefix(reason+" ", "h "); ok {
		reason = rest
	}
	return &job.Deferral{Hours: h}, strings.TrimSpace(reason), nil
}

// clear ends a finding other than by work at this bench.
func (w *walk) clearFinding(c job.Card, rest string) {
	id, rest2, _ := strings.Cut(rest, " ")
	way, reason, _ := strings.Cut(strings.TrimSpace(rest2), " ")
	w.enter(c, job.Entry{Kind: job.EnterClear, Finding: w.finding(id), Way: WayNamed(way), Text: strings.TrimSpace(reason)})
}

// WayNamed reads the way in which a finding ended.
func WayNamed(word string) job.Way {
	for _, way := range []job.Way{job.ByLength, job.ByLooking, job.ByWorkshop} {
		if word != "" && strings.HasPrefix(string(way), word) {
			return way
		}
	}
	return job.Way(word)
}

// finding completes the number of a finding of this job.
func (w *walk) finding(id string) string {
	if _, err := strconv.Atoi(id); err == nil {
		return fmt.Sprintf("%d/%s", w.s.Job().Start.Job, id)
	}
	return id
}
