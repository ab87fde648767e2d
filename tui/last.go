package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/prompt"
)

// lastPage is the last card of a task: the list is complete.
type lastPage struct {
	card job.Card
	list list
	says []saying
	part scroller
}

func newLastPage(m *model, c job.Card) *lastPage {
	j := m.session.Job()
	open := prompt.StaysOpen(j)
	if len(open) == 0 {
		open = []string{"Nothing is left open."}
	}
	p := &lastPage{card: c, part: scroller{goes: byPages}, says: []saying{
		{"Tag", m.tagWords()},
		{"Open", strings.Join(open, "\n")},
		{"Record", "It is made when the job is closed, says what stands open, and goes out as a folder that anyone can check. You sign once more then: what you signed so far stands for the work, that one seals the record."},
	}}
	add := func(digit int, text string) { p.list.items = append(p.list.items, item{digit: digit, text: text}) }
	closes := m.notClosed() == nil
	if manyThings(j) || !closes {
		add(1, "See what is next in this job")
	}
	add(digitAdd, "Add another task to this job")
	if closes {
		add(digitClose, "Close the job with a statement")
	}
	add(digitHome, "Leave it as it is, to the list of jobs")
	for i, it := range p.list.items {
		if it.digit == digitClose && len(p.list.items) == 3 {
			p.list.at = i
		}
	}
	return p
}

// tagWords says where the tag is.
func (m *model) tagWords() string { return prompt.TagWords(m.session.Job(), m.session.Now()) }

// notClosed says why the job cannot be closed now; nil where it can.
func (m *model) notClosed() error {
	_, err := m.session.Foresee(job.Entry{Kind: job.EnterClose, Text: "to see if it may"})
	return err
}

func (p *lastPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case p.part.page(k):
	case key.Matches(k, keyBack):
		return m.lookBack(p.card)
	case key.Matches(k, keyMenu):
		return m.overview(p.card)
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	default:
		p.list.key(k, 5)
	}
	return nil
}

func (p *lastPage) take(m *model) tea.Cmd {
	switch p.list.items[p.list.at].digit {
	case digitAdd:
		return m.addTask()
	case digitClose:
		return m.closeJob()
	case digitHome:
		return m.goHome()
	}
	m.base(jobFront(m))
	return nil
}

func (p *lastPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyBack, keyMenu, keyKeys, keyOn, keyChoose}
	if p.part.more() {
		keys = append(keys, keyPage)
	}
	return append(keys, keyQuit, keyPause)
}

func (p *lastPage) view(m *model, w, h int) sheet {
	cols := bodyCols(w)
	n := notice{head: "THE LIST IS COMPLETE: every step of this task is answered.", says: p.says}
	cord := []string{m.cord(p.card.Cord, cols), ""}
	if h < 18 {
		n.head, cord = "THE LIST IS COMPLETE", nil
	}
	lists, _ := p.list.lines(m, cols, bodyRows(h)) // how many rows they need
	room := bodyRows(h) - len(cord) - len(lists) - 1
	body := append(cord, p.part.see(n.lines(m, cols, room), room)...)
	return m.frameOver(p.card.Title+"  "+p.card.Target, body, &p.list, p.keys(m), w, h)
}

// closeJob asks for the closing statement. Nothing follows it.
func (m *model) closeJob() tea.Cmd {
	if err := m.notClosed(); err != nil {
		m.push(faultPage("The job cannot be closed yet", err))
		return nil
	}
	text := []string{"Closing is final: nothing can be added to the job then, and the record is made from it."}
	if open := prompt.StaysOpen(m.session.Job()); len(open) > 0 {
		text = append(append(text, "What stands open, and the record says so:"), indent(open, 2)...)
	}
	p := &askPage{title: "Close the job", label: "Your closing statement: what was done, and what the pilot must know.", text: append(text, "")}
	if m.opt.Demo != nil {
		p.field.set("The sample answers were walked through. This says nothing about any wing.")
	}
	p.done = func(m *model, statement string) tea.Cmd {
		en := job.Entry{Kind: job.EnterClose, Text: statement}
		if _, err := m.session.Foresee(en); err != nil {
			p.refused(err)
			return nil
		}
		ask := closeForGood(en, p)
		if m.opt.Demo != nil {
			ask.list.at = 0
		}
		m.push(ask)
		return nil
	}
	m.push(p)
	return nil
}

// closeForGood asks once more: a closed job stays closed.
func closeForGood(en job.Entry, from asker) *choosePage {
	return newChoosePage("Close the job for good?", []string{"Your statement: " + en.Text},
		numbered([]string{"close it for good", "not yet: back to the statement"}),
		func(m *model, i int) tea.Cmd {
			m.pop()
			if i == 1 {
				return nil
			}
			return m.enter(en, from)
		})
}

// closedPage is a job that is closed: its record is signed and taken out.
type closedPage struct {
	list   list
	signed string           // by whom, in words; "" where nothing is signed here
	others []procedure.Role // beside the doer, those that did not sign yet
	told   told
	part   scroller
}

func (m *model) closed() tea.Cmd {
	p := &closedPage{part: scroller{goes: byPages}, list: list{items: []item{{digit: digitHome, text: "To the list of jobs"}}}}
	m.base(p)
	return p.load(m)
}

// load reads who signed the record already, and offers the other roles.
func (p *closedPage) load(m *model) tea.Cmd {
	if m.opt.RecordJSON == nil {
		return nil
	}
	store, no := m.desk.Store, m.session.No()
	return m.work(func() then {
		signed, err := store.ReadClosing(no)
		return func(m *model) tea.Cmd {
			if err != nil {
				p.refused(err)
			} else {
				p.offer(signed)
			}
			if m.opt.Demo != nil {
				p.list.at = 0
			}
			return nil
		}
	})
}

func (p *closedPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *closedPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case p.part.page(k):
	case key.Matches(k, keyLeave):
		return m.goHome()
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.list.key(k, 5):
		p.told = told{}
	}
	return nil
}

func (p *closedPage) take(m *model) tea.Cmd {
	switch {
	case p.list.at < 0:
		p.told = told{"Choose first: a record is not signed by Enter alone.", ""}
		return nil
	case p.list.items[p.list.at].digit == digitSign:
		return p.sign(m, procedure.Doer, m.desk.Who)
	case p.list.items[p.list.at].digit == digitSignOther:
		return p.chooseRole(m)
	}
	return m.goHome()
}

func (p *closedPage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyLeave, "list of jobs"), keyKeys, keyOn, keyChoose}
	if p.part.more() {
		keys = append(keys, keyPage)
	}
	return append(keys, keyQuit)
}

func (p *closedPage) view(m *model, w, h int) sheet {
	cols := bodyCols(w)
	n := notice{head: procedure.Capital(session.JobName(m.at.no, m.at.start)) + " is closed. Nothing can be added to it."}
	n.says = []saying{
		{"Tag", m.tagWords()},
		{"Record", "Take it out, to keep it and to give it on:\n   " + m.desk.Command(fmt.Sprintf("record export %d -o FOLDER", m.at.no))},
		{"Give on", "The whole folder, to the pilot and to the papers of the wing. Anyone checks it with:\n   linewright record verify FOLDER"},
	}
	if p.signed != "" {
		n.says = append(n.says, saying{"Signed", p.signed})
	}
	if open := prompt.StaysOpen(m.session.Job()); len(open) > 0 {
		n.says = append(n.says, saying{"Open", strings.Join(open, "\n")})
	}
	said := p.told.wrapped(cols)
	lists, _ := p.list.lines(m, cols, bodyRows(h))
	room := bodyRows(h) - len(said) - len(lists) - 1
	body := append(p.part.see(n.lines(m, cols, room), room), said...)
	return m.frameOver("The job is closed", body, &p.list, p.keys(m), w, h)
}

// frameOver is a frame with a list under what is said.
func (m *model) frameOver(title string, body []string, l *list, keys []key.Binding, w, h int) sheet {
	body = append(body, "")
	lines, at := l.lines(m, bodyCols(w), max(1, bodyRows(h)-len(body)))
	at.row += len(body)
	return m.frame(title, append(body, lines...), at, keys, w, h)
}
