package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
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

// faultPage says an error in words: what, and what to do.
func faultPage(title string, err error) page {
	return &textPage{title: title, text: strings.Split(err.Error(), "\n")}
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
	add("What the bench said", strings.TrimSpace(strings.Join(said, "\n")))
	add("Why", c.Reason)
	add("Caution", c.Caution)
	add("Answered on this card", strings.Join(answered(c, 60), "\n"))
	add("To do", strings.TrimSpace(c.Action+"\n"+c.Detail))
	f := c.Fields[c.At]
	add("The field takes", f.Wanted)
	if f.Scale != nil {
		add("Held against", strings.Join(heldAgainst(f.Scale), "\n"))
	}
	if judges(f.Scale) && m.at.bench.Default {
		add("The bench", m.at.bench.Note+"\nTab, then 0, describes it.")
	}
	return &textPage{title: "Reason and keys", text: append(text, keyLines(keys)...)}
}

// tornPage tells what opening the journal had to mend.
func tornPage(r journal.Recovery) page {
	return &textPage{title: "The journal was mended", text: []string{
		fmt.Sprintf("The last entry, number %d, was cut off while it was written: it was never said to be saved.", r.Line),
		"It lies in the file " + r.TornFile + " beside the journal. All entries before it are whole.",
		"", "Enter what belongs to the step that is due.",
	}}
}

// failedPage says that an entry is not known to be on the disk. Nothing is
// taken until the journal was read back.
type failedPage struct {
	err  error
	told told
}

func (p *failedPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if !key.Matches(k, keyOn) {
		return nil
	}
	s := m.session
	before := s.Job().Lines
	return m.work(func() then {
		err := s.Mend()
		return func(m *model) tea.Cmd {
			if err != nil {
				p.told.what, p.told.do = explain(err)
				return nil
			}
			m.failed = nil
			if s.Job().Lines > before {
				m.drafts = map[string]string{} // it stood in one of them
			}
			m.mark = mendedWords(before, s.Job().Lines)
			cmd := m.due()
			m.word = m.mark
			return cmd
		}
	})
}

func mendedWords(before, after int) string {
	if after > before {
		return "the last entry is SAVED after all"
	}
	return "the last entry is " + notSaved + ": enter it again"
}

func (p *failedPage) keys(*model) []key.Binding {
	return []key.Binding{named(keyOn, "try again"), keyQuit}
}

func (p *failedPage) view(m *model, w, h int) sheet {
	what, do := explain(p.err)
	text := []string{
		notSaved + ". The last entry could not be written.", "", what, do, "",
		"What you entered is still in its field. Everything before it is on the disk.",
		"Make room or put the disk right, then press Enter: the journal is read back, and the bench says whether the entry is in it.",
	}
	if p.told.what != "" {
		text = append(text, "", "It does not work yet: "+p.told.what, p.told.do)
	}
	var body []string
	for _, t := range text {
		if t == "" {
			body = append(body, "")
		}
		body = append(body, wrap(t, bodyCols(w))...)
	}
	return m.frame("The disk", body, &point{}, p.keys(m), w, h)
}
