package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/procedure"
)

// notice is a page for what is no step: a job that is open elsewhere, a file
// that cannot be read, a disk that is full. It says what happened, what is safe
// and the one thing to do now; the keys that do it stand in a fixed place.
type notice struct {
	title string
	head  string // what it is about, in capitals
	says  []saying
	on    string                 // what enter does
	take  func(m *model) tea.Cmd // on enter; nil: back
	does  []deed                 // what can be done besides
	fixed bool                   // there is no way back: something has to be done first
	part  scroller
}

// saying is one part of a notice under its label.
type saying struct{ label, text string }

// The labels of a notice.
const (
	saysWhat = "What"
	saysSafe = "Safe"
	saysNow  = "Do now"
	saysThen = "Then"
)

// labelCols are the columns of a label where it stands beside its text.
const labelCols = 9

func (p *notice) key(m *model, k tea.KeyMsg) tea.Cmd {
	if p.part.key(k) {
		return nil
	}
	if cmd, ok := doKey(p.does, m, k); ok {
		return cmd
	}
	switch {
	case key.Matches(k, keyOn) && p.take != nil:
		return p.take(m)
	case key.Matches(k, keyOn), key.Matches(k, keyLeave):
		if !p.fixed {
			m.pop()
		}
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	}
	return nil
}

func (p *notice) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyOn, p.enterDoes()), keyKeys}
	if p.take != nil && !p.fixed {
		keys = slices.Insert(keys, 0, keyLeave)
	}
	if p.part.more() {
		keys = append(keys, keyScroll, keyPgUp, keyPgDown)
	}
	return append(append(keys, deedKeys(p.does)...), keyQuit)
}

func (p *notice) enterDoes() string {
	if p.on == "" {
		return "back"
	}
	return p.on
}

func (p *notice) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	next := []deed{{key: "enter:", name: p.enterDoes()}}
	for _, d := range p.does {
		next = append(next, deed{key: d.key + ":", name: d.name})
	}
	last := deedLines(next, cols)
	room := rows - len(last) - 1
	body := p.part.see(p.lines(m, cols, room), room)
	for len(body) < rows-len(last) {
		body = append(body, "")
	}
	return m.frame(p.title, append(body, last...), &point{row: rows - len(last)}, p.keys(m), w, h)
}

// lines draws what is said: in at most so many rows if it can, without the free
// ones between.
func (p *notice) lines(m *model, w, rows int) []string {
	out := wrap(p.head, w)
	for i := range out {
		out[i] = m.look.strong.Render(out[i])
	}
	tight := slices.Clone(out)
	for _, s := range p.says {
		lines := s.lines(w)
		out = append(append(out, ""), lines...)
		tight = append(tight, lines...)
	}
	if len(out) > rows {
		return tight
	}
	return out
}

// lines stand beside the label, or behind it where there is no room beside.
// What stands indented is a line to be typed and stays one.
func (s saying) lines(w int) []string {
	in := labelCols
	if w < 52 {
		in = 0
	}
	var out []string
	for i, t := range strings.Split(s.text, "\n") {
		if i == 0 && in == 0 && s.label != "" {
			t = s.label + ": " + t
		}
		out = append(out, wrapKeep(t, w-in)...)
	}
	out = indent(out, in)
	if in > 0 && len(out) > 0 {
		out[0] = pad(s.label, in) + strings.TrimLeft(out[0], " ")
	}
	return out
}

// nothingWritten is what is safe where something was only read or asked for.
const nothingWritten = "Nothing was written or changed by it."

// faultPage says an error in words: what, what is safe, and what to do. Several
// faults of files are a list of their own.
func faultPage(title string, err error) page {
	if faults, ok := manyFaults(err); ok {
		return faultsPage(title, faults, "")
	}
	what, do := explain(err)
	says := []saying{{saysWhat, sentence(what)}, {saysSafe, nothingWritten}}
	if do != "" {
		says = append(says, saying{saysNow, sentence(do)})
	}
	return &notice{title: title, head: strings.ToUpper(title), says: says}
}

// sentence begins with a capital and ends with a stop, unless it begins with
// what has to stay as it is: a path, a code, a name of a file.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	first, _, _ := strings.Cut(text, " ")
	if !strings.ContainsAny(first, "/\\._:0123456789") {
		text = procedure.Capital(text)
	}
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	return text
}
