package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/order"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// partsPage is the order list: what is on it and how far it is, and behind it
// what the findings ask for beyond it.
type partsPage struct {
	jobList
	listed []*job.Listing
	wanted []job.Part
	text   string // of the whole list, to be read aloud
}

func newPartsPage(m *model) *partsPage {
	j := m.session.Job()
	p := &partsPage{wanted: j.SuggestParts()}
	ready, unread := 0, 0
	for _, l := range j.Parts() {
		state := j.PartState(l)
		if state == job.PartGone {
			continue
		}
		switch state {
		case job.ReadBack:
			ready++
		case job.Listed:
			unread++
		}
		p.listed = append(p.listed, l)
		it := item{digit: l.No, text: fmt.Sprintf("%s: %s", strings.ToUpper(string(state)), prompt.PartWords(l.Part))}
		if len(l.Returned) > 0 {
			it.more = "It went back: " + strings.Join(l.Returned, "; ")
		}
		p.list.items = append(p.list.items, it)
	}
	for i, w := range p.wanted {
		p.list.items = append(p.list.items, item{digit: len(j.Parts()) + i + 1, text: "suggested: " + prompt.PartWords(w)})
	}
	all := order.Of(j)
	p.text, p.head = all.Text(), partsHead(all, len(p.wanted))
	switch {
	case unread > 0:
		p.head = append(p.head, fmt.Sprintf("Next: read each code back, %d still to do (enter, 1); then o makes the order final.", unread))
	case ready > 0:
		p.head = append(p.head, "Next: o makes the order final.")
	}
	if l, ok := j.Receiving(m.task); ok {
		p.mark(l.Thing)
	}
	if ready+unread > 0 {
		p.does = append(p.does, deed{"o", "make the order final", func(m *model) tea.Cmd { return p.final(m) }})
	}
	p.does = append(p.does,
		deed{"n", "another part", func(m *model) tea.Cmd { m.push(askPart()); return nil }},
		deed{"l", "the list to read aloud", func(m *model) tea.Cmd { m.push(p.aloud()); return nil }})
	p.does = append(p.does, m.jobDeeds("p")...)
	return p
}

// mark marks what is on the list for a thing; where nothing is, all stays as it was.
func (p *partsPage) mark(thing wing.Ref) {
	if i := slices.IndexFunc(p.listed, func(l *job.Listing) bool { return l.Thing == thing }); i >= 0 {
		p.list.at = i
	}
}

// partsHead says how the list stands.
func partsHead(all order.List, wanted int) []string {
	if len(all.Items)+wanted == 0 {
		return []string{"No part is listed or asked for."}
	}
	text := count(len(all.Items), "part") + " on the list"
	for _, s := range all.Sums {
		text += fmt.Sprintf(", %s %s", s.Amount, s.Currency)
	}
	if len(all.Sums) > 0 && all.Unpriced > 0 {
		text += fmt.Sprintf(", %d without a price", all.Unpriced)
	}
	if wanted > 0 {
		text += fmt.Sprintf("; suggested besides: %d", wanted)
	}
	return []string{text + "."}
}

// aloud is the list as it goes to whoever makes the parts.
func (p *partsPage) aloud() page {
	return &textPage{title: "The order list", text: strings.Split(strings.TrimRight(p.text, "\n"), "\n")}
}

func (p *partsPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *partsPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	return p.listKey(m, k, p.keys(m), func() tea.Cmd { return p.take(m) }, func() {})
}

// take moves the marked part on, or puts a suggested one together.
func (p *partsPage) take(m *model) tea.Cmd {
	i := p.list.at
	switch {
	case i < 0 || i >= len(p.list.items):
		return nil
	case i >= len(p.listed):
		form := newPartPage(p.wanted[i-len(p.listed)].Thing.String(), i)
		form.fill(m)
		m.push(form)
		return nil
	}
	l := p.listed[i]
	ways := p.ways(m, l)
	names := make([]string, len(ways))
	for i, w := range ways {
		names[i] = w.name
	}
	ask := newChoosePage("Part "+number(l.No)+", "+l.Thing.String(), []string{prompt.PartWords(l.Part)}, numbered(names),
		func(m *model, i int) tea.Cmd { return ways[i].do(m) })
	m.push(ask)
	return nil
}

// ways lists what can be done with a part as it stands.
func (p *partsPage) ways(m *model, l *job.Listing) []deed {
	var out []deed
	at := p.list.at
	add := func(op job.PartOp, name, title, label string, text ...string) {
		out = append(out, deed{name: name, do: func(m *model) tea.Cmd {
			m.askPartMove(l, op, title, label, append(text, ""), at)
			return nil
		}})
	}
	switch state := m.session.Job().PartState(l); state {
	case job.Listed:
		add(job.PartRead, "read its code back", "Read a code back", procedure.Capital(l.CodeWanted())+":",
			strings.TrimSuffix(fmt.Sprintf("Part %d: %s, %s", l.No, l.Thing.Kind, l.Thing.Side), ", ")+".",
			"Read it from the plan or the old line, not from this screen: capital and small letters count.")
	case job.Ordered:
		if l.Thing.Kind == wing.KindLine {
			out = append(out, deed{name: "it came: look at label, ends, thickness and length", do: func(m *model) tea.Cmd { return m.addWork(job.ProcReceipt, l.Thing, p) }})
		} else {
			add(job.PartTaken, "it came, and it is right", "A part came", "What did you compare it with?", prompt.PartWords(l.Part))
		}
		fallthrough
	case job.AtHand:
		add(job.PartReturn, "it came, and it is wrong: it goes back on the list", "A part is wrong", "What is wrong with it?", append([]string{prompt.PartWords(l.Part)}, m.droppedBy(l)...)...)
	}
	if m.session.Job().PartState(l) != job.AtHand {
		add(job.PartDrop, "it is not wanted after all", "Take a part off the list", "Why is it not wanted?", prompt.PartWords(l.Part))
	}
	return out
}

// droppedBy says which tasks end when a part goes back.
func (m *model) droppedBy(l *job.Listing) []string {
	var out []string
	for _, t := range m.session.Job().Receipts(l.Thing) {
		out = append(out, "It goes back on the list as not read yet, and its task is dropped: "+taskWords(m.session.Job(), t)+".")
	}
	return out
}

// askPartMove asks for the words of a move and comes back to the list.
func (m *model) askPartMove(l *job.Listing, op job.PartOp, title, label string, text []string, at int) {
	p := &askPage{title: title + ": " + l.Thing.String(), label: label, text: text}
	if op == job.PartRead {
		p.title = title // the code is not said where it is to be read elsewhere
	}
	p.done = func(m *model, words string) tea.Cmd {
		mv := &job.PartMove{Op: op, No: l.No}
		if op == job.PartRead {
			mv.Text = strings.TrimSpace(words)
		}
		return m.stay(job.Entry{Kind: job.EnterPart, Part: mv, Text: strings.TrimSpace(words)}, p, partsAt(at))
	}
	m.push(p)
}

// partsAt is the list with a part marked.
func partsAt(at int) func(m *model) page {
	return func(m *model) page {
		p := newPartsPage(m)
		p.list.at = max(0, min(at, len(p.list.items)-1))
		return p
	}
}

// final makes the order final; the list is seen once more before.
func (p *partsPage) final(m *model) tea.Cmd {
	en := job.Entry{Kind: job.EnterPart, Part: &job.PartMove{Op: job.PartOrder}, Text: "order"}
	if _, err := m.session.Foresee(en); err != nil {
		p.refused(err)
		return nil
	}
	var text []string
	for _, l := range p.listed {
		if m.session.Job().PartState(l) == job.ReadBack {
			text = append(text, prompt.PartWords(l.Part))
		}
	}
	ask := newChoosePage("Make the order final?", text, numbered([]string{"order these", "not yet: back to the list"}),
		func(m *model, i int) tea.Cmd {
			if i == 1 {
				m.pop()
				return nil
			}
			return m.stay(en, p, partsAt(0))
		})
	m.push(ask)
	return nil
}

func (p *partsPage) keys(m *model) []key.Binding {
	keys := []key.Binding{m.leaveKey(), keyKeys, named(keyOn, "move it on"), keyChoose}
	return append(append(keys, deedKeys(p.does)...), keyQuit, keyPause)
}

func (p *partsPage) view(m *model, w, h int) sheet {
	return m.listPage("The order list", p.head, &p.list, p.does, p.told, p.keys(m), w, h)
}
