package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
)

// overviewPage shows all steps of a task, and what can be done besides
// answering the one that is due.
type overviewPage struct {
	card job.Card // what is due, for the head
	rows []job.Row
	at   int
	top  int
	does []deed
	page int
}

// deed is something to do from the overview, by its key.
type deed struct {
	key  string // a digit or a letter
	name string
	do   func(m *model) tea.Cmd
}

// overview opens the overview of a task, at the step that is due.
func (m *model) overview(due job.Card) tea.Cmd {
	p := &overviewPage{card: due}
	rows, err := m.session.Job().Overview(due.Task)
	if err != nil {
		m.push(faultPage("The overview cannot be shown", err))
		return nil
	}
	for _, r := range rows {
		if r.Skipped && r.State == job.Blank {
			continue
		}
		if r.Due {
			p.at = len(p.rows)
		}
		p.rows = append(p.rows, r)
	}
	p.does = m.deeds(p)
	m.push(p)
	return nil
}

func (p *overviewPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	for _, x := range p.does {
		if x.key == k.String() {
			return x.do(m)
		}
	}
	if by, ok := moved(k, max(1, p.page-2)); ok && len(p.rows) > 0 {
		p.at = min(max(0, p.at+by), len(p.rows)-1)
		return nil
	}
	switch {
	case key.Matches(k, keyOn):
		p.lookAt(m)
	case key.Matches(k, keyLeave), key.Matches(k, keyMenu):
		m.pop()
	case key.Matches(k, keyReopen):
		return p.again(m)
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	}
	return nil
}

// lookAt opens the card of the marked step, if something is written there.
func (p *overviewPage) lookAt(m *model) {
	if len(p.rows) == 0 || p.rows[p.at].Due {
		m.pop()
		return
	}
	marked := p.rows[p.at].Key
	t, _ := m.session.Job().Task(p.card.Task)
	slot, ok := t.Unfolded.Slot(marked)
	steps := m.written(job.Card{Task: p.card.Task})
	for i, s := range steps {
		if other, found := t.Unfolded.Slot(s); ok && found && other.CardKey == slot.CardKey {
			m.lookAt(p.card.Task, steps, i)
			return
		}
	}
	m.word = "Nothing is written there yet."
	if p.rows[p.at].Kept {
		m.word = blindWords()
	}
}

// again re-opens the marked step.
func (p *overviewPage) again(m *model) tea.Cmd {
	if len(p.rows) == 0 || p.rows[p.at].State != job.Ready {
		m.word = "Mark a step that is done."
		return nil
	}
	return m.reopen(p.card.Task, p.rows[p.at].Key)
}

func (p *overviewPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyLeave, keyKeys, named(keyOn, "look at it"), named(keyScroll, "mark a step")}
	for _, d := range p.does {
		keys = append(keys, bind(d.key, d.name, d.key))
	}
	return append(keys, keyQuit)
}

func (p *overviewPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	deeds := deedLines(p.does, cols)
	p.page = max(3, rows-len(deeds)-3)
	lines, at := p.rowLines(m, cols)
	body := append([]string{m.cord(p.card.Cord, cols), ""}, lines...)
	for len(body) < rows-len(deeds) {
		body = append(body, "")
	}
	return m.frame(p.title(), append(body, deeds...), &point{row: 2 + at}, p.keys(m), w, h)
}

func (p *overviewPage) title() string {
	return p.card.Title + "  " + p.card.Target + ", all steps"
}

// rowLines draws the steps around the marked one, and gives its row.
func (p *overviewPage) rowLines(m *model, w int) ([]string, int) {
	var all []string
	mark, phase := 0, ""
	for i, r := range p.rows {
		if r.Phase != phase {
			all = append(all, m.look.strong.Render(cell(r.Phase, w)))
			phase = r.Phase
		}
		if i == p.at {
			mark = len(all)
		}
		all = append(all, p.row(m, r, i == p.at, w))
	}
	if len(all) <= p.page {
		return all, mark
	}
	if mark < p.top+2 {
		p.top = max(0, mark-2)
	}
	if mark > p.top+p.page-2 {
		p.top = mark - p.page + 2
	}
	p.top = min(p.top, len(all)-p.page)
	return all[p.top : p.top+p.page], mark - p.top
}

// row is one step on one line: what it is, and how it stands.
func (p *overviewPage) row(m *model, r job.Row, marked bool, w int) string {
	state := m.rowState(r, p.card)
	state = cell(state, w/2)
	text := r.Ask
	if text == "" {
		text = r.Action
	}
	sign := "  "
	if marked {
		sign = "> "
	}
	room := w - 2 - ansi.StringWidth(state) - 1
	line := sign + pad(cell(text, room), room) + " " + state
	if marked {
		return m.look.mark.Render(line)
	}
	return line
}

// rowState says in words how a step stands. A reading that is covered stays so.
func (m *model) rowState(r job.Row, due job.Card) string {
	var words []string
	switch r.State {
	case job.Ready:
		words = append(words, plain(r.Answer), r.Who+" "+m.clock(r.At))
	case job.Void:
		words = append(words, voidAnswer("VOID", plain(r.Answer)))
	case job.Partial:
		words = append(words, "begun, not done")
	default:
		if r.Hold {
			words = append(words, "a hold")
		}
	}
	if r.Due {
		words = append(words, "DUE NOW")
	}
	if r.OldSign != "" {
		words = append(words, fmt.Sprintf("signature of %s superseded", r.OldSign))
	}
	if len(words) == 0 {
		return "to come"
	}
	return strings.Join(words, ", ")
}

// deedLines flow what can be done over as few lines as they need.
func deedLines(does []deed, w int) []string {
	var out []string
	line := ""
	for _, d := range does {
		word := d.key + " " + d.name
		if line != "" && len(line)+3+len(word) > w {
			out, line = append(out, line), ""
		}
		if line != "" {
			line += "   "
		}
		line += word
	}
	return append(out, line)
}
