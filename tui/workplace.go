package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/metrology"
)

// workplacePage describes the bench that lengths are measured on, question by
// question. Nothing is kept before the last item is taken.
type workplacePage struct {
	bench   metrology.Bench
	list    list
	told    told
	changed bool
}

// describeBench shows the bench in force for the job.
func (m *model) describeBench() tea.Cmd {
	p := &workplacePage{bench: m.session.Job().Bench}
	p.fill()
	m.push(p)
	return nil
}

func (p *workplacePage) questions() []metrology.Question { return metrology.Questions(p.bench) }

func (p *workplacePage) fill() {
	p.list.items = nil
	for _, q := range p.questions() {
		now := q.Now
		if now == "" {
			now = "not said"
		}
		if q.Assumed {
			now += " (a fallback)"
		}
		p.list.items = append(p.list.items, item{digit: -1, text: q.Label + ": " + now})
	}
	p.list.items = append(p.list.items, item{digit: 0, text: "Keep it: the job measures on this bench from here on"})
	p.list.at = min(p.list.at, len(p.list.items)-1)
}

func (p *workplacePage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *workplacePage) draft() string {
	if p.changed {
		return p.bench.Name
	}
	return ""
}

func (p *workplacePage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.list.key(k, 5):
		p.told = told{}
	}
	return nil
}

func (p *workplacePage) take(m *model) tea.Cmd {
	qs := p.questions()
	if p.list.at >= len(qs) {
		return p.keep(m)
	}
	m.push(p.ask(qs[p.list.at]))
	return nil
}

// ask puts one question: as a choice, or as a field.
func (p *workplacePage) ask(q metrology.Question) page {
	text := []string{q.Ask}
	if q.How != "" {
		text = append(text, q.How)
	}
	if len(q.Options) > 0 {
		texts := make([]string, len(q.Options))
		for i, o := range q.Options {
			texts[i] = o.Text
		}
		return newChoosePage(q.Label, text, numbered(texts), func(m *model, i int) tea.Cmd {
			m.pop()
			if err := p.answer(q.Key, q.Options[i].Value); err != nil {
				p.refused(err)
			}
			return nil
		})
	}
	ask := &askPage{title: q.Label, text: append(text, ""), label: label(q), empty: q.Fallback != ""}
	ask.done = func(m *model, text string) tea.Cmd {
		if err := p.answer(q.Key, text); err != nil {
			ask.refused(err)
			return nil
		}
		m.pop()
		return nil
	}
	return ask
}

func label(q metrology.Question) string {
	var parts []string
	if q.Unit != "" {
		parts = append(parts, "a bare number is "+q.Unit)
	}
	if q.Fallback != "" {
		parts = append(parts, "nothing typed takes the fallback: "+q.Fallback)
	}
	if len(parts) == 0 {
		return q.Label + ":"
	}
	return q.Label + " (" + strings.Join(parts, "; ") + "):"
}

// answer puts an answer into the profile and marks the next question.
func (p *workplacePage) answer(name, text string) error {
	next, err := metrology.Answer(p.bench, name, text)
	if err != nil {
		return cured(err)
	}
	p.bench, p.changed = next, true
	p.list.at++
	p.fill()
	return nil
}

// cured gives an error of metrology or quantity with its cure.
func cured(err error) error {
	if c, ok := err.(interface{ Cure() string }); ok {
		return twoLines{err.Error(), c.Cure()}
	}
	return err
}

// twoLines is an error that says what is wrong and what to do.
type twoLines struct{ what, do string }

func (e twoLines) Error() string { return e.what + "\n  " + e.do }

// keep writes the bench down for the job, and for the workplace.
func (p *workplacePage) keep(m *model) tea.Cmd {
	if err := p.bench.Validate(); err != nil {
		p.refused(cured(err))
		return nil
	}
	s, bench := m.session, p.bench
	return m.work(func() then {
		err := s.DescribeBench(bench)
		return func(m *model) tea.Cmd {
			if err != nil {
				return m.notEntered(err, p)
			}
			m.mark = "SAVED the bench " + plain(bench.Name)
			return m.due()
		}
	})
}

func (p *workplacePage) keys(*model) []key.Binding {
	return []key.Binding{named(keyLeave, "back, keeps nothing"), keyKeys, named(keyOn, "answer anew"), named(keyScroll, "choose"), keyQuit}
}

func (p *workplacePage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	body := wrap("What is used to measure lengths, and how. What is not said stands at a wide fallback.", cols)
	body = append(body, "")
	foot := p.told.wrapped(cols)
	lines, at := p.list.lines(m, cols, max(3, rows-len(body)-len(foot)))
	at.row += len(body)
	return m.frame("The bench", append(append(body, lines...), foot...), at, p.keys(m), w, h)
}
