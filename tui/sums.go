package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/reckon"
)

// sumsPage lists the bench sums. Nothing that is reckoned is written.
func sumsPage(env reckon.Env) page {
	text := []string{"Nothing of this is written."}
	if env.Bench.Default {
		text = append(text, "The bench: "+env.Bench.Note+".")
	}
	sums := reckon.Sums()
	titles := make([]string, len(sums))
	for i, s := range sums {
		titles[i] = s.Title
	}
	return newChoosePage("Bench sums", text, numbered(titles), func(m *model, i int) tea.Cmd {
		m.push(newSumPage(sums[i], env))
		return nil
	})
}

// jobSums offers the sums with the bench and the plan of the job.
func (m *model) jobSums() tea.Cmd {
	m.push(sumsPage(reckon.Env{Bench: m.at.bench, Plan: m.at.plan}))
	return nil
}

// homeSums offers the sums with the bench of the workplace, without a plan.
func (m *model) homeSums() tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		bench, err := desk.Bench()
		return func(m *model) tea.Cmd {
			if err != nil {
				m.push(faultPage("The bench cannot be read", err))
				return nil
			}
			m.push(sumsPage(reckon.Env{Bench: bench}))
			return nil
		}
	})
}

// sumPage asks for the values of a sum, one after the other.
type sumPage struct {
	sum    reckon.Sum
	env    reckon.Env
	fields []reckon.Field // those that have a use here
	texts  []string       // what was typed, by field
	at     int
	field  editor
	told   told
}

func newSumPage(s reckon.Sum, env reckon.Env) *sumPage {
	p := &sumPage{sum: s, env: env}
	for _, f := range s.Fields {
		if !f.Plan || env.Plan != nil {
			p.fields = append(p.fields, f)
		}
	}
	p.texts = make([]string, len(p.fields))
	return p
}

func (p *sumPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyUp):
		p.goTo(m, p.at-1)
	case key.Matches(k, keyDown):
		p.goTo(m, p.at+1)
	case key.Matches(k, keyMenu):
		p.workOut(m)
	case key.Matches(k, keyOn):
		p.on(m)
	case key.Matches(k, keyKeys) && len(p.field.text) == 0:
		m.push(keysPage(p.keys(m)))
	case p.option(k), p.field.key(k):
		p.told = told{}
		p.texts[p.at] = strings.TrimSpace(p.field.String())
	}
	return nil
}

// option takes a digit for the answer that it stands beside.
func (p *sumPage) option(k tea.KeyMsg) bool {
	typed, options := digits(k), p.fields[p.at].Options
	if len(typed) == 1 && typed[0] >= 1 && typed[0] <= len(options) {
		p.field.set(options[typed[0]-1])
		return true
	}
	return false
}

func (p *sumPage) goTo(m *model, i int) {
	if i < 0 || i >= len(p.fields) {
		return
	}
	p.at, p.told = i, told{}
	p.field.set(p.texts[i])
	m.turned()
}

// on goes to the next value, and behind the last to the result. A value that is
// refused is said once; since another one can put it right, the next Enter goes
// on all the same.
func (p *sumPage) on(m *model) {
	if p.at == len(p.fields)-1 {
		p.workOut(m)
		return
	}
	_, refused := p.do()
	if refused != nil && refused.Field == p.fields[p.at].Name && p.told.what == "" {
		p.told = told{refused.What, refused.Cure}
		return
	}
	p.goTo(m, p.at+1)
}

// workOut shows the result, or goes to the value at fault.
func (p *sumPage) workOut(m *model) {
	r, refused := p.do()
	if refused == nil {
		m.push(resultPage(p.sum, r))
		return
	}
	i := slices.IndexFunc(p.fields, func(f reckon.Field) bool { return f.Name == refused.Field })
	if i != p.at {
		p.goTo(m, i)
	}
	p.told = told{refused.What, refused.Cure}
}

func (p *sumPage) do() (reckon.Result, *reckon.Refusal) {
	values := reckon.Values{}
	for i, f := range p.fields {
		if p.texts[i] != "" {
			values[f.Name] = []string{p.texts[i]}
		}
	}
	r, err := p.sum.Do(values, p.env)
	var refused *reckon.Refusal
	if errors.As(err, &refused) {
		return r, refused
	}
	return r, nil
}

func (p *sumPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyLeave, named(keyMenu, "result")}
	if len(p.field.text) == 0 {
		keys = append(keys, keyKeys)
	}
	return append(keys, named(keyOn, "the next value"), named(keyScroll, "to another value"), keyQuit)
}

func (p *sumPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	body, at := p.question(m, cols)
	if lead := append(wrap(p.sum.Title+". "+p.sum.Purpose, cols), ""); len(lead)+len(body) <= rows {
		body = append(lead, body...)
		at.row += len(lead)
	}
	body = append(body, p.soFar(cols, rows-len(body)-1)...)
	return m.frame("Bench sum: "+p.sum.ID, body, &at, p.keys(m), w, h)
}

// question is the value that is asked for, and what was said to it.
func (p *sumPage) question(m *model, w int) ([]string, point) {
	f := p.fields[p.at]
	body := wrap(fmt.Sprintf("(%d of %d) %s", p.at+1, len(p.fields), f.Ask), w)
	for i, o := range f.Options {
		body = append(body, fmt.Sprintf("  %d  %s", i+1, o))
	}
	unit := ""
	if f.Unit != "" {
		unit = " " + f.Unit
	}
	text, col := p.field.line(min(w-4-len(unit), 40))
	at := point{row: len(body), col: 2 + col}
	body = append(body, "[ "+text+" ]"+unit)
	if p.told.what == "" {
		return append(body, wrap(takes(f), w)...), at
	}
	for _, l := range p.told.wrapped(w) {
		body = append(body, m.look.alert.Render(l))
	}
	return body, at
}

// takes says what a field takes, and what stands where nothing is typed.
func takes(f reckon.Field) string {
	text := string(f.Kind)
	if len(f.Options) > 0 {
		text = "a digit chooses"
	}
	if f.Unit != "" {
		text += "; a bare number is in " + f.Unit
	}
	if f.Many {
		text += "; several with blanks between"
	}
	switch {
	case f.Fallback != "":
		text += "; left empty: " + f.Fallback
	case f.Optional:
		text += "; may be left empty"
	}
	return text
}

// soFar lists the other values that were given, as far as there is room.
func (p *sumPage) soFar(w, rows int) []string {
	var lines []string
	for i, f := range p.fields {
		if i != p.at && p.texts[i] != "" {
			lines = append(lines, hang(strings.ReplaceAll(f.Name, "_", " ")+": ", p.texts[i], w)...)
		}
	}
	if len(lines) == 0 || rows < 1 {
		return nil
	}
	if len(lines) > rows {
		lines = append([]string{".. more: up goes there"}, lines[len(lines)-rows+1:]...)
	}
	return append([]string{""}, lines...)
}
