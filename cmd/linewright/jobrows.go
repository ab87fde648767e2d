package main

import (
	"cmp"
	"errors"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
)

// jobJSON is a job as --json prints it.
type jobJSON struct {
	Job      int        `json:"job"`
	Journal  int        `json:"job_in_journal"`
	Wing     string     `json:"wing"`
	WingName string     `json:"wing_name"`
	Serial   string     `json:"serial,omitempty"`
	Begun    string     `json:"begun"`
	Last     string     `json:"last_entry"`
	Closed   bool       `json:"closed"`
	Demo     bool       `json:"demo,omitempty"`
	Hours    *job.Hours `json:"hours_tenths,omitempty"`
	LinkOpen string     `json:"link_open,omitempty"`
	OneSide  string     `json:"one_side,omitempty"` // of a pair, in words
	HandedTo string     `json:"handed_to,omitempty"`
	Holder   string     `json:"open_elsewhere,omitempty"`
	Tasks    []taskJSON `json:"tasks"`
	Open     []openJSON `json:"open_items"`

	left int // open items and findings, as the record counts them
}

type taskJSON struct {
	No        int    `json:"no"`
	Procedure string `json:"procedure"`
	Title     string `json:"title"`
	Target    string `json:"target"`
	State     string `json:"state"`
	Why       string `json:"reason,omitempty"`
	Step      int    `json:"step"`
	Of        int    `json:"steps"`
	OneSide   string `json:"one_side,omitempty"` // of a pair, in words
}

type openJSON struct {
	Task  int    `json:"task"`
	Step  string `json:"step,omitempty"`
	Text  string `json:"text"`
	Since string `json:"since,omitempty"`
}

func (a *app) jobRow(d session.Desk, no int) (jobJSON, error) {
	j, _, err := d.Look(no)
	if err != nil {
		return jobJSON{}, err
	}
	p := logbook.PageOf(j)
	p.Job = no
	return rowOf(d, p)
}

// rowOf is a job as its page has it, and who has it open.
func rowOf(d session.Desk, p logbook.Page) (row jobJSON, err error) {
	row = jobJSON{
		Job: p.Job, Journal: p.Journal, Wing: p.Wing, WingName: p.WingName, Serial: p.Serial, Begun: p.Begun, Last: p.Last, Closed: p.Closed, Demo: p.Demo,
		Hours: p.Hours, LinkOpen: p.LinkOpen, HandedTo: p.HandedTo, Tasks: []taskJSON{}, Open: []openJSON{}, left: p.Left(),
	}
	for _, t := range p.Tasks {
		one := taskRow(t)
		row.Tasks = append(row.Tasks, one)
		row.OneSide = cmp.Or(row.OneSide, one.OneSide)
	}
	for _, it := range p.Open {
		row.Open = append(row.Open, openJSON{it.Task, it.Step, it.Text, it.Since})
	}
	if !row.Closed {
		row.Holder, err = d.Holder(p.Job)
	}
	return row, err
}

// taskRow says where a task stands: the step that is due, of all that are
// needed as far as is known.
func taskRow(t logbook.Task) taskJSON {
	step := t.Done
	if t.State != job.Done && step < t.Of {
		step++
	}
	row := taskJSON{
		No: t.No, Procedure: t.Procedure, Title: t.Title, Target: t.On,
		State: string(t.State), Why: t.Why, Step: step, Of: t.Of,
	}
	if t.OneSide {
		row.OneSide = job.OneSideWords(t.Target.Kind)
	}
	return row
}

func (a *app) listJobs(d session.Desk) error {
	pages, err := d.Pages(a.progress("reading jobs"))
	if err != nil {
		return err
	}
	rows := []jobJSON{}
	var bad error
	for _, p := range pages {
		if p.Fault != "" {
			bad = errors.Join(bad, errors.New(p.Fault))
			continue
		}
		row, err := rowOf(d, p)
		if err != nil {
			bad = errors.Join(bad, err)
			continue
		}
		rows = append(rows, row)
	}
	err = a.result(rows, func() {
		if len(pages) == 0 {
			a.line("There is no job yet. Start one: linewright job start WING PROCEDURE TARGET")
		}
		for _, r := range rows {
			a.jobLine(r)
		}
	})
	return errors.Join(err, bad)
}

// name names the job by its number here, and by that of its journal.
func (r jobJSON) name() string { return session.JobName(r.Job, job.Start{Job: r.Journal}) }

// jobLine says a job on one line.
func (a *app) jobLine(r jobJSON) {
	var facts []string
	if r.Job != r.Journal {
		facts = append(facts, r.name())
	}
	for _, t := range r.Tasks {
		facts = append(facts, taskText(t))
	}
	if len(r.Tasks) == 0 {
		facts = append(facts, "no task")
	}
	if r.Closed {
		facts = append(facts, "closed")
	}
	if n := r.left; n > 0 {
		facts = append(facts, count(n, "open item", "open items"))
	}
	a.line("%d: %s. %s.", r.Job, r.WingName, strings.Join(append(facts, warnings(r)...), ". "))
}

func taskText(t taskJSON) string {
	text := t.Title + ", " + t.Target + ": "
	switch job.TaskState(t.State) {
	case job.Running:
		return text + stepOf(t)
	case job.Done:
		return text + "done"
	case job.Waiting:
		return text + stepOf(t) + ", laid down: " + t.Why
	}
	return text + t.State
}

// warnings names what must be said wherever a job is listed.
func warnings(r jobJSON) []string {
	var out []string
	if r.LinkOpen != "" {
		out = append(out, "LINK OPEN: "+r.LinkOpen)
	}
	if r.OneSide != "" {
		out = append(out, strings.ToUpper(r.OneSide))
	}
	if r.HandedTo != "" {
		out = append(out, "HANDED ON to "+r.HandedTo)
	}
	if r.Holder != "" {
		out = append(out, "open elsewhere: "+r.Holder)
	}
	return out
}

func (a *app) showJob(d session.Desk, text string) error {
	no, err := number(text)
	if err != nil {
		return err
	}
	row, err := a.jobRow(d, no)
	if err != nil {
		return err
	}
	return a.result(row, func() { a.jobLines(row) })
}

// jobLines says a job in full.
func (a *app) jobLines(r jobJSON) {
	a.line("%s: %s%s (wing %s)", procedure.Capital(r.name()), r.WingName, serial(r.Serial), r.Wing)
	if r.Demo {
		a.line("Sample data: this says nothing about any wing.")
	}
	a.line("Begun %s, last entry %s", r.Begun, r.Last)
	if r.Hours != nil {
		a.line("Flying hours when it began: %s", r.Hours)
	}
	for _, w := range warnings(r) {
		a.line("%s", w)
	}
	for _, t := range r.Tasks {
		a.line("Task %d: %s", t.No, taskText(t))
	}
	for _, o := range r.Open {
		since := ""
		if o.Since != "" {
			since = " (since " + o.Since + ")"
		}
		a.line("Open: %s%s", o.Text, since)
	}
	if r.Closed {
		a.line("Closed. Nothing can be added.")
	}
}
