package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/tui/prompt"
)

// findingsPage lists what was found, and what became of it.
type findingsPage struct {
	jobList
	all []*job.Finding
}

func newFindingsPage(m *model) *findingsPage {
	j := m.session.Job()
	p := &findingsPage{all: j.Findings()}
	p.does = m.jobDeeds("f")
	for i, f := range p.all {
		state := fmt.Sprintf("%s (%s of %s by %s)", prompt.FindingState(j, f), f.ID, m.clock(f.At), f.Who)
		p.list.items = append(p.list.items, item{digit: i + 1, text: f.Words(), more: state})
	}
	p.head = findingsHead(j)
	if len(p.all) == 0 {
		p.head = []string{"No findings."}
	}
	return p
}

// findingsAt lists the findings with the mark on one of them.
func findingsAt(m *model, id string) page {
	p := newFindingsPage(m)
	for i, f := range p.all {
		if f.ID == id {
			p.list.at = i
		}
	}
	return p
}

// findingsHead says how many findings are open, and whether they keep the wing on
// the ground; nothing where none is.
func findingsHead(j *job.Job) []string {
	grounds, waiting := 0, 0
	over := map[job.FindingState]int{}
	for _, f := range j.Findings() {
		switch state, _ := j.StateOf(f); {
		case state != job.StateOpen:
			over[state]++
		case f.Disposition.Grounds():
			grounds++
		default:
			waiting++
		}
	}
	var parts []string
	switch grounds {
	case 0:
	case 1:
		parts = append(parts, "1 KEEPS THE WING ON THE GROUND")
	default:
		parts = append(parts, number(grounds)+" KEEP THE WING ON THE GROUND")
	}
	if waiting > 0 {
		parts = append(parts, number(waiting)+" may wait: say until when")
	}
	if len(parts) == 0 {
		return nil
	}
	for _, s := range findingsOver {
		if n := over[s.state]; n > 0 {
			parts = append(parts, number(n)+" "+s.word)
		}
	}
	return []string{"Of " + count(len(j.Findings()), "finding") + ": " + strings.Join(parts, "; ") + "."}
}

// findingsOver names the findings that ask for nothing now.
var findingsOver = []struct {
	state job.FindingState
	word  string
}{
	{job.StateDeferred, "carried over"}, {job.StateMended, "mended"}, {job.StateCleared, "over"},
	{job.StateSound, "sound"}, {job.StateStruck, "struck"},
}

func (p *findingsPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	return p.listKey(m, k, p.keys(m), func() tea.Cmd { return p.take(m) }, func() {})
}

// take asks what becomes of the marked finding.
func (p *findingsPage) take(m *model) tea.Cmd {
	if p.list.at < 0 || p.list.at >= len(p.all) {
		return nil
	}
	f := p.all[p.list.at]
	ways := findingWays(m, f)
	if len(ways) == 0 {
		p.told = told{"Nothing more can be said of it here.", prompt.FindingState(m.session.Job(), f)}
		return nil
	}
	names := make([]string, len(ways))
	for i, w := range ways {
		names[i] = w.name
	}
	ask := newChoosePage("What becomes of it?", []string{f.Words(), sentence(f.Reason)}, numbered(names),
		func(m *model, i int) tea.Cmd { return ways[i].do(m) })
	m.push(ask)
	return nil
}

// findingWays lists what a person can say of a finding: it is carried over, it
// is over, it was a mistake. What the engine would refuse outright is left out.
func findingWays(m *model, f *job.Finding) []deed {
	state, _ := m.session.Job().StateOf(f)
	var out []deed
	add := func(name, title, label string, en job.Entry) {
		out = append(out, deed{name: name, do: func(m *model) tea.Cmd {
			m.askOn(title, label, append([]string{f.Words(), ""}, m.voidedBy(en)...), en, func(m *model) page { return findingsAt(m, f.ID) })
			return nil
		}})
	}
	if state == job.StateOpen || state == job.StateDeferred {
		if !f.Disposition.Grounds() {
			out = append(out, deed{name: "it is carried over, until " + carryLimits(m), do: func(m *model) tea.Cmd { m.push(askCarry(m, f)); return nil }})
		}
		for _, way := range []struct {
			way        job.Way
			name, told string
		}{
			{job.ByLength, "it is over: its length was measured here and is inside", "How do you know? Enter then ends the finding."},
			{job.ByLooking, "it is over: looked at again, and sound", "What did you see? Enter then ends the finding."},
			{job.ByWorkshop, "it is over: a workshop mended it", "Which workshop, and which paper of it? Enter then ends the finding."},
		} {
			en := job.Entry{Kind: job.EnterClear, Finding: f.ID, Way: way.way, Text: "to see if it may"}
			if _, err := m.session.Foresee(en); err != nil {
				continue
			}
			en.Text = ""
			add(way.name, "The finding is over", way.told, en)
		}
	}
	if f.Line > 0 && f.Struck == "" {
		add("it was a mistake: strike it", "Strike", "Why is it struck?", job.Entry{Kind: job.EnterStrike, Line: f.Line})
	}
	return out
}

// voidedBy says which answers an entry makes void; nothing where it makes none.
func (m *model) voidedBy(en job.Entry) []string {
	en.Text = "to see what becomes void"
	e, err := m.session.Foresee(en)
	if err != nil || len(e.Voids) == 0 {
		return nil
	}
	text := []string{count(len(e.Voids), "answer") + " will be void and given again:"}
	for _, v := range e.Voids {
		text = append(text, "  - "+m.voidWords(0, v))
	}
	return append(text, "")
}

// askCarry asks until when a finding waits, and why. Hours limit nothing where
// those of the wing are not known.
func askCarry(m *model, f *job.Finding) page {
	p := &askPage{
		title: "Carry a finding over", text: []string{f.Words(), "", "It keeps its date through any number of jobs, and comes up again when the limit is reached.", ""},
		label: "Hours or a date, then the reason, as in 10 h REASON or 2027-03-01 REASON:",
	}
	if m.at.start.Hours == nil {
		p.label = "A date, then the reason, as in 2027-03-01 REASON (the wing's hours are unknown):"
	}
	p.done = func(m *model, text string) tea.Cmd {
		limit, reason, err := prompt.Limit(text)
		if err != nil {
			p.refused(err)
			return nil
		}
		return m.stay(job.Entry{Kind: job.EnterDefer, Finding: f.ID, Deferral: limit, Text: reason}, p, func(m *model) page { return findingsAt(m, f.ID) })
	}
	return p
}

// carryLimits says against what a finding can be carried over.
func carryLimits(m *model) string {
	if m.at.start.Hours == nil {
		return "a date"
	}
	return "hours or a date"
}

// askOn asks for the words of an entry and comes back to a list.
func (m *model) askOn(title, label string, text []string, en job.Entry, anew func(m *model) page) {
	p := &askPage{title: title, label: label, text: text}
	p.done = func(m *model, words string) tea.Cmd {
		en.Text = words
		return m.stay(en, p, anew)
	}
	m.push(p)
}

func (p *findingsPage) keys(m *model) []key.Binding {
	keys := []key.Binding{m.leaveKey(), keyKeys, named(keyOn, "what becomes of it"), keyChoose}
	return append(append(keys, deedKeys(p.does)...), keyQuit, keyPause)
}

func (p *findingsPage) view(m *model, w, h int) sheet {
	return m.listPage("The findings", p.head, &p.list, p.does, p.told, p.keys(m), w, h)
}
