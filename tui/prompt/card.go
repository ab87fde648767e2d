package prompt

import (
	"fmt"
	"strings"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/picture"
)

// greet says where the person is.
func (w *walk) greet() {
	j := w.s.Job()
	w.sitting()
	if j.Start.Demo {
		w.say("Sample data. This says nothing about any wing.")
	}
	if r := w.s.Recovery(); r.Torn() {
		w.say("The last entry, entry %d, was torn. It is set aside in %s and does not count.", r.Line, r.TornFile)
	}
	w.handed()
	w.standing()
	w.say("Type a question mark for help. A command begins with a colon, as :help.")
}

// sitting names the job, its wing and who is there.
func (w *walk) sitting() {
	j := w.s.Job()
	w.say("%s, %s. At the bench: %s.", procedure.Capital(session.JobName(w.s.No(), j.Start)), wingName(j), w.s.Who())
}

func wingName(j *job.Job) string {
	name := j.Start.WingName
	if j.Start.Serial != "" {
		name += ", serial " + j.Start.Serial
	}
	return name
}

// goodbye says what a person has to know who leaves now.
func (w *walk) goodbye() {
	w.err = nil
	w.say("Everything that was said to be saved is kept.")
	w.warn()
	if w.s.Job().Closed == nil && !w.away() {
		w.say("Go on with: %s", w.again())
	}
	w.err = w.ctx.Err()
}

// again is the command that goes on with this job.
func (w *walk) again() string { return w.o.Desk.Command(fmt.Sprintf("job walk %d", w.s.No())) }

// warn names the states in which a wing must not be left without a word.
func (w *walk) warn() {
	for _, l := range OpenWords(w.s.Job()) {
		w.say("%s", l)
	}
}

// OpenWords names the states in which a wing must not be left without a word.
func OpenWords(j *job.Job) []string {
	var out []string
	if t, link := j.LinkOpen(); t != nil {
		out = append(out, fmt.Sprintf("LINK OPEN: %s, task %d. Leave its lines on a rod in their order, the link tagged, the wing tagged.", link, t.No))
	}
	for _, t := range j.Tasks {
		if t.OneSide() {
			out = append(out, fmt.Sprintf("%s (task %d). Leave the wing tagged.", strings.ToUpper(t.OneSideWords()), t.No))
		}
	}
	return out
}

// show prints what is due, as far as it was not printed just now.
func (w *walk) show(c job.Card) {
	var now spot
	if len(c.Fields) > 0 {
		now = spot{c.Fields[0].Key, c.Fields[c.At].Key}
	}
	switch {
	case w.away():
		now = spot{card: "away"}
	case wantsLooker(c):
		now.field = "who looks"
	case c.Over:
		now.card = "over"
	}
	fresh, again := now.card != w.shown.card, now == w.shown
	w.shown = now
	switch {
	case w.away():
		w.say("Nothing is entered here before :take-over; :quit ends.")
	case c.Task == 0:
		w.say("This job has no task yet. Add one with :add PROCEDURE TARGET; :add alone lists what there is.")
	case w.gone(c):
		w.say("Task %d was dropped. Add another with :add, or close the job with :close and a closing statement.", c.Task)
	case c.Over && again:
		w.say("Every step is answered. :agenda says what is next, :close ends the job.")
	case c.Over:
		w.over(c)
	case c.Waiting != "":
		w.say("Task %d is laid down: %s", c.Task, c.Waiting)
		w.say("Take it up again with :take-up.")
	case c.Confirm != nil:
		w.confirm(c)
		w.shown = spot{}
	case wantsLooker(c):
		if fresh {
			w.card(c)
		}
		w.say("Name of the second person, who answers now:")
	case again:
		w.question(c, c.Fields[c.At])
	default:
		lead := ""
		if fresh {
			w.card(c)
		} else {
			lead = fmt.Sprintf("Step %d. ", c.Step) // every question can be named, as for :reopen
		}
		w.field(c, c.Fields[c.At], lead)
		w.question(c, c.Fields[c.At])
	}
}

// gone reports whether the task was dropped: nothing of it is due any more.
func (w *walk) gone(c job.Card) bool {
	t, ok := w.s.Job().Task(c.Task)
	return ok && t.State() == job.Gone
}

// card prints the head of a card: where it is and what is to be done.
func (w *walk) card(c job.Card) {
	w.found(c)
	w.say("")
	w.head(c)
	w.say("Step %d. Phase: %s.", c.Step, phase(c)) // no total: answers decide which steps are asked for
	if c.Second {
		w.say("For the second person. Doer, step back.")
	}
	if c.Caution != "" {
		w.say("Caution: %s", c.Caution)
	}
	w.say("To do: %s", c.Action)
	if c.Detail != "" {
		w.say("%s", c.Detail)
	}
	if c.Picture != picture.NameSides {
		for _, r := range c.Sides {
			w.say("%s", r.Words())
		}
	}
	if c.Picture == picture.NameScale {
		w.shownFacts = nil
		return // the field says the same, with the sources
	}
	w.facts(picture.Facts(c, w.s.Job().Plan))
}

func phase(c job.Card) string {
	for _, p := range c.Cord {
		if p.State == "here" {
			return p.Title
		}
	}
	return ""
}

// field prints what is known of the step that is due.
func (w *walk) field(c job.Card, f job.Field, lead string) {
	if f.Ask != "" {
		w.say("%s%s", lead, f.Ask)
	}
	for i, text := range f.Options {
		w.say("%d: %s", i+1, text)
	}
	if f.Scale != nil {
		w.scale(f.Scale)
	}
	if f.LoopFit != nil {
		for _, l := range f.LoopFit.Words() {
			w.say("%s", l)
		}
	}
	if f.State == job.Void && f.Old == "" {
		w.say("Void, answer again.")
	} else if f.State == job.Void {
		w.say("Void, answer again. It said: %s", f.Old)
		if f.Stands {
			w.say("If it still holds: :stands")
		}
	}
	if f.Why != nil {
		what, do := f.Why.Words()
		w.say("Still open: %s", what)
		w.hint(do)
	}
	if f.Lengths != nil {
		w.lengths(f.Lengths)
	}
	for _, it := range f.Blocking {
		w.say("Keeps the wing on the ground: %s", it.Text)
	}
	if f.Kind == procedure.Sign {
		w.hold(c, f, lead)
	}
}

// hint prints what to do, if there is something.
func (w *walk) hint(do string) {
	if do != "" {
		w.say("%s", do)
	}
}

func (w *walk) scale(s *job.Scale) {
	switch {
	case s.Against != "":
		w.say("Held against: %s, %s.", s.Expected, s.Source)
	case s.HasValue:
		w.say("Expected: %s. Source: %s.", s.Expects(), s.Source)
	}
	if s.HasLimit {
		w.say("Limit: %s either way. Source: %s.", s.Limit, s.LimitOf)
	}
	w.outlook(s)
	for i, r := range s.Readings {
		switch {
		case r.Struck != "" && s.Covered:
			w.say("Entry %d: struck: %s", r.Line, r.Struck)
		case r.Struck != "":
			w.say("Entry %d: %s, struck: %s", r.Line, r.Value, r.Struck)
		case s.Covered:
			w.say("Reading %d: covered until the last is in.", i+1)
		case r.Outcome != job.Taken:
			w.say("Entry %d: %s, does not count.", r.Line, r.Value)
		default:
			w.say("Entry %d: %s.", r.Line, r.Value)
		}
	}
}

// question says in one line what an entry looks like.
func (w *walk) question(c job.Card, f job.Field) {
	switch {
	case f.Inspection != nil:
		w.inspection(f)
	case f.Kind == procedure.Sign && f.Role == procedure.Pilot:
		w.say("Name of the pilot who signs:")
	case f.Kind == procedure.Sign && f.Role == procedure.Second:
		w.say("%s gave the answers. Type that name again to sign:", c.Looker)
	case f.Kind == procedure.Sign:
		w.say("Name of the doer who signs:")
	case f.Kind == procedure.Do:
		w.say("An empty line when it is done.")
	case f.Kind == procedure.Measure:
		w.measureQuestion(f)
	case len(f.Options) > 0:
		w.say("Wanted: %s.", numberUpTo(len(f.Options)))
	case f.Empty:
		w.say("Wanted: %s. An empty line passes it.", w.briefly(f.Wanted))
	default:
		w.say("Wanted: %s.", w.briefly(f.Wanted))
	}
}

// numberUpTo says which numbers choose an answer.
func numberUpTo(n int) string {
	if n == 2 {
		return "1 or 2"
	}
	return fmt.Sprintf("a number from 1 to %d", n)
}

// measureQuestion shows the verdict before it is taken: the readings that are
// there are judged, and nothing is written until an empty line says so.
func (w *walk) measureQuestion(f job.Field) {
	n := counting(f.Scale)
	if n == 0 {
		w.say("Wanted: %s.", w.briefly(f.Wanted))
		return
	}
	e, err := w.s.Foresee(job.Entry{Kind: job.EnterOn, Task: w.task, Key: f.Key})
	switch {
	case err != nil:
		w.openStill(err)
	case e.Judgement != nil:
		w.say("Verdict: %s.", e.Judgement.Words())
		if e.Outcome == job.Taken {
			w.say("An empty line writes the verdict down. Or type another reading.")
		} else {
			w.say("An empty line writes the verdict down, and the step stays open. Or type another reading.")
		}
		return
	default:
		if e.Difference != nil {
			w.say("Difference: %s, sure within %s. No limit is set.", longer(e.Difference.Value), upToTenth(e.Difference.U))
		}
		w.say("An empty line goes on. Or type another reading.")
		return
	}
	w.say("Reading %d. Wanted: %s.", n+1, w.briefly(f.Wanted))
}

// openStill says why the readings do not close the step, unless it was said
// just now, as the answer to the entry.
func (w *walk) openStill(err error) {
	if b := because(err); b != nil && saidBy(b) == w.reason {
		return
	}
	w.words("", err)
}

// upToTenth rounds an uncertainty up to a tenth of a millimetre.
func upToTenth(u quantity.Length) quantity.Length {
	const tenth = quantity.Millimetre / 10
	return (u + tenth - 1) / tenth * tenth
}

// longer says a difference in words.
func longer(d quantity.Length) string {
	switch {
	case d > 0:
		return d.String() + " longer"
	case d < 0:
		return d.Abs().String() + " shorter"
	}
	return "none"
}

func counting(s *job.Scale) int {
	n := 0
	for _, r := range s.Readings {
		if r.Outcome == job.Taken && r.Struck == "" {
			n++
		}
	}
	return n
}

func (w *walk) confirm(c job.Card) {
	w.say("")
	w.say("Task %d: %s. The work was interrupted.", c.Task, c.Title)
	w.say("Last entry: %s.", moment(c.Confirm.Last))
	w.say("Last step done: %s", strings.ReplaceAll(c.Confirm.Action, " — ", ": "))
	if c.Confirm.Answer != "" {
		w.say("It says: %s", c.Confirm.Answer)
	}
	w.say("Look at it on the wing. An empty line if it is as it says; else :reopen %d REASON", w.stepNo(c.Task, c.Confirm.Key))
}

// moment prints a time of the journal on this machine's clock.
func moment(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Local().Format("2006-01-02 15:04")
}

// over is the last card of a task.
func (w *walk) over(c job.Card) {
	w.say("")
	w.say("Task %d, %s, %s: every step is answered.", c.Task, c.Title, c.Target)
	open := StaysOpen(w.s.Job())
	todo := w.s.Job().Agenda()
	if len(open)+len(todo) == 0 {
		w.say("Nothing is open.")
	}
	for _, one := range open {
		w.say("Open: %s", one)
	}
	w.say("Tag: %s", w.tag())
	for i, t := range todo {
		w.say("%d: %s", i+1, TodoWords(t))
	}
	if len(todo) > 0 {
		w.say(":do N goes on with one, or begins it.")
	}
	if t, _ := w.s.Job().LinkOpen(); t != nil {
		w.say("Add a task with :add. The job is closed when the link is.")
		return
	}
	w.say("Close the job with :close and a closing statement, or add a task with :add.")
	w.say("When it is closed you sign once more: what you signed so far stands for the work, that one seals the record.")
}
