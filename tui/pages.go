package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/tui/picture"
)

// textPage shows text that is longer than the screen, if it must be.
type textPage struct {
	title string
	text  []string             // paragraphs, one a line; wrapped when drawn
	lines func(w int) []string // in place of text: lines of at most w columns
	more  func(m *model)       // opens what stands behind, if anything does
	part  scroller

	moreDoes string
}

func (p *textPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if p.part.key(k) {
		return nil
	}
	if p.more != nil && key.Matches(k, keyMenu) {
		p.more(m)
		return nil
	}
	if key.Matches(k, keyOn) || key.Matches(k, keyLeave) || key.Matches(k, keyHelp) || key.Matches(k, keyMenu) {
		m.pop()
	}
	return nil
}

func (p *textPage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyOn, "back")}
	if p.more != nil {
		keys = append(keys, named(keyMenu, p.moreDoes))
	}
	if p.part.more() {
		keys = append(keys, keyScroll, keyPgUp, keyPgDown)
	}
	return append(keys, keyQuit)
}

func (p *textPage) view(m *model, w, h int) sheet {
	seen := p.part.see(p.wrapped(bodyCols(w)), bodyRows(h))
	return m.frame(p.title, seen, &point{}, p.keys(m), w, h)
}

func (p *textPage) wrapped(w int) []string {
	if p.lines != nil {
		return p.lines(w)
	}
	var lines []string
	for _, t := range p.text {
		if t == "" {
			lines = append(lines, "")
		}
		lines = append(lines, wrapKeep(t, w)...)
	}
	return lines
}

// keysPage lists the keys of a page.
func keysPage(keys []key.Binding) page {
	return &textPage{title: "Keys", text: keyLines(keys)}
}

// cardHelp gives the reason for a step, all of its text, and the keys.
func cardHelp(m *model, c job.Card, keys []key.Binding, said ...string) page {
	var text []string
	add := func(head, body string) {
		if body != "" {
			text = append(text, head, "  "+body, "")
		}
	}
	f := c.Fields[c.At]
	if f.LoopFit != nil && len(said) > 0 && said[0] == f.LoopFit.Words()[0] {
		said = nil // it stands below with all that is said of the loop
	}
	add("What the bench said", strings.TrimSpace(strings.Join(said, "\n")))
	add("Why", c.Reason)
	add("Caution", c.Caution)
	add("Answered on this card", strings.Join(answered(c, 60), "\n"))
	add("To do", strings.TrimSpace(c.Action+"\n"+c.Detail))
	add("Both sides", strings.Join(sidesWords(c.Sides), "\n"))
	add("The field takes", f.Wanted)
	if f.Scale != nil {
		add("Held against", strings.Join(heldAgainst(f.Scale), "\n"))
	}
	if f.LoopFit != nil {
		add("The loop", strings.Join(f.LoopFit.Words(), "\n"))
	}
	if judges(f.Scale) && m.at.bench.Default {
		add("The bench", m.at.bench.Note+"\nTab, then 0, describes it.")
	}
	return &textPage{title: "Reason and keys", lines: func(w int) []string {
		lines := append((&textPage{text: text}).wrapped(w), m.seen(c, w)...)
		return append(lines, (&textPage{text: keyLines(keys)}).wrapped(w)...)
	}}
}

// seen is the picture of a card with all the room that it may want, since beside
// the card it is drawn smaller or not at all.
func (m *model) seen(c job.Card, w int) []string {
	const rows = 24
	pic := m.drawn(c, w-2, rows)
	if v := c.Fields[c.At].Lengths; v != nil {
		table := lengthRows(v)
		pic = picture.Lengths(table, w-2, rows+len(table), m.opt.signs())
	}
	if len(pic) == 0 {
		return nil
	}
	lines := []string{"The picture"}
	for _, l := range pic {
		lines = append(lines, "  "+l)
	}
	return append(lines, "")
}

// sidesWords says the table of a card, whole.
func sidesWords(rows []job.SidesRow) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = r.Words()
	}
	return out
}
