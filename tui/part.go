package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// partPage puts a part together before it goes on the order list: its length by
// the plan or of its twin, its price, a note. Nothing is written before the
// first item is taken.
type partPage struct {
	thing string // as prompt.Wanting reads it
	from  int    // the place on the list from which it was taken

	twin, price, note string
	part              job.Part
	list              list
	told              told
}

func newPartPage(thing string, from int) *partPage { return &partPage{thing: thing, from: from} }

// The items of the page.
const (
	partTake = iota
	partPrice
	partNote
	partTwin
)

// fill works the part out anew.
func (p *partPage) fill(m *model) {
	text := p.thing
	if p.twin != "" {
		text += " twin " + p.twin
	}
	if p.price != "" {
		text += " price " + p.price
	}
	part, err := prompt.Wanting(m.session.Job(), text)
	if err != nil {
		p.refused(err)
		return
	}
	part.Note = p.note
	p.part = part
	p.list.items = numbered([]string{"put it on the list", "its price: " + orNot(p.price), "a note: " + orNot(p.note)})
	if part.Thing.Kind == wing.KindLine {
		source := "as above; or a copy of its twin, " + part.Thing.Twin().String()
		if p.twin != "" {
			source = "a copy of its twin; or by the plan"
		}
		p.list.items = append(p.list.items, item{digit: partTwin + 1, text: "its length: " + source})
	}
}

func orNot(text string) string {
	if text == "" {
		return "not said"
	}
	return text
}

func (p *partPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *partPage) draft() string {
	if p.twin+p.price+p.note == "" {
		return ""
	}
	return prompt.PartWords(p.part)
}

func (p *partPage) key(m *model, k tea.KeyMsg) tea.Cmd {
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

func (p *partPage) take(m *model) tea.Cmd {
	switch p.list.at {
	case partTake:
		mv := &job.PartMove{Op: job.PartList, Part: &p.part}
		return m.stay(job.Entry{Kind: job.EnterPart, Part: mv, Text: p.part.Thing.String()}, p, partsAt(p.from+1))
	case partPrice:
		p.ask(m, "Its price", "As the maker states it, as 14.50 EUR; nothing: not said.", &p.price)
	case partNote:
		p.ask(m, "A note", "For whoever makes it; nothing: none.", &p.note)
	case partTwin:
		p.ask(m, "Its length", "What "+p.part.Thing.Twin().String()+" measures, in mm (or cm, m, in, ft if you type it); nothing: by the plan.", &p.twin, job.LengthChoice)
	}
	return nil
}

// ask asks for one detail. What is not understood is said and changes nothing.
func (p *partPage) ask(m *model, title, label string, into *string, text ...string) {
	ask := &askPage{title: title + ": " + p.part.Thing.String(), label: label, text: append(text, ""), empty: true}
	ask.field.set(*into)
	ask.done = func(m *model, text string) tea.Cmd {
		before := *into
		*into, p.told = strings.TrimSpace(text), told{}
		p.fill(m)
		if p.told.what != "" {
			*into, ask.told, p.told = before, p.told, told{}
			return nil
		}
		m.pop()
		p.list.at = partTake
		return nil
	}
	m.push(ask)
}

// askPart asks for a part that no finding asks for.
func askPart() page {
	p := &askPage{title: "Another part", label: "Which line, with its side, as C1.2 left? Another thing as in retainer:C@left."}
	p.done = func(m *model, text string) tea.Cmd {
		ref, err := prompt.Target(wing.KindLine, text)
		if err == nil && !m.at.plan.Has(ref) {
			err = job.NewRefusal(job.PartNoThing, ref, 1)
		}
		if err != nil {
			p.refused(err)
			return nil
		}
		form := newPartPage(ref.Text(), len(m.session.Job().Parts())-1)
		form.fill(m)
		m.pop()
		m.push(form)
		return nil
	}
	return p
}

func (p *partPage) keys(*model) []key.Binding {
	return []key.Binding{named(keyLeave, "back, changes nothing"), keyKeys, keyOn, keyChoose, keyQuit}
}

func (p *partPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	body := append(wrap(prompt.PartWords(p.part), cols), "")
	foot := p.told.wrapped(cols)
	if len(foot) == 0 && p.part.Thing.Kind == wing.KindLine {
		foot = wrap(job.LengthChoice, cols)
	}
	foot = append([]string{""}, foot...)
	lines, at := p.list.lines(m, cols, max(3, rows-len(body)-len(foot)))
	at.row += len(body)
	return m.frame("A part for the order list", append(append(body, lines...), foot...), at, p.keys(m), w, h)
}
