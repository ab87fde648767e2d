package tui

import (
	"errors"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/tui/prompt"
)

// findingPage asks what was found on one thing, question by question, and shows
// what becomes of it before an Enter writes it. Esc goes back one question.
type findingPage struct {
	from  *surveyPage
	thing job.Thing
	try   func(*job.Seen) error // whether it could be written so far

	talk    *prompt.FindingTalk
	answers []string
	kept    map[string]job.Photo // by the path that was typed
	list    list
	field   editor
	words   string // the finding as it would be written
	told    told
}

func newFindingPage(m *model, from *surveyPage, t job.Thing) *findingPage {
	p := &findingPage{from: from, thing: t, kept: map[string]job.Photo{}}
	s := m.session
	p.try = func(seen *job.Seen) error {
		en := p.entry()
		en.Seen = seen
		_, err := s.Foresee(en)
		return err
	}
	p.again(nil)
	return p
}

// again begins anew with these answers.
func (p *findingPage) again(answers []string) {
	p.talk, p.answers = prompt.NewFindingTalk(p.thing, p.keep, p.try), nil
	p.told = told{}
	for _, a := range answers {
		if p.talk.Take(a) == nil {
			p.answers = append(p.answers, a)
		}
	}
	p.ask()
}

// ask puts the question that is due.
func (p *findingPage) ask() {
	p.list, p.field, p.words = list{at: -1}, editor{}, ""
	if !p.talk.Over() {
		q := p.talk.Question()
		for i, text := range q.Options {
			p.list.items = append(p.list.items, item{digit: q.Number(i), text: text})
		}
	}
}

// keep gives a photo that was taken into the job already.
func (p *findingPage) keep(path string) (job.Photo, error) {
	photo, ok := p.kept[path]
	if !ok {
		return photo, errNotKept
	}
	return photo, nil
}

// errNotKept says that a photo has to be copied first, away from the screen.
var errNotKept = errors.New("the photo is not in the job yet")

func (p *findingPage) refused(err error) { p.told.what, p.told.do = explain(err) }

// draft is what would be lost: a finding that is begun.
func (p *findingPage) draft() string {
	if len(p.answers) == 0 && len(p.field.text) == 0 {
		return ""
	}
	return "what was found on " + p.thing.Ref.String()
}

func (p *findingPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave) && len(p.answers) > 0:
		p.again(p.answers[:len(p.answers)-1])
		m.turned()
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyKeys) && len(p.field.text) == 0:
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn) && p.talk.Over():
		return p.write(m)
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.talk.Over():
	case len(p.list.items) > 0 && p.list.key(k, 5), len(p.list.items) == 0 && p.field.key(k):
		p.told = told{}
	}
	return nil
}

// answer is what an Enter would answer; false where nothing is chosen.
func (p *findingPage) answer() (string, bool) {
	if len(p.list.items) == 0 {
		text := strings.TrimSpace(p.field.String())
		return text, text != "" || p.talk.Question().Empty != ""
	}
	if p.list.at < 0 {
		return "", false
	}
	return strconv.Itoa(p.list.items[p.list.at].digit), true
}

// take takes the answer to the question that is due.
func (p *findingPage) take(m *model) tea.Cmd {
	text, ok := p.answer()
	if !ok {
		p.told = told{"Nothing is chosen yet.", "A digit or the arrows choose, enter takes it. Esc goes back."}
		return nil
	}
	err := p.talk.Take(text)
	if errors.Is(err, errNotKept) {
		return p.photo(m, text)
	}
	if err != nil {
		p.refused(err)
		return nil
	}
	p.answers = append(p.answers, text)
	p.told = told{}
	p.ask()
	m.turned()
	if p.talk.Over() {
		p.foresee(m)
	}
	return nil
}

// photo copies a picture into the job and takes it then.
func (p *findingPage) photo(m *model, path string) tea.Cmd {
	s := m.session
	return m.work(func() then {
		photo, err := s.KeepPhoto(path)
		return func(m *model) tea.Cmd {
			if err != nil {
				p.refused(err)
				return nil
			}
			p.kept[path] = photo
			return p.take(m)
		}
	})
}

func (p *findingPage) entry() job.Entry {
	en := p.from.entry(job.EnterFinding, p.thing.Ref.String())
	en.Seen = p.talk.Seen()
	return en
}

// foresee says the finding as it would be written. Nothing is written.
func (p *findingPage) foresee(m *model) {
	e, err := m.session.Foresee(p.entry())
	if err != nil {
		p.refused(err)
		return
	}
	f := job.Finding{Carried: job.Carried{Found: *e.Found}}
	p.words = f.Words()
}

// write writes the finding and goes back to the walk where it stood.
func (p *findingPage) write(m *model) tea.Cmd {
	s, en, hand := m.session, p.entry(), p.thing.Ref
	return m.work(func() then {
		e, err := s.Enter(en)
		return func(m *model) tea.Cmd {
			if err != nil {
				return m.notEntered(err, p)
			}
			delete(m.drafts, p.from.draftKey())
			cmd := m.saved(e)
			if q, ok := m.top().(*surveyPage); ok && q.at().Key == e.Key {
				q.back(p.from, hand)
			}
			return cmd
		}
	})
}
