package tui

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
)

// lookPage looks at the cards behind the one that is due. It changes nothing.
type lookPage struct {
	task  int
	steps []string // the first written step of each card
	at    int
	card  job.Card
	list  list // the card's fields
}

// lookBack opens the card before the one that is due; of a second person who
// said nothing yet, the question who they are.
func (m *model) lookBack(due job.Card) tea.Cmd {
	if due.Unheard {
		p := newLookerPage(due)
		p.anew = true
		m.push(p)
		return p.load(m)
	}
	steps := m.written(due)
	if len(steps) == 0 {
		m.word = nothingBehind(due)
		return nil
	}
	m.lookAt(due.Task, steps, len(steps)-1)
	return nil
}

func nothingBehind(due job.Card) string {
	if due.Blind {
		return blindWords()
	}
	return "This is the first card: nothing lies behind it."
}

// blindWords say that the second person is not told what the doer said.
func blindWords() string {
	what, _ := job.NewRefusal(job.LookIsBlind).Words()
	return what
}

// written lists, in order, the first written step of each card that may be
// looked at, without the card that is due.
func (m *model) written(due job.Card) []string {
	t, ok := m.session.Job().Task(due.Task)
	if !ok {
		return nil
	}
	here := ""
	if s, ok := t.Unfolded.Slot(due.Key); ok {
		here = s.CardKey
	}
	var steps []string
	last := ""
	for _, s := range t.Unfolded.Slots {
		if t.At(s.Key) == nil || s.CardKey == last || s.CardKey == here || m.session.Job().Kept(due.Task, s.Key) {
			continue
		}
		steps, last = append(steps, s.Key), s.CardKey
	}
	return steps
}

// lookAt opens one of the cards.
func (m *model) lookAt(task int, steps []string, at int) {
	p := &lookPage{task: task, steps: steps}
	if p.turn(m, at) {
		m.push(p)
	}
}

// turn goes to another card.
func (p *lookPage) turn(m *model, at int) bool {
	c, err := m.session.Job().CardAt(p.task, p.steps[at])
	if err != nil {
		m.push(faultPage("This card cannot be shown", err))
		return false
	}
	p.at, p.card, p.list = at, c, list{}
	for i, f := range c.Fields {
		p.list.items = append(p.list.items, item{digit: i + 1, text: m.fieldWords(f)})
	}
	p.card.At = 0 // the fields stand in the list, all of them
	m.turned()
	return true
}

// fieldWords says what stands written in a field.
func (m *model) fieldWords(f job.Field) string {
	ask := f.Ask
	if ask == "" {
		ask = "Answer"
	}
	switch {
	case f.State == job.Void:
		return ask + ": " + voidAnswer("void", f.Old)
	case f.Scale != nil && f.Scale.Covered && len(f.Scale.Readings) > 0:
		return ask + ": " + readingsText(f.Scale)
	case f.State == job.Blank:
		return ask + ": not answered"
	}
	text := fmt.Sprintf("%s: %s (%s, %s, entry %d)", ask, f.Answer, f.Who, m.clock(f.At), f.Line)
	if f.Scale != nil && f.Scale.Judgement != nil {
		text += ". " + f.Scale.Judgement.Words()
	}
	return text
}

// voidAnswer says what a void answer said, where that may be seen.
func voidAnswer(state, old string) string {
	if old == "" {
		return state
	}
	return state + ", it said " + old
}

func (p *lookPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyOn), key.Matches(k, keyMenu):
		m.pop()
	case key.Matches(k, keyBack), key.Matches(k, keyLeft):
		if p.at == 0 {
			m.word = "This is the first card."
			return nil
		}
		p.turn(m, p.at-1)
	case key.Matches(k, keyRight):
		if p.at == len(p.steps)-1 {
			m.pop()
			return nil
		}
		p.turn(m, p.at+1)
	case key.Matches(k, keyReopen) && p.list.at < 0:
		m.word = "Mark the step first."
	case key.Matches(k, keyReopen):
		return m.reopen(p.task, p.card.Fields[p.list.at].Key)
	case key.Matches(k, keyHelp):
		m.push(cardHelp(m, p.card, p.keys(m)))
	default:
		p.list.key(k, 5)
	}
	return nil
}

func (p *lookPage) keys(*model) []key.Binding {
	return []key.Binding{named(keyBack, "further back"), named(keyOn, "to the work"), keyReopen, keyHelp,
		named(keyLeft, "earlier"), named(keyRight, "later"), named(keyChoose, "choose a field"), keyQuit}
}

func (p *lookPage) view(m *model, w, h int) sheet {
	at, col := placesFor(h), columnsFor(w)
	end := at.next
	if end < 0 {
		end = at.foot
	}
	q := part{
		lead: fmt.Sprintf("You are looking back, card %d of %d. Nothing here changes anything.", p.at+1, len(p.steps)),
		ask:  "What stands written:", keys: p.keys(m), next: "enter: to the work      r: do the marked step again",
	}
	q.field, q.cursor = p.list.lines(m, col.full, end-at.field)
	return m.drawCard(p.card, q, w, h)
}

// reopen asks for the reason and shows first what becomes void.
func (m *model) reopen(task int, step string) tea.Cmd {
	en := job.Entry{Kind: job.EnterReopen, Task: task, Key: step}
	probe := en
	probe.Text = "to see what becomes void"
	e, err := m.session.Foresee(probe)
	if err != nil {
		m.push(faultPage("This step cannot be done again now", err))
		return nil
	}
	text := []string{"Done again: " + m.stepWords(task, step), "",
		count(len(e.Voids), "answer") + " will be void and given again:"}
	for _, v := range e.Voids {
		text = append(text, "  - "+m.voidWords(task, v))
	}
	if found := m.session.Job().AsFound(task, step); len(found) > 0 {
		text = append(text, "", "As found before the link was opened, this stands:")
		for _, f := range found {
			text = append(text, "  - "+m.voidWords(task, f))
		}
	}
	text = append(text, "", "What is void stays visible. Signatures stay valid for what they signed.", "")
	m.askReason("Do a step again", "Why is it done again? Enter then makes the answers above void.", text, en)
	return nil
}
