package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/tui/prompt"
)

// cardPage is the step that is due.
type cardPage struct {
	card  job.Card
	entry entry
	read  int // own pages of caution and action that were read

	// unknown: nobody described the bench, nothing was judged with it yet, and
	// here something will be.
	unknown bool

	back bool // the part that is looked at can be sent back

	told  told
	bare  bool       // an Enter came before an answer was chosen; all answers stay in sight
	sure  string     // the entry as it would be understood
	doubt string     // or why it would be refused
	typed *job.Event // what the reading that is typed would write
	next  *job.Event // what a bare Enter would write: a verdict
	short told       // or what is still missing for one
	once  string     // the reading that was typed before and is far off
	far   bool       // the reading that is typed will be asked for once more
	stray bool       // something was typed where nothing is
}

// told is what the bench answered to an Enter.
type told struct{ what, do string }

func (t told) lines() []string {
	if t.what == "" {
		return nil
	}
	return []string{t.what, t.do}
}

// wrapped is the answer in lines of at most w columns.
func (t told) wrapped(w int) []string { return append(wrap(t.what, w), wrap(t.do, w)...) }

func newCardPage(m *model, c job.Card) *cardPage {
	p := &cardPage{card: c, entry: newEntry(c.Fields[c.At])}
	s := p.at().Scale
	p.unknown = m.at.bench.Default && judges(s) && len(s.Readings) == 0 && !judged(m.session.Job())
	_, p.back = m.session.Job().Receiving(c.Task)
	p.offer(m)
	p.foresee(m)
	return p
}

// judged reports whether anything in the job was held against a limit.
func judged(j *job.Job) bool {
	return slices.ContainsFunc(j.Events(), func(e *job.Event) bool { return e.Judgement != nil })
}

func (p *cardPage) at() job.Field { return p.card.Fields[p.card.At] }

// offer puts the draft back that was left here, or the demo's sample answer.
func (p *cardPage) offer(m *model) {
	if d := m.drafts[p.draftKey()]; d != "" {
		p.entry.fill(d)
		return
	}
	if m.opt.Demo == nil || m.opt.Demo.Offer == nil {
		return
	}
	text, ok := m.opt.Demo.Offer(p.card)
	if !ok {
		return
	}
	p.entry.fill(text)
	if p.entry.chooses() && p.entry.list.at < 0 {
		p.entry.fill(p.byName(m, text))
	}
}

// byName finds the digit of an option that is named by its id.
func (p *cardPage) byName(m *model, text string) string {
	_, words, _ := strings.Cut(text, " ")
	said, err := m.session.Preview(job.Entry{Kind: job.EnterAnswer, Task: p.card.Task, Key: p.at().Key, Text: text})
	if err != nil {
		return ""
	}
	for i, o := range p.at().Options {
		if said == o || strings.HasPrefix(said, o+": ") {
			return strings.TrimSpace(fmt.Sprintf("%d %s", i+1, words))
		}
	}
	return ""
}

// draftKey names the field in which a draft stands.
func draftKey(task int, key string) string { return fmt.Sprintf("%d/%s", task, key) }

func (p *cardPage) draftKey() string { return draftKey(p.card.Task, p.at().Key) }

func (p *cardPage) draft() string { return p.entry.value() }

// entryOf is what an Enter would enter now.
func (p *cardPage) entryOf() job.Entry {
	en := job.Entry{Kind: p.entry.kind(), Task: p.card.Task, Key: p.at().Key}
	if en.Kind == job.EnterAnswer {
		en.Text, en.Again = p.entry.value(), p.once
	}
	return en
}

// foresee works out what the entry would mean. Nothing is written.
func (p *cardPage) foresee(m *model) {
	p.sure, p.doubt, p.typed, p.next, p.short, p.far = "", "", nil, nil, told{}, false
	en := p.entryOf()
	switch {
	case p.entry.listed(), p.at().Kind == procedure.Photo:
	case en.Kind == job.EnterAnswer:
		said, err := m.session.Preview(en)
		if err != nil {
			p.doubt, _ = explain(err)
			return
		}
		p.sure = said
		if p.at().Kind != procedure.Measure {
			return
		}
		e, err := m.session.Foresee(en)
		if p.far = prompt.AsksAgain(err); err == nil {
			p.typed = &e
		}
	case p.at().Scale != nil && len(p.at().Scale.Readings) > 0:
		e, err := m.session.Foresee(en)
		if err != nil {
			p.short.what, p.short.do = explain(err)
			return
		}
		p.next = &e
	}
}

func (p *cardPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyBack):
		return m.lookBack(p.card)
	case key.Matches(k, keyMenu):
		return m.overview(p.card)
	case key.Matches(k, keyHelp) && p.helps():
		m.push(p.help(m))
		return nil
	case p.read < len(p.intro(m)):
		if key.Matches(k, keyOn) {
			p.read++
			m.turned()
		}
		return nil
	case key.Matches(k, keyOn):
		return p.enter(m)
	case key.Matches(k, keyRefuse) && p.card.Second && !p.entry.typing():
		return m.askDisagree(p.card)
	}
	if p.entry.key(k, 5) {
		p.bare = false
		if p.once == "" {
			p.told = told{}
		}
		m.drafts[p.draftKey()] = p.entry.value()
		p.foresee(m)
	} else if isText(k) {
		m.word = p.entry.idle()
		p.stray = p.at().Kind == procedure.Do && !p.entry.listed()
	} else {
		p.stray = false
	}
	return nil
}

// enter writes what stands in the field. An Enter behind something that was
// typed where nothing is typed was meant for another card.
func (p *cardPage) enter(m *model) tea.Cmd {
	en := p.entryOf()
	switch {
	case p.stray:
		p.stray = false
		m.word = "What was typed has no place here. That Enter took nothing."
		return nil
	case p.at().Kind == procedure.Photo && en.Kind == job.EnterAnswer:
		return p.photo(m, en)
	case p.at().Kind == procedure.Order && en.Kind == job.EnterAnswer:
		return p.order(m, en)
	case p.at().Kind == procedure.Measure && en.Kind == job.EnterAnswer:
		return p.reading(m, en)
	}
	return m.enter(en, p)
}

func (p *cardPage) photo(m *model, en job.Entry) tea.Cmd {
	s := m.session
	return m.work(func() then {
		ev, err := s.AddPhoto(en.Task, en.Key, en.Text)
		return m.entered(ev, err, p)
	})
}

// refused tells why nothing was written. What was typed stays in the field.
func (p *cardPage) refused(err error) {
	what, do := explain(err)
	p.told = told{what, do}
	var r *job.Refusal
	if !errors.As(err, &r) || !p.entry.listed() {
		return
	}
	switch {
	case r.Code == job.ReasonMissing && !p.entry.reason:
		p.told, p.entry.reason = told{}, true // the field that comes asks for it
	case r.Code == job.ValueWanted && p.entry.list.at < 0:
		p.told, p.bare = told{}, true
	}
}

// intro is what does not fit on the card and is read on pages of its own
// before: a caution is never cut. Each page is a few lines of at most the
// full width.
func (p *cardPage) intro(m *model) [][]string {
	at, col := placesFor(m.h), columnsFor(m.w)
	d := drawing{m: m, c: p.card, at: at, cols: col, p: part{ask: p.ask()}}
	caution := cautionLines(p.card, col.full)
	if len(caution) <= at.action-at.caution && len(wrap(p.card.Action, col.full)) <= d.textRows(col.full)-1 {
		return nil
	}
	lines := append(append(caution, ""), wrap(p.card.Action, col.full)...)
	var pages [][]string
	for rows := bodyRows(m.h) - 1; len(lines) > 0; {
		n := min(rows, len(lines))
		pages, lines = append(pages, lines[:n]), lines[n:]
	}
	return pages
}

func (p *cardPage) ask() string {
	f := p.at()
	ask := f.Ask
	if n := len(p.card.Fields); n > 1 {
		ask = strings.TrimSpace(fmt.Sprintf("(%d of %d) %s", p.card.At+1, n, ask))
	}
	return ask
}

func (p *cardPage) keys(m *model) []key.Binding {
	keys := []key.Binding{keyBack, keyMenu}
	if p.helps() {
		keys = append(keys, keyHelp)
	}
	keys = append(keys, keyOn)
	if p.entry.listed() && !p.entry.reason {
		keys = append(keys, keyChoose)
	}
	if p.card.Second && !p.entry.typing() {
		keys = append(keys, keyRefuse)
	}
	return append(keys, keyQuit, keyPause)
}

// helps reports whether the key for the reason acts: it is a character like any
// other once free words are being typed.
func (p *cardPage) helps() bool { return !p.entry.prose() || len(p.entry.text.text) == 0 }

// help shows what was said last, the reason, all of the text and the keys.
func (p *cardPage) help(m *model) page { return cardHelp(m, p.card, p.keys(m), p.verdict()...) }
