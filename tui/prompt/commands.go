package prompt

import (
	"strings"

	"example.org/linewright/engine/job"
)

// command is one thing to ask for besides an answer.
type command struct {
	name, args, does string
	run              func(w *walk, c job.Card, rest string)
}

// topic gathers the commands that belong together, so that nobody has to hear
// all of them to find one.
type topic struct {
	name, about string
	commands    []command
}

var topics = []topic{
	{"look", "hear again where you are, why, and what was answered", []command{
		{"where", "", "job, task and step in few words, and what stands open on the wing", (*walk).where},
		{"card", "", "say the whole card again", (*walk).sayAgain},
		{"why", "", "the reason for this step", (*walk).why},
		{"back", "[N]", "look at the card N steps back; changes nothing", (*walk).back},
		{"overview", "", "every step of the task with its answer", (*walk).overview},
	}},
	{"undo", "take something back, or do it again", []command{
		{"strike", "ENTRY REASON", "withdraw a reading, a note or a finding; it stays visible. Of a sheet: ENTRY PATH SIDE REASON", (*walk).strike},
		{"reopen", "STEP REASON", "do a step of the overview again; shows first what becomes void", (*walk).reopen},
		{"stands", "", "the old answer of a void step still holds", (*walk).stands},
		{"mend", "", "after a failed write: read back what is on the disk", (*walk).mend},
	}},
	{"words", "notes, and decisions of your own", []command{
		{"note", "WORDS", "write a note", (*walk).note},
		{"decide", "REASON", "take a value that is not proved, on your own decision", (*walk).decide},
		{"second", "NAME", "another person is the second one; before their first answer", (*walk).second},
		{"disagree", "REASON", "do not agree to a hold; its work is done again", (*walk).disagree},
	}},
	{"tasks", "begin one, let it wait, go to another", []command{
		{"agenda", "", "what is to be done in this job, what waits, what is void", (*walk).agenda},
		{"do", "N", "go on with a line of the agenda, or begin it", (*walk).do},
		{"task", "N", "go to another task", (*walk).goTo},
		{"add", "PROCEDURE TARGET REASON", "add a task, with the reason or without; alone it lists the procedures; target which: find the line first", (*walk).add},
		{"which", "[SIDE]", "find out which line one is, from what you see of it", (*walk).which},
		{"lay-down", "REASON", "let the task wait; say the safe state", (*walk).layDown},
		{"take-up", "", "go on with a task that was laid down", (*walk).takeUp},
		{"drop", "REASON", "give the task up", (*walk).drop},
	}},
	{"measuring", "the bench, sheets, reports, sums", []command{
		{"bench", "", "the bench that lengths are measured on; describe it", (*walk).describe},
		{"sheet", "FILE", "readings of many paths from a CSV file", (*walk).sheet},
		{"report", "", "the last report of the trim and choice of loops again", (*walk).report},
		{"reckon", "SUM", "a bench sum, nothing is written; alone it lists them", (*walk).reckon},
	}},
	{"findings", "what was found, and what becomes of it", []command{
		{"findings", "", "what was found, and what became of it", (*walk).findings},
		{"carry", "FINDING LIMIT REASON", "carry a finding over that may wait", (*walk).carry},
		{"clear", "FINDING WAY REASON", "a finding is over: measured, looked again, workshop", (*walk).clearFinding},
	}},
	{"parts", "the order list", []command{
		{"parts", "", "the order list", (*walk).parts},
		{"want", "PART", "put a suggested part on the list; :parts shows how", (*walk).want},
		{"read", "PART CODE", "read a code back before it is ordered", (*walk).readBack},
		{"order", "", "make the order final", (*walk).order},
		{"came", "PART WORDS", "a part that is no line came and is right", (*walk).came},
		{"return", "PART REASON", "a part came and is wrong: it goes back on the list", (*walk).sendBack},
		{"unwant", "PART REASON", "take a part off the list", (*walk).unwant},
	}},
	{"end", "stop, hand the job on, close it", []command{
		{"quit", "", "stop here; what is saved is kept", func(w *walk, _ job.Card, _ string) { w.quit = true }},
		{"hand-on", "NAME WORDS", "hand the job on to another person", (*walk).handOn},
		{"take-over", "", "go on with a job that was handed on", (*walk).takeOver},
		{"close", "STATEMENT", "close the job; nothing can be added then", (*walk).close},
	}},
}

// called lists the commands of that name, or else those that begin so.
func called(name string) []command {
	var fits []command
	for _, t := range topics {
		for _, k := range t.commands {
			if k.name == name {
				return []command{k}
			}
			if strings.HasPrefix(k.name, name) {
				fits = append(fits, k)
			}
		}
	}
	return fits
}

func names(ks []command) string {
	all := make([]string, len(ks))
	for i, k := range ks {
		all[i] = k.name
	}
	return strings.Join(all, " or ")
}
