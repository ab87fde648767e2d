package main

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/table"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// described is how many jobs are offered with what they are: nobody reads a
// longer list, and each of them costs a look into its journal.
const described = 100

// jobs are offered newest first.
func (h hint) jobs() []cobra.Completion {
	if h.store == nil {
		return nil
	}
	nos, err := h.store.JobFolders()
	if err != nil {
		return nil
	}
	titles := h.titles()
	var out []cobra.Completion
	for _, n := range slices.Backward(nos) {
		no := strconv.Itoa(n)
		if !strings.HasPrefix(no, h.typed) {
			continue
		}
		about := ""
		if len(out) < described {
			about = h.about(n, titles)
		}
		out = append(out, cobra.CompletionWithDesc(no, about))
	}
	return out
}

// about says of a job its wing and its tasks, as far as its journal tells at the
// beginning. What is worked on is not said: it may have to be found out.
func (h hint) about(no int, titles map[string]string) string {
	lines, err := h.store.JobStart(no)
	if err != nil {
		return ""
	}
	text := ""
	eachTask(lines, func(e job.Event) { text += ", " + titles[e.Add.Procedure] })
	if len(lines) > 0 {
		if e, err := job.Decode(lines[0].Event); err == nil && e.Start != nil {
			text = e.Start.WingName + text
		}
	}
	return text
}

func eachTask(lines []journal.Line, do func(job.Event)) {
	for _, l := range lines {
		if e, err := job.Decode(l.Event); err == nil && e.Add != nil {
			do(e)
		}
	}
}

// tasks are those of the job that was named before.
func (h hint) tasks() []cobra.Completion {
	no, err := number(h.given("JOB", ""))
	if err != nil || h.store == nil {
		return nil
	}
	lines, err := h.store.ReadJob(no)
	if err != nil {
		return nil
	}
	titles := h.titles()
	var out []cobra.Completion
	eachTask(lines, func(e job.Event) {
		out = append(out, cobra.CompletionWithDesc(strconv.Itoa(e.Task), titles[e.Add.Procedure]))
	})
	return out
}

// files are those of the procedures.
func (h hint) files() []procedure.File {
	if h.store != nil {
		if files, err := procedureFiles(h.store); err == nil {
			return files
		}
	}
	return procedures.Files()
}

// heads are the procedures as far as their first table, unproved: to read and
// prove them all takes too long for a key that is pressed.
func (h hint) heads() []procedure.Procedure {
	var out []procedure.Procedure
	for _, f := range h.files() {
		var p procedure.Procedure
		head, _, _ := bytes.Cut(append([]byte("\n"), f.Data...), []byte("\n["))
		if source.Decode(f.Name, head, &p); p.ID != "" {
			out = append(out, p)
		}
	}
	return out
}

// titles are those of the procedures, by id.
func (h hint) titles() map[string]string {
	out := map[string]string{}
	for _, p := range h.heads() {
		out[p.ID] = p.Title.In("en")
	}
	return out
}

// procedures are those that the wing which was named before has a target for.
func (h hint) procedures() []cobra.Completion {
	plan := h.plan()
	var out []cobra.Completion
	for _, p := range h.heads() {
		if plan == nil || targeted(plan, wing.Kind(p.Target)) {
			out = append(out, cobra.CompletionWithDesc(p.ID, p.Title.In("en")))
		}
	}
	return out
}

// people are those with a key here, then those whose key is trusted.
func (h hint) people() []cobra.Completion {
	if h.store == nil {
		return nil
	}
	out, err := h.store.Signers()
	if err != nil {
		return nil
	}
	data, err := h.store.AllowedSigners()
	if err != nil {
		return out
	}
	allowed, err := seal.ParseAllowedSigners(data)
	if err != nil {
		return out
	}
	for _, e := range allowed.Entries {
		for _, name := range e.Principals {
			if !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// questions are what the bench of the store is described by.
func (h hint) questions() []metrology.Question {
	b := metrology.DefaultBench()
	if h.store != nil {
		if own, err := (session.Desk{Store: h.store}).Bench(); err == nil {
			b = own
		}
	}
	return metrology.Questions(b)
}

func (h hint) keys() []cobra.Completion {
	var out []cobra.Completion
	for _, q := range h.questions() {
		out = append(out, cobra.CompletionWithDesc(q.Key, q.Label))
	}
	return out
}

// values are the words that the key before takes, where it takes words.
func (h hint) values() []cobra.Completion { return h.wordsFor(h.args[len(h.args)-1], "") }

func (h hint) wordsFor(key, before string) []cobra.Completion {
	var out []cobra.Completion
	for _, q := range h.questions() {
		for _, o := range q.Options {
			if q.Key == key {
				out = append(out, cobra.CompletionWithDesc(before+o.Value, o.Text))
			}
		}
	}
	return out
}

func (h hint) settings() []cobra.Completion {
	if key, _, ok := strings.Cut(h.typed, "="); ok {
		return h.wordsFor(key, key+"=")
	}
	var out []cobra.Completion
	for _, q := range h.questions() {
		out = append(out, cobra.CompletionWithDesc(q.Key+"=", q.Label))
	}
	return out
}

func (h hint) roles() []cobra.Completion {
	var out []cobra.Completion
	for _, r := range table.Roles {
		out = append(out, string(r)+"=")
	}
	return out
}
