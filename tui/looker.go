package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
)

// lookerPage asks the second person who they are, before they answer: what they
// say stands under their name, and only they can sign for it.
type lookerPage struct {
	card   job.Card
	keyed  []string // whose keys are here
	names  []string // of these, all who did not do the work
	did    []string // and those who did
	anew   bool     // another name was given before: it lies on the card that asked
	list   list
	typing bool // a name that is not in the list
	name   editor
	warned string // a name without a key that was asked about
	told   told
}

func newLookerPage(c job.Card) *lookerPage { return &lookerPage{card: c, list: list{at: -1}} }

// load lists the other people whose keys are here.
func (p *lookerPage) load(m *model) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		names, err := desk.Store.Signers()
		return func(m *model) tea.Cmd {
			if err != nil {
				p.refused(err)
			}
			p.keyed = names
			for _, n := range names {
				if n == m.desk.Who || m.session.Job().DidWork(n) {
					p.did = append(p.did, n)
				} else {
					p.names = append(p.names, n)
				}
			}
			p.list.items = append(numbered(p.names), item{digit: 0, text: "another name: just type it"})
			if m.opt.Demo != nil {
				p.list.at = 0
			}
			return nil
		}
	})
}

func (p *lookerPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *lookerPage) draft() string { return p.name.String() }

func (p *lookerPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyBack) && p.typing:
		p.typing = false
		p.name.wipe()
	case key.Matches(k, keyBack) && p.anew:
		m.pop()
	case key.Matches(k, keyBack):
		return m.lookBack(p.card)
	case key.Matches(k, keyMenu):
		return m.overview(p.card)
	case key.Matches(k, keyHelp) && !p.typing:
		m.push(cardHelp(m, p.card, p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.typing:
		p.spell(k)
	case p.list.key(k, 5):
		p.told = told{}
	case isText(k):
		p.typing = true
		p.spell(k)
	}
	return nil
}

// spell changes the name that is typed. One that is known here but for its
// capitals is named: it would count as another person, without a key.
func (p *lookerPage) spell(k tea.KeyMsg) {
	if !p.name.key(k) {
		return
	}
	p.told = told{what: p.hint()}
}

func (p *lookerPage) hint() string {
	if known := p.known(); known != "" && known != p.name.String() {
		return known + " is known here; write it so: capital and small letters count."
	}
	return ""
}

// known is the name of a key that is here and is written as what is typed, but
// for capital and small letters.
func (p *lookerPage) known() string {
	name := p.name.String()
	for _, n := range p.keyed {
		if n == name {
			return n
		}
	}
	for _, n := range p.keyed {
		if strings.EqualFold(n, name) {
			return n
		}
	}
	return ""
}

func (p *lookerPage) take(m *model) tea.Cmd {
	name := p.name.String()
	switch {
	case p.typing && (name == m.desk.Who || m.session.Job().DidWork(name)):
		p.typing = false
		p.name.wipe()
		p.refused(job.NewRefusal(job.SamePerson, name))
		return nil
	case p.typing && name != "" && name != p.warned && p.known() != name:
		p.warned = name
		what := p.hint()
		if what == "" {
			what = "There is no key of " + name + " here: they can answer, but not sign."
		}
		p.told = told{what, "Enter again takes the name. Or make the key first: " + m.desk.Command("signer new "+name)}
		return nil
	case p.typing:
	case p.list.at < 0:
		p.told = told{"The second person says their name first.", "Choose it, or type it. The doer steps back."}
		return nil
	case p.list.at == len(p.names):
		p.typing = true
		return nil
	default:
		name = p.names[p.list.at]
	}
	return m.enter(job.Entry{Kind: job.EnterLook, Task: p.card.Task, Text: name}, p)
}

// said is what was answered to the last Enter, or why names are not offered.
func (p *lookerPage) said() []string {
	if p.told.what != "" || len(p.did) == 0 {
		return p.told.lines()
	}
	return []string{"Did the work, so not offered: " + strings.Join(p.did, ", ") + "."}
}

func (p *lookerPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyBack, keyMenu}
	if p.typing {
		keys[0] = named(keyBack, "to the list")
	} else {
		keys = append(keys, keyHelp, keyChoose)
	}
	return append(keys, keyOn, keyQuit, keyPause)
}

func (p *lookerPage) view(m *model, w, h int) sheet {
	at, col := placesFor(h), columnsFor(w)
	c := p.card
	c.Fields, c.At = nil, 0
	q := part{
		ask:   "Who looks? Your own name; your answers stand under it.",
		alert: true, hold: true, keys: p.keys(m),
	}
	var room int
	q.verdict, room = shared(p.said(), at, min(len(p.list.items), 3), col.full)
	q.field, q.cursor = p.list.lines(m, col.full, room)
	if p.typing {
		text, c := p.name.line(24)
		q.field, q.cursor = []string{"[ " + text + " ]"}, &point{col: 2 + c}
	}
	return m.drawCard(c, q, w, h)
}
