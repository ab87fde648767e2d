package tui

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/prompt"
)

// safePage asks for the state in which the work is left, before a task is laid
// down or the job handed on with a link open: what is seen is entered, and what
// is not safe is put right first.
type safePage struct {
	title string
	probe job.Entry // by which each answer is tried
	asks  []job.SafeQuestion
	given []string
	list  list
	field editor
	told  told
	done  func(m *model, safe []string) tea.Cmd
}

// safely asks for the safe state, if anything is open, and goes on with the
// answers.
func (m *model) safely(title string, probe job.Entry, done func(m *model, safe []string) tea.Cmd) tea.Cmd {
	p := &safePage{title: title, probe: probe, asks: m.session.Job().SafeState(probe.Task), done: done}
	if len(p.asks) == 0 {
		return done(m, nil)
	}
	p.ask()
	m.push(p)
	return nil
}

func (p *safePage) question() job.SafeQuestion { return p.asks[len(p.given)] }

func (p *safePage) ask() {
	p.list, p.field = list{items: numbered(p.question().Options), at: -1}, editor{}
}

func (p *safePage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *safePage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyKeys) && len(p.field.text) == 0:
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	case len(p.list.items) > 0 && p.list.key(k, 5), len(p.list.items) == 0 && p.field.key(k):
		p.told = told{}
	}
	return nil
}

// take tries one answer. One that is not safe is said and asked for again.
func (p *safePage) take(m *model) tea.Cmd {
	text := strings.TrimSpace(p.field.String())
	if len(p.list.items) > 0 {
		text = strconv.Itoa(p.list.at + 1)
	}
	if len(p.list.items) > 0 && p.list.at < 0 || text == "" {
		p.told = told{"Look at the wing, then answer what you see.", "Esc goes back and changes nothing."}
		return nil
	}
	en := p.probe
	en.Safe = append(append([]string{}, p.given...), text)
	_, err := m.session.Foresee(en)
	var r *job.Refusal
	if errors.As(err, &r) && r.Code == job.NotSafe {
		p.refused(err)
		return nil
	}
	p.given, p.told = en.Safe, told{}
	if len(p.given) < len(p.asks) {
		p.ask()
		m.turned()
		return nil
	}
	m.pop()
	return p.done(m, p.given)
}

func (p *safePage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyLeave, "back, changes nothing"), keyKeys, keyOn}
	if len(p.list.items) > 0 {
		return append(keys, keyChoose, keyQuit)
	}
	return append(keys, keyQuit)
}

func (p *safePage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	body := append(wrap("Work stops in the middle: first the safe state.", cols), "")
	ask := wrap(fmt.Sprintf("(%d of %d) %s", len(p.given)+1, len(p.asks), p.question().Ask), cols)
	for _, l := range ask {
		body = append(body, m.look.strong.Render(l))
	}
	at := &point{row: len(body)}
	foot := p.told.wrapped(cols)
	for i := range foot {
		foot[i] = m.look.alert.Render(foot[i])
	}
	if len(p.list.items) > 0 {
		lines, mark := p.list.lines(m, cols, max(2, rows-len(body)-len(foot)-1))
		at.row += mark.row
		body = append(body, lines...)
	} else {
		text, col := p.field.line(14)
		at.col = 2 + col
		body = append(body, "[ "+text+" ]")
	}
	return m.frame(p.title, append(append(body, ""), foot...), at, p.keys(m), w, h)
}

// layDown lets a task wait: first the safe state, where something is open, then
// why.
func (m *model) layDown(c job.Card) tea.Cmd {
	en := job.Entry{Kind: job.EnterLayDown, Task: c.Task}
	probe := en
	probe.Text = "to see what is not safe"
	return m.safely("Lay the task down", probe, func(m *model, safe []string) tea.Cmd {
		return m.askLayDown(c, safe)
	})
}

// handOn gives the job to another person at another place: first the safe
// state, then who, then what they have to know.
func (m *model) handOn() tea.Cmd {
	probe := job.Entry{Kind: job.EnterHandOn, To: "somebody"}
	return m.safely("Hand the job on", probe, func(m *model, safe []string) tea.Cmd {
		m.push(askHandTo(safe))
		return nil
	})
}

func askHandTo(safe []string) page {
	p := &askPage{title: "Hand the job on", label: "Who goes on with it?", text: []string{
		"The job goes to another person, here or on another machine. Nothing is entered here until somebody takes it over.", "",
	}}
	p.done = func(m *model, to string) tea.Cmd {
		if err := seal.CheckName(to); err != nil {
			p.refused(err)
			return nil
		}
		m.push(askHandWords(to, safe))
		return nil
	}
	return p
}

func askHandWords(to string, safe []string) page {
	p := &askPage{title: "Hand the job on to " + to, empty: true, label: "What does " + to + " have to know? Enter then hands it on."}
	p.done = func(m *model, words string) tea.Cmd {
		s := m.session
		return m.work(func() then {
			// Tried before it is written: a job that cannot be packed stays here.
			err := s.HandOn(session.HandOn{To: to, Words: words, Safe: safe}, io.Discard)
			events := s.Job().Events()
			return m.entered(*events[len(events)-1], err, p)
		})
	}
	return p
}

// handedPage is a job that was handed on: what is open is said first.
type handedPage struct {
	text []string
	part scroller
	told told
}

func newHandedPage(m *model) *handedPage {
	return &handedPage{text: append(prompt.HandedWords(m.session.Job()),
		"Pack it for another machine: "+m.desk.Command(fmt.Sprintf("job pack %d -o FILE", m.session.No()))+".")}
}

func (p *handedPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *handedPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyTakeOver):
		return p.takeOver(m)
	case key.Matches(k, keyLeave):
		return m.goHome()
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	default:
		p.part.key(k)
	}
	return nil
}

// takeOver goes on with the job; the agenda comes first.
func (p *handedPage) takeOver(m *model) tea.Cmd {
	ask := newChoosePage("Take the job over", []string{"You go on with it, as " + m.desk.Who + ". Did you look at all of it on the wing?"},
		numbered([]string{"all of it is as it says: take it over", "not yet"}), func(m *model, i int) tea.Cmd {
			m.pop()
			if i == 1 {
				return nil
			}
			return m.stay(job.Entry{Kind: job.EnterTakeOver}, p, func(m *model) page { return newAgendaPage(m) })
		})
	m.push(ask)
	return nil
}

func (p *handedPage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyLeave, "list of jobs"), keyTakeOver, keyKeys}
	if p.part.more() {
		keys = append(keys, keyScroll)
	}
	return append(keys, keyQuit)
}

func (p *handedPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	var lines []string
	for _, t := range p.text {
		lines = append(lines, hang("", t, cols)...)
	}
	foot := p.told.wrapped(cols)
	foot = append(foot, "", m.look.strong.Render(cell("t takes the job over. Esc goes back to the list of jobs.", cols)))
	body := p.part.see(lines, rows-len(foot))
	at := &point{row: len(body) + len(foot) - 1}
	return m.frame("This job was handed on", append(body, foot...), at, p.keys(m), w, h)
}

// keyTakeOver takes a job over that was handed on.
var keyTakeOver = bind("t", "take the job over", "t")
