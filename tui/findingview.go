package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/linewright/tui/prompt"
)

func (p *findingPage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyLeave, "back"), keyKeys}
	if len(p.answers) > 0 {
		keys[0] = named(keyLeave, "back one question")
	}
	switch {
	case p.talk.Over():
		keys = append(keys, named(keyOn, "write it down"))
	case len(p.list.items) > 0:
		keys = append(keys, keyOn, keyChoose)
	default:
		keys = append(keys, keyOn)
		if len(p.field.text) > 0 {
			keys = append(keys[:1], keys[2:]...)
		}
	}
	return append(keys, keyQuit)
}

func (p *findingPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	body := p.soFar(m, cols)
	foot := p.told.wrapped(cols)
	if p.talk.Over() {
		body = append(body, foot...)
		at := &point{row: len(body)}
		for _, l := range wrap("Enter writes this finding down. Esc goes back to the last question.", cols) {
			body = append(body, m.look.strong.Render(l))
		}
		return m.frame(p.title(), body, at, p.keys(m), w, h)
	}
	q := p.talk.Question()
	ask := wrap(q.Ask, cols)
	least := len(ask) + len(foot) + min(len(p.list.items), 6) + 2
	if most := max(0, rows-least); len(body) > most {
		body = body[len(body)-most:]
	}
	for i := range ask {
		ask[i] = m.look.strong.Render(ask[i])
	}
	body = append(body, ask...)
	at := &point{row: len(body)}
	if len(p.list.items) > 0 {
		lines, mark := p.list.lines(m, cols, max(1, rows-len(body)-len(foot)))
		at.row += mark.row
		return m.frame(p.title(), append(append(body, lines...), foot...), at, p.keys(m), w, h)
	}
	unit := ""
	if p.talk.Measures() {
		unit = " mm"
	}
	text, col := p.field.line(min(cols-4-len(unit), 60))
	at.col = 2 + col
	body = append(body, "[ "+text+" ]"+unit)
	if len(foot) == 0 {
		foot = wrap(p.understood(q), cols)
	}
	return m.frame(p.title(), append(body, foot...), at, p.keys(m), w, h)
}

// understood says how what stands in the field is taken, or what an empty one means.
func (p *findingPage) understood(q prompt.TalkQuestion) string {
	typed := strings.TrimSpace(p.field.String())
	if typed == "" {
		return "enter alone: " + q.Empty
	}
	if !p.talk.Measures() {
		return ""
	}
	place, err := p.talk.Place(typed)
	if err != nil {
		what, _ := explain(err)
		return "so far: " + what
	}
	return "understood: " + place
}

func (p *findingPage) title() string { return "A finding on " + p.thing.Ref.String() }

// soFar is what was found there before, what was answered now, and what becomes
// of it by its rule.
func (p *findingPage) soFar(m *model, w int) []string {
	var lines []string
	for _, f := range p.thing.Found {
		lines = append(lines, hang("", "found before: "+f.Words(), w)...)
	}
	if p.words != "" {
		lines = append(lines, hang("", p.words, w)...)
	} else if len(p.answers) > 0 {
		lines = append(lines, hang("", strings.Join(p.said(), "; "), w)...)
	}
	if verdict := p.talk.Verdict(); verdict != "" {
		for _, l := range wrap(verdict, w) {
			lines = append(lines, m.look.alert.Render(l))
		}
	}
	if n := len(p.talk.Seen().Photos); n > 0 {
		lines = append(lines, count(n, "photo"))
	}
	if len(lines) > 0 {
		lines = append(lines, "")
	}
	return lines
}

// said is what was answered so far, in words.
func (p *findingPage) said() []string {
	seen := p.talk.Seen()
	var out []string
	for _, r := range p.thing.Rules {
		if r.ID == seen.Rule {
			out = append(out, r.Text.In("en"))
		}
	}
	if place, err := p.talk.Place(seen.Place); err == nil && place != "" {
		out = append(out, place)
	}
	if seen.Note != "" {
		out = append(out, seen.Note)
	}
	return out
}
