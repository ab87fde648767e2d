package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
)

const signKind = procedure.Sign

// holdPage is a hold that is due: nothing behind it opens until a named person
// has signed. It is signed in two steps at least, the name and the Enter, and a
// locked key asks for its pass phrase between them.
type holdPage struct {
	card   job.Card
	names  []string
	loaded bool
	list   list
	told   told
	part   scroller // of what is signed
	turned int      // pages before the card that were read
}

func newHoldPage(c job.Card) *holdPage { return &holdPage{card: c, list: list{at: -1}} }

func (p *holdPage) field() job.Field { return p.card.Fields[p.card.At] }

func (p *holdPage) second() bool { return p.field().Role == procedure.Second }

// pilot reports whether the pilot signs, who may have done the work or not.
func (p *holdPage) pilot() bool { return p.field().Role == procedure.Pilot }

// load finds out whose keys are here.
func (p *holdPage) load(m *model) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		names, err := desk.Store.Signers()
		return func(m *model) tea.Cmd {
			p.loaded = true
			if err != nil {
				p.refused(err)
				return nil
			}
			p.fill(m, names)
			return nil
		}
	})
}

// fill lists who may sign: whoever gave the answers of a second look, anybody as
// the pilot, else the doer. That their keys differ is the engine's rule.
func (p *holdPage) fill(m *model, names []string) {
	p.names = []string{}
	for _, n := range names {
		if p.pilot() || n == p.signs(m) {
			p.names = append(p.names, n)
		}
	}
	p.list.items = numbered(p.names)
	if len(p.names) == 0 {
		p.told = p.nobody(m)
	}
	if m.opt.Demo == nil {
		return
	}
	if m.opt.Demo.Offer != nil {
		name, _ := m.opt.Demo.Offer(p.card)
		for i, n := range p.names {
			if n == name {
				p.list.at = i
			}
		}
	}
	if p.list.at < 0 && len(p.names) > 0 {
		p.list.at = 0
	}
}

// signs is the one person who can sign.
func (p *holdPage) signs(m *model) string {
	if p.second() {
		return p.card.Looker
	}
	return m.desk.Who
}

func (p *holdPage) nobody(m *model) told {
	if p.pilot() {
		return told{"There is no key here.", "The pilot makes one: " + m.desk.Command("signer new NAME") + ". Or lay the task down: tab."}
	}
	who := p.signs(m)
	return told{"There is no key of " + who + " here.", "Make one: " + m.desk.Command("signer new "+who) + ". Or lay the task down: tab."}
}

func (p *holdPage) refused(err error) { p.told.what, p.told.do = explain(err) }

// intro is a caution that nobody read yet and that does not fit on the card.
func (p *holdPage) intro(w, h int) [][]string {
	c, at, col := p.whole(), placesFor(h), columnsFor(w)
	c.Second = false
	lines := cautionLines(c, col.full)
	if len(lines) <= at.action-at.caution {
		return nil
	}
	lines = append(append(lines, ""), wrap(c.Action, col.full)...)
	return slices.Collect(slices.Chunk(lines, bodyRows(h)-1))
}

func (p *holdPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if p.turned < len(p.intro(m.w, m.h)) && key.Matches(k, keyOn) {
		p.turned++
		m.turned()
		return nil
	}
	switch {
	case key.Matches(k, keyBack):
		return m.lookBack(p.card)
	case key.Matches(k, keyMenu):
		return m.overview(p.card)
	case key.Matches(k, keyHelp):
		m.push(cardHelp(m, p.whole(), p.keys(m), p.told.lines()...))
	case key.Matches(k, keyRefuse) && p.second():
		return m.askDisagree(p.card)
	case key.Matches(k, keyOn):
		return p.sign(m)
	case p.part.key(k), p.list.key(k, 5):
		p.told = told{}
	}
	return nil
}

// sign signs with the key of the marked person, or asks for its pass phrase.
func (p *holdPage) sign(m *model) tea.Cmd {
	if p.list.at < 0 || p.list.at >= len(p.names) {
		if p.loaded && len(p.names) > 0 {
			p.told = told{"A hold is not signed by Enter alone.", "Choose your own name first."}
		}
		return nil
	}
	name := p.names[p.list.at]
	if d := m.session.Doer(); d != nil && d.Name == name && !p.second() {
		return p.signWith(m, func() (*session.Person, error) { return d, nil })
	}
	desk := m.desk
	return m.work(func() then {
		locked, err := desk.Encrypted(name)
		return func(m *model) tea.Cmd {
			switch {
			case err != nil:
				p.noKey(m, name, err)
				return nil
			case locked:
				m.push(p.askPhrase(name))
				return nil
			}
			return p.signAs(m, keyAsker{m, p, name}, func() (*session.Person, error) { return desk.Unlock(name, nil) })
		}
	})
}

// askPhrase asks for the pass phrase of a key. A wrong one is asked again.
func (p *holdPage) askPhrase(name string) page {
	ask := &askPage{
		title: "Sign as " + name, label: "Pass phrase of " + name + " (it is not shown):", field: editor{masked: true},
		text: []string{"The signature states:", "  " + p.field().States, "", p.phraseWords(), ""},
	}
	ask.done = func(m *model, phrase string) tea.Cmd {
		desk, secret := m.desk, []byte(phrase)
		ask.field.wipe()
		return p.signAs(m, ask, func() (*session.Person, error) {
			return desk.Unlock(name, func() ([]byte, error) { return secret, nil })
		})
	}
	return ask
}

func (p *holdPage) phraseWords() string {
	if p.second() || p.pilot() {
		return "Your key is opened for this signature only."
	}
	return "Your key stays open until this job is left; it signs the doer's holds."
}

func (p *holdPage) signWith(m *model, open func() (*session.Person, error)) tea.Cmd {
	return p.signAs(m, p, open)
}

// signAs opens a key, keeps it if it is the doer's, and signs the hold.
func (p *holdPage) signAs(m *model, from asker, open func() (*session.Person, error)) tea.Cmd {
	s, task, doer, pilot := m.session, p.card.Task, p.field().Role == procedure.Doer, p.pilot()
	return m.work(func() then {
		person, err := open()
		if err == nil && doer && s.Doer() == nil {
			err = s.SetDoer(person)
		}
		if err == nil && pilot && person != s.Doer() {
			defer person.Signer.Forget()
		}
		var e job.Event
		if err == nil {
			e, err = s.SignHold(task, person)
		}
		if errors.Is(err, seal.WrongPassPhrase) {
			err = fmt.Errorf("that is not the pass phrase of this key\n  type it again; esc goes back")
		}
		return m.entered(e, err, from)
	})
}

func (p *holdPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyBack, keyMenu, keyHelp, named(keyOn, "sign"), keyChoose}
	if p.part.more() {
		keys = append(keys, keyScroll)
	}
	if p.second() {
		keys = append(keys, keyRefuse)
	}
	return append(keys, keyQuit, keyPause)
}

// whole is the card with what is signed in the place of its detail: the words,
// and what is left open.
func (p *holdPage) whole() job.Card {
	c := p.card
	c.Second = p.second()
	if c.At > 0 {
		c.Caution, c.Detail = "", "" // they stood at each question before
	}
	c.Detail = strings.TrimSpace(c.Detail + "\nThe signature states: " + p.field().States)
	for _, it := range c.Items {
		c.Detail += "\nOpen: " + it.Text
	}
	return c
}

// evidence is all that the signature stands for: its words, what is left open,
// and every answer of the card, none of them cut.
func (p *holdPage) evidence(w int) []string {
	lines := wrap(p.whole().Detail, w)
	for _, f := range p.card.Fields[:p.card.At] {
		if f.State == job.Ready {
			lines = append(lines, answerLines(f, w)...)
		}
	}
	return lines
}

// answerLines is a question with its answer, on one line if it fits.
func answerLines(f job.Field, w int) []string {
	line := fmt.Sprintf("%s [ %s ]", asked(f), plain(f.Answer))
	if ansi.StringWidth(line) <= w {
		return []string{line}
	}
	return append(wrap(asked(f), w), indent(wrap("[ "+plain(f.Answer)+" ]", w-2), 2)...)
}

func (p *holdPage) view(m *model, w, h int) sheet {
	if pages := p.intro(w, h); p.turned < len(pages) {
		return m.introView(p.card, pages, p.turned, p.keys(m), w, h)
	}
	c, col := p.whole(), columnsFor(w)
	if len(p.intro(w, h)) > 0 {
		c.Caution = readBefore
	}
	c.Detail = ""
	q := part{ask: p.signAsk(), alert: true, hold: true, keys: p.keys(m)}
	said := p.told.lines()
	if len(said) == 0 && len(p.names) < 2 {
		said, q.alert = []string{p.otherWay()}, false
	}
	at := placesFor(h).signing()
	var room int
	q.verdict, room = shared(said, at, 1, col.full)
	free := func(w, up int) int {
		d := drawing{p: q, at: at.listing(up)}
		return d.textRows(w) - len(wrap(c.Action, w))
	}
	width := col.narrow
	q.signed = p.evidence(width)
	if len(q.signed) > free(width, 0) || c.Picture == "" {
		c.Picture, width = "", col.full // what was answered comes before the sketch
		q.signed = p.evidence(width)
	}
	q.up = max(0, min(p.list.height(m, col.full)-room, free(width, 0)-len(q.signed)))
	if width == col.full {
		q.signed = p.part.see(q.signed, free(width, q.up))
	}
	q.field, q.cursor = p.list.lines(m, col.full, room+q.up)
	if !p.loaded {
		q.cursor = &point{}
	}
	return m.drawCard(c, q, w, h)
}

// signAsk asks who signs.
func (p *holdPage) signAsk() string {
	if p.pilot() {
		return "The pilot signs, who may be the doer. Sign as"
	}
	if !p.second() && p.card.Next == "" {
		return "This signs the work; one more comes at the end, for the record. Sign as"
	}
	return "Sign as"
}

// otherWay says what to do where it may not be signed. The doer does not
// disagree with their own work: they do it again.
func (p *holdPage) otherWay() string {
	if p.second() {
		if p.list.at < 0 {
			return "1, enter: I agree. n: I do not agree, and say why; the work is done again"
		}
		return "enter: I agree. n: I do not agree, and say why; the work is done again"
	}
	if p.pilot() {
		return "something is not so? do not sign: the tag stays on. esc looks back"
	}
	return "something is not so? esc looks back, r there does a step again"
}
