package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// deeds lists what can be done in a task besides answering. A key means the
// same on every card; what cannot be done now is left out.
func (m *model) deeds(p *overviewPage) []deed {
	c := p.card
	out := []deed{
		{"0", "the bench", func(m *model) tea.Cmd { return m.describeBench() }},
		{"1", "note", func(m *model) tea.Cmd { return m.askNote(c) }},
	}
	if len(m.strikeable(c)) > 0 {
		out = append(out, deed{"2", "strike", func(m *model) tea.Cmd { return m.chooseStrike(c) }})
	}
	out = append(out, deed{"3", "do the marked step again", p.again})
	if notProved(c) {
		out = append(out, deed{"4", "decide yourself", func(m *model) tea.Cmd { return m.askDecide(c) }})
	}
	if f, ok := due(c); ok && f.Stands && c.Confirm == nil && typedIn(f) {
		out = append(out, deed{"e", "the old answer still holds", func(m *model) tea.Cmd { return m.stillHolds(c) }})
	}
	if held(c) {
		out = append(out, deed{"5", "not agreed", func(m *model) tea.Cmd { return m.askDisagree(c) }})
	}
	switch {
	case c.Waiting != "":
		out = append(out, deed{"6", "take up again", func(m *model) tea.Cmd { m.pop(); return nil }})
	case !c.Over:
		out = append(out, deed{"6", "lay down", func(m *model) tea.Cmd { return m.layDown(c) }})
	}
	out = append(out,
		deed{"7", "drop", func(m *model) tea.Cmd { return m.askDrop(c) }},
		deed{"8", "tasks of the job", func(m *model) tea.Cmd { m.base(newJobPage(m)); return nil }})
	out = append(append(out, m.measureDeeds(c)...), m.jobDeeds("t")...)
	out = append(out,
		deed{"s", "bench sums", func(m *model) tea.Cmd { return m.jobSums() }},
		deed{"l", "look", func(m *model) tea.Cmd { return m.chooseLook() }})
	if findable(m.at.plan) && !c.Hidden && !m.session.Job().Covered(c.Task) {
		out = append(out, deed{"w", "which line", func(m *model) tea.Cmd { return m.which() }})
	}
	return append(out, deed{"9", "leave the job", func(m *model) tea.Cmd { return m.goHome() }})
}

// findable reports whether the plan has lines with a place, so that one can be
// found out by what is seen of it.
func findable(plan *wing.Plan) bool { return plan != nil && len(plan.Lines) > 0 }

// which finds a line out, and adds a task on it.
func (m *model) which() tea.Cmd {
	m.push(newWhichPage(m.at.plan, func(m *model, ref wing.Ref) tea.Cmd { return m.addTaskOn(ref) }))
	return nil
}

func due(c job.Card) (job.Field, bool) {
	if c.Over || c.At >= len(c.Fields) {
		return job.Field{}, false
	}
	return c.Fields[c.At], true
}

// notProved reports whether a person may decide where the readings do not.
func notProved(c job.Card) bool {
	f, ok := due(c)
	return ok && f.Scale != nil && f.State == job.Partial && f.Scale.Judgement != nil && f.Scale.Judgement.Verdict == metrology.NotProved
}

// held reports whether somebody may say that they do not agree: the second
// person, not the doer about their own work.
func held(c job.Card) bool {
	f, ok := due(c)
	if !ok || c.Confirm != nil {
		return false
	}
	return c.Second && c.Looker != "" || f.Kind == procedure.Sign && f.Role == procedure.Second
}

// typedIn reports whether a field is answered by typing, so that no list has a
// place for the old answer.
func typedIn(f job.Field) bool { return f.Kind == procedure.Note || f.Kind == procedure.Photo }

// stillHolds gives the old answer of a void step once more. The page under the
// overview is the card that asks for it.
func (m *model) stillHolds(c job.Card) tea.Cmd {
	m.pop()
	from, ok := m.top().(asker)
	if !ok {
		return nil
	}
	return m.enter(job.Entry{Kind: job.EnterStands, Task: c.Task, Key: c.Key}, from)
}

func (m *model) askNote(c job.Card) tea.Cmd {
	en := job.Entry{Kind: job.EnterNote, Task: c.Task, Key: c.Key}
	text := "A note can be written at any time and belongs to the step that is due."
	if c.Task == 0 {
		text = "A note can be written at any time; this one belongs to the job."
	}
	m.askReason("A note", "The note:", []string{text, ""}, en)
	return nil
}

func (m *model) askDecide(c job.Card) tea.Cmd {
	f, _ := due(c)
	m.askReason("Decide yourself", "Why do you take it?", []string{
		f.Scale.Judgement.Words(), "",
		"The readings prove neither inside nor outside. " + todo(f.Why),
		"If you take the value as it is, your name and reason stand on the first page of the record.", "",
	}, job.Entry{Kind: job.EnterDecide, Task: c.Task, Key: c.Key})
	return nil
}

func (m *model) askDisagree(c job.Card) tea.Cmd {
	m.askReason("Not agreed", "What do you see? Enter then makes the work void.", []string{
		"You do not agree. The work that this hold covers will be void and is done again. Nobody is blamed: a second look is there to find something.", "",
	}, job.Entry{Kind: job.EnterDisagree, Task: c.Task, Key: c.Key})
	return nil
}

// askLayDown asks why a task is laid down; what is open was looked at before.
func (m *model) askLayDown(c job.Card, safe []string) tea.Cmd {
	text := "The task waits and the wing stays on the ground. Leave the tag DO NOT FLY on it, so that nobody takes it for ready."
	m.askReason("Lay the task down", "Why, and how is the wing left?", []string{text, ""}, job.Entry{Kind: job.EnterLayDown, Task: c.Task, Safe: safe})
	return nil
}

func (m *model) askDrop(c job.Card) tea.Cmd {
	m.askReason("Drop the task", "Why is it dropped?", []string{
		"A task that is dropped is not gone on with. What was written in it stays in the record.", "",
	}, job.Entry{Kind: job.EnterDrop, Task: c.Task})
	return nil
}

// struckItem is an entry that can be withdrawn.
type struckItem struct {
	line int
	text string
	path *trim.PathRef // of one reading of a sheet
}

// strikeable lists the readings of the step that is due, and the notes.
func (m *model) strikeable(c job.Card) []struckItem {
	var out []struckItem
	if f, ok := due(c); ok && f.Scale != nil && f.State == job.Partial {
		for i, r := range f.Scale.Readings {
			if r.Struck != "" {
				continue
			}
			text := fmt.Sprintf("reading %d, %s, entry %d", i+1, r.Value, r.Line)
			if f.Scale.Covered {
				text = fmt.Sprintf("reading %d, covered, entry %d", i+1, r.Line)
			}
			out = append(out, struckItem{line: r.Line, text: text})
		}
	}
	out = append(append(out, m.strikePaths(c)...), m.strikeFindings(c.Task)...)
	return append(out, m.notes()...)
}

// notes lists the notes that are not struck, the newest first.
func (m *model) notes() []struckItem {
	events := m.session.Job().Events()
	struck := map[int]bool{}
	for _, e := range events {
		if e.Kind == job.Struck {
			struck[e.Line] = true
		}
	}
	var out []struckItem
	for i := len(events) - 1; i >= 0; i-- {
		if e := events[i]; e.Kind == job.Noted && !struck[i+1] {
			out = append(out, struckItem{line: i + 1, text: fmt.Sprintf("note, entry %d: %s", i+1, e.Text)})
		}
	}
	return out
}

func (m *model) chooseStrike(c job.Card) tea.Cmd {
	all := m.strikeable(c)
	texts := make([]string, len(all))
	for i, s := range all {
		texts[i] = s.text
	}
	page := newChoosePage("Strike", []string{"What is struck is withdrawn and stays visible with the reason."}, numbered(texts),
		func(m *model, i int) tea.Cmd {
			m.askReason("Strike", "Why is it struck?", []string{"Struck: " + all[i].text, ""},
				job.Entry{Kind: job.EnterStrike, Line: all[i].line, Path: all[i].path})
			return nil
		})
	page.list.at = oddOf(c, all) // Enter must not take a good one
	m.push(page)
	return nil
}

// oddOf finds the reading that the card asks to strike; -1 where it asks for none.
func oddOf(c job.Card, all []struckItem) int {
	f, ok := due(c)
	if !ok || f.Scale == nil || f.State != job.Partial {
		return -1
	}
	odd := f.Scale.Odd()
	return slices.IndexFunc(all, func(s struckItem) bool { return odd > 0 && s.line == odd })
}

// stepWords names a step of a task as its card does.
func (m *model) stepWords(task int, step string) string {
	rows, err := m.session.Job().Overview(task)
	if err != nil {
		return step
	}
	for _, r := range rows {
		if r.Key != step {
			continue
		}
		if r.Ask == "" {
			return r.Action
		}
		return r.Action + ": " + r.Ask
	}
	return step
}

// voidWords names an answer that becomes void, "task/step", with what it says.
func (m *model) voidWords(here int, name string) string {
	no, step, _ := strings.Cut(name, "/")
	task, err := strconv.Atoi(no)
	if err != nil {
		return name
	}
	text := m.stepWords(task, step)
	if task != here {
		text = fmt.Sprintf("task %d: %s", task, text)
	}
	if t, ok := m.session.Job().Task(task); ok {
		if s, ok := t.Unfolded.Slot(step); ok && s.Step.Kind == procedure.Sign {
			text += " (signed)"
		}
	}
	return text
}
