package prompt

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// sign begins a command. No number, code, order or path begins with it; words
// that must begin with it are typed with a space before.
const sign = ":"

func isCommand(text string) bool { return text == "?" || strings.HasPrefix(text, sign) }

// command runs a command by its name, or by a beginning that fits no other.
func (w *walk) command(c job.Card, text string) {
	if text == "?" || text == sign {
		w.explain(c)
		return
	}
	name, rest, _ := strings.Cut(strings.TrimPrefix(text, sign), " ")
	if strings.HasPrefix(helpWord, name) {
		w.help(c, strings.TrimSpace(rest))
		return
	}
	switch fits := called(name); len(fits) {
	case 1:
		if w.covers(c, fits[0].name) {
			return
		}
		fits[0].run(w, c, strings.TrimSpace(rest))
	case 0:
		w.notTaken(c, text, fmt.Errorf("there is no command %q\n  :help lists them by topics", name))
	default:
		w.notTaken(c, text, fmt.Errorf("%q can be %s\n  type a letter more", name, names(fits)))
	}
}

func (w *walk) sayAgain(_ job.Card, _ string) {
	w.afresh()
	clear(w.said)
}

// afresh has the next card said whole.
func (w *walk) afresh() { w.shown, w.headed, w.shownFacts = spot{}, "", nil }

func (w *walk) why(c job.Card, _ string) {
	if c.Reason == "" {
		w.say("No reason is given for this step.")
		return
	}
	w.say("Reason: %s", c.Reason)
}

func (w *walk) note(c job.Card, rest string) {
	en := job.Entry{Kind: job.EnterNote, Task: c.Task, Text: rest}
	if len(c.Fields) > 0 {
		en.Key = c.Fields[c.At].Key
	}
	w.enter(c, en)
}

func (w *walk) strike(c job.Card, rest string) {
	line, why, _ := strings.Cut(rest, " ")
	n, err := strconv.Atoi(line)
	if err != nil {
		w.notTaken(c, rest, fmt.Errorf("the number of an entry is wanted, and a reason\n  as in :strike 23 jerked the line"))
		return
	}
	path, why := w.struckPath(n, strings.TrimSpace(why))
	before := w.s.Job().Lines
	w.enter(c, job.Entry{Kind: job.EnterStrike, Line: n, Path: path, Text: why})
	w.struck(c, n, w.s.Job().Lines > before)
}

func (w *walk) stands(c job.Card, _ string) { w.work(c, job.EnterStands, "") }

func (w *walk) disagree(c job.Card, rest string) {
	if len(c.Fields) > 0 && !c.Second && c.Fields[c.At].Kind != procedure.Sign {
		w.notTaken(c, rest, errors.New("nothing is signed at this step, so there is nothing to disagree with\n"+
			"  :reopen STEP WORDS does a step again"))
		return
	}
	w.work(c, job.EnterDisagree, rest)
}

func (w *walk) takeUp(c job.Card, _ string) { w.work(c, job.EnterTakeUp, "") }

func (w *walk) drop(c job.Card, rest string) { w.work(c, job.EnterDrop, rest) }

// work enters what needs no more than the task and words.
func (w *walk) work(c job.Card, kind job.EntryKind, text string) {
	w.enter(c, job.Entry{Kind: kind, Task: c.Task, Text: text})
}

func (w *walk) mend(_ job.Card, _ string) {
	if w.s.Stopped() == nil {
		w.say("Nothing is to be mended: every entry was saved.")
		return
	}
	before := w.s.Job().Lines
	if err := w.s.Mend(); err != nil {
		w.words("", err)
		return
	}
	w.say("The journal is open again and ends with entry %d.", w.s.Job().Lines)
	if w.s.Job().Lines > before {
		w.say("The entry that was not known to be saved is in it.")
	} else {
		w.say("The entry that was not saved is not in it: enter it again.")
	}
	w.shown = spot{}
}

// add adds a task, or lists what could be added.
func (w *walk) add(c job.Card, rest string) {
	id, target, _ := strings.Cut(rest, " ")
	lib, faults := w.o.Desk.Library()
	if id == "" {
		for _, id := range lib.IDs() {
			p, _ := lib.Get(id)
			w.say("%s: %s. Target: %s", id, p.Title.In("en"), Targets[wing.Kind(p.Target)])
		}
		if faults != nil {
			w.say("Some procedures have faults: %s shows them.", w.o.Desk.Command("procedure list"))
		}
		return
	}
	p, ok := lib.Get(id)
	if !ok {
		w.notTaken(c, rest, fmt.Errorf("there is no procedure %q\n  :add alone lists them", id))
		return
	}
	target, reason := targetAndReason(wing.Kind(p.Target), target)
	ref, ok := w.target(c, wing.Kind(p.Target), target)
	if !ok {
		return
	}
	if t, since := w.s.Job().Already(id, ref); t != nil {
		w.say("%s", AlreadyWords(t, moment(since)))
		if !w.yes(c, "Add it once more?") {
			return
		}
	}
	no, err := w.s.AddTask(id, ref, reason)
	if err == nil {
		w.task, w.shown = no, spot{}
	}
	w.told(c, rest, job.Event{}, err)
}

// AlreadyWords say that a job has a task on a thing already.
func AlreadyWords(t *job.Task, since string) string {
	state := map[job.TaskState]string{job.Running: "open since", job.Waiting: "laid down, begun", job.Done: "done, its last entry"}[t.State()]
	return fmt.Sprintf("This job has it already: task %d, %s, %s, %s %s.", t.No, t.Unfolded.Procedure.Title.In("en"), t.Add.Target, state, since)
}

// targetAndReason parts the target of a task from the words behind it.
func targetAndReason(kind wing.Kind, text string) (target, reason string) {
	words := strings.Fields(text)
	n := 0
	switch {
	case len(words) == 0:
	case strings.Contains(words[0], ":"), strings.Contains(words[0], "@"), words[0] == "which", words[0] == string(kind):
		n = 1
	case kind == wing.KindLine || kind == wing.KindLink:
		n = min(2, len(words))
	}
	return strings.Join(words[:n], " "), strings.Join(words[n:], " ")
}

// target reads the target of a task, or finds its line by what is seen of it.
func (w *walk) target(c job.Card, kind wing.Kind, text string) (wing.Ref, bool) {
	if kind == wing.KindLine && strings.TrimSpace(text) == "which" {
		return w.findLine(c, "")
	}
	ref, err := Target(kind, text)
	if err != nil {
		if kind == wing.KindLine {
			err = fmt.Errorf("%w; or which, to find the line by what you see of it", err)
		}
		w.notTaken(c, text, err)
	}
	return ref, err == nil
}

// Targets says how the target of a procedure is written, by its kind.
var Targets = map[wing.Kind]string{
	wing.KindLine:   "a line and its side, as C1.2 left",
	wing.KindLink:   "a link and its side, as C left",
	wing.KindBrakes: "both brakes, nothing to write",
	wing.KindWing:   "the wing, nothing to write",
}

// Target reads a target as a person writes it: "C1.2 left", "C1.2@left", or the
// form that files have. The error says what is accepted.
func Target(kind wing.Kind, text string) (wing.Ref, error) {
	text = strings.TrimSpace(text)
	if ref, err := wing.ParseRef(text); err == nil {
		return ref, nil
	}
	if text == "" && (kind == wing.KindBrakes || kind == wing.KindWing) {
		return wing.Ref{Kind: kind}, nil
	}
	code, side, _ := strings.Cut(strings.Replace(text, "@", " ", 1), " ")
	ref, err := wing.ParseRef(string(kind) + ":" + code + "@" + strings.TrimSpace(side))
	if err != nil {
		return wing.Ref{}, fmt.Errorf("%q is no target here\n  write %s", text, Targets[kind])
	}
	return ref, nil
}

func (w *walk) goTo(c job.Card, rest string) {
	n, err := strconv.Atoi(rest)
	if err == nil {
		_, err = w.s.Card(n)
	}
	if err != nil {
		w.notTaken(c, rest, fmt.Errorf("there is no task %q\n  this job has %d", rest, len(w.s.Job().Tasks)))
		return
	}
	w.task = n
	w.afresh()
}
