package prompt

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

const helpWord = "help"

// allTopics asks for every command at once.
const allTopics = "all"

// explain says in few lines what is asked and what can be typed besides an
// answer. What an answer looks like is said by the question behind it.
func (w *walk) explain(c job.Card) {
	clear(w.said)
	if len(c.Fields) > 0 && c.Confirm == nil && c.Waiting == "" && !w.away() && !wantsLooker(c) {
		w.asks(c, c.Fields[c.At])
	}
	w.say("%s", w.handy(c))
	w.say("All that can be typed, by topics: :help")
}

// asks says what the step that is due asks for, and its answers.
func (w *walk) asks(c job.Card, f job.Field) {
	ask := f.Ask
	if ask == "" {
		ask = c.Action
	}
	w.say("Asked: %s", ask)
	for i, text := range f.Options {
		w.say("%d: %s", i+1, text)
	}
}

// handy names the commands that are most likely wanted here.
func (w *walk) handy(c job.Card) string {
	var f job.Field
	if len(c.Fields) > 0 {
		f = c.Fields[c.At]
	}
	switch {
	case w.s.Job().Closed != nil:
		return "A role and a name sign the record, as in: doer " + w.s.Who() + ". An empty line ends."
	case w.away():
		return ":take-over goes on with the job; :quit ends."
	case c.Task == 0:
		return ":add begins a task; :which finds out which line one is; :quit ends."
	case w.gone(c), c.Over:
		return ":agenda says what is next; :overview every answer; :close ends the job."
	case c.Waiting != "":
		return ":take-up goes on with the task; :agenda says what else is to be done; :quit ends."
	case c.Confirm != nil:
		return fmt.Sprintf("An empty line: it is as it says. :reopen %d REASON does that step again; :back looks at the card before.", w.stepNo(c.Task, c.Confirm.Key))
	case c.Second, f.Role == procedure.Second:
		return "Not agreed: :disagree REASON. Nobody here to look: :lay-down REASON. :card says the whole card again."
	case f.Kind == procedure.Measure || f.Kind == procedure.Lengths:
		return ":strike ENTRY REASON takes a reading back; :decide REASON takes what is not proved; :why says the reason."
	}
	return ":why says the reason; :card the whole card again; :back looks at the card before. An empty line goes on, and never stands for a value."
}

// help lists the topics, the commands of one, or all of them.
func (w *walk) help(c job.Card, about string) {
	if about == "" {
		w.say("A line answers the step. An empty line goes on; it never stands for a value. ? says what is asked now.")
		w.say("A command begins with a colon; its first letters are enough. More on a topic: :help TOPIC, or :help %s.", allTopics)
		for _, t := range topics {
			w.say("%s: %s", t.name, t.about)
		}
		return
	}
	found := about == allTopics
	if found {
		w.say(":help TOPIC: what can be typed, by topics or for all of them")
	}
	for _, t := range topics {
		if about == allTopics || strings.HasPrefix(t.name, about) {
			found = true
			w.sayCommands(t.commands)
		}
	}
	if found {
		return
	}
	if fits := called(strings.TrimPrefix(about, sign)); len(fits) > 0 {
		w.sayCommands(fits)
		return
	}
	w.notTaken(c, ":help "+about, fmt.Errorf("there is no topic and no command %q\n  :help lists the topics", about))
}

func (w *walk) sayCommands(ks []command) {
	for _, k := range ks {
		w.say("%s: %s", strings.TrimSpace(sign+k.name+" "+k.args), k.does)
	}
}
