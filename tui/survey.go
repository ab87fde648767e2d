package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/picture"
	"example.org/linewright/tui/prompt"
)

// surveyPage is a step that looks at many things one by one: the lines of a
// row, cloth and tabs, fittings, twins and neighbours. "1" says that the hand
// went over all the rest and found it sound. What is not is marked where the
// walk stands, or by its code.
//
// An empty Enter never answers the step. It opens the questions about the thing
// in hand, and that only if an arrow went there since the card came up: without
// one nobody chose it.
type surveyPage struct {
	step
	hand   int  // the thing in hand; negative: none yet
	walked bool // an arrow or a code went there since the card came up
	code   editor
	sure   string // what is typed, as understood
	doubt  string // or why it is not
	grid   thingGrid
	fan    bool // the last view drew the fan: the arrows walk on it
	plan   *wing.Plan
	marks  map[string]picture.Mark // of the lines of this side
}

// allRest is typed for: all the rest was touched and is sound.
const allRest = "1"

// leastFan is how many rows the fan of a row needs to show all of it.
const leastFan = 9

func newSurveyPage(m *model, c job.Card) *surveyPage {
	p := &surveyPage{step: newStep(m, c), plan: m.at.plan, hand: -1, fan: true}
	p.marks = surveyMarks(m.session.Job(), c.Task, p.in().Side)
	if d := m.drafts[p.draftKey()]; d != "" {
		p.code.set(d)
	}
	p.offer(m)
	p.understand(m)
	return p
}

// offer puts the demo's sample answer into an empty field.
func (p *surveyPage) offer(m *model) {
	if m.opt.Demo == nil || m.opt.Demo.Offer == nil || len(p.code.text) > 0 {
		return
	}
	if text, ok := m.opt.Demo.Offer(p.card); ok {
		p.code.set(text)
	}
}

func (p *surveyPage) in() *job.Inspection { return p.at().Inspection }

func (p *surveyPage) things() []job.Thing { return p.in().Things }

// thing is the one in hand; the zero one where none is yet.
func (p *surveyPage) thing() job.Thing {
	if p.hand < 0 || p.hand >= len(p.things()) {
		return job.Thing{}
	}
	return p.things()[p.hand]
}

func (p *surveyPage) draftKey() string { return draftKey(p.card.Task, p.at().Key) }

func (p *surveyPage) draft() string { return p.typed() }

func (p *surveyPage) typed() string { return strings.TrimSpace(p.code.String()) }

// surveyMarks gives the lines of a side that a task looked at, with what was
// found on them.
func surveyMarks(j *job.Job, task int, side wing.Side) map[string]picture.Mark {
	marks := map[string]picture.Mark{}
	t, ok := j.Task(task)
	if !ok {
		return marks
	}
	for _, s := range t.Unfolded.Slots {
		if s.Step.Kind != procedure.Inspect || s.Step.Of != procedure.OfLines || s.Instance.Side != side {
			continue
		}
		if a := t.At(s.Key); a != nil && a.State == job.Ready {
			for _, ref := range s.Things() {
				marks[ref.Code] = picture.Touched
			}
		}
	}
	for _, f := range j.Findings() {
		if f.Task != task || f.Struck != "" || f.Thing.Kind != wing.KindLine || f.Thing.Side != side {
			continue
		}
		mark := picture.Finding
		if f.Disposition.Grounds() {
			mark = picture.Damaged
		}
		marks[f.Thing.Code] = marks[f.Thing.Code]&^picture.Touched | mark
	}
	return marks
}

func (p *surveyPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if cmd, ok := p.common(m, k, p.roomy(m, p.least(m.w)), len(p.code.text) == 0, p.keys(m), p.told.lines()...); ok {
		return cmd
	}
	switch {
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.walk(k):
		p.code.wipe()
	case !p.code.key(k):
		return nil
	default:
		p.follow()
	}
	p.told = told{}
	m.drafts[p.draftKey()] = p.typed()
	p.understand(m)
	return nil
}

// walk goes to another thing; false if the key does not.
func (p *surveyPage) walk(k tea.KeyMsg) bool {
	dx, dy := 0, 0
	switch {
	case key.Matches(k, keyLeft):
		dx = -1
	case key.Matches(k, keyRight):
		dx = 1
	case p.fan && key.Matches(k, keyUp):
		dy = 1
	case p.fan && key.Matches(k, keyDown):
		dy = -1
	case key.Matches(k, keyUp):
		p.stand(p.grid.beside(p.hand, -1))
		return true
	case key.Matches(k, keyDown):
		p.stand(p.grid.beside(p.hand, 1))
		return true
	default:
		return false
	}
	if !p.fan || p.hand < 0 {
		p.stand(p.hand + max(dx, -p.hand-1))
		return true
	}
	next := picture.NextInRow(p.plan, p.in().Side, p.in().Row, p.thing().Ref.Code, dx, dy)
	for i, t := range p.things() {
		if t.Ref.Code == next {
			p.stand(i)
		}
	}
	return true
}

// stand takes a thing in hand.
func (p *surveyPage) stand(i int) {
	if len(p.things()) == 0 {
		return
	}
	p.hand, p.walked = min(max(i, 0), len(p.things())-1), true
}

// follow walks to the thing whose code is typed. It is chosen by its code then,
// not by the walk.
func (p *surveyPage) follow() {
	t, err := prompt.ThingNamed(p.things(), p.typed())
	if err != nil {
		return
	}
	for i, other := range p.things() {
		if other.Ref == t.Ref {
			p.stand(i)
		}
	}
	p.walked = false
}

// understand says what is typed before it is taken. Nothing is written.
func (p *surveyPage) understand(m *model) {
	p.sure, p.doubt = "", ""
	switch text := p.typed(); text {
	case "":
	case allRest:
		said, err := m.session.Preview(p.entry(job.EnterAnswer, text))
		if err != nil {
			p.doubt, _ = explain(err)
			return
		}
		p.sure = said
	default:
		t, err := prompt.ThingNamed(p.things(), text)
		if err != nil {
			p.doubt, _ = explain(err)
			return
		}
		p.sure = t.Ref.String()
	}
}

// take answers the step for all the rest, or asks what was found on a thing.
func (p *surveyPage) take(m *model) tea.Cmd {
	text := p.typed()
	switch {
	case text == allRest:
		return m.enter(p.entry(job.EnterAnswer, text), p)
	case text == "" && !p.walked:
		p.told.what, _ = explain(job.NewRefusal(job.ValueWanted)) // what is wanted stands below it
		return nil
	case text == "":
		return p.mark(m, p.thing())
	}
	t, err := prompt.ThingNamed(p.things(), text)
	if err != nil {
		p.refused(err)
		return nil
	}
	return p.mark(m, t)
}

// mark asks what was found on a thing.
func (p *surveyPage) mark(m *model, t job.Thing) tea.Cmd {
	m.push(newFindingPage(m, p, t))
	return nil
}

// back goes on where the walk was broken off. Nobody chose the thing anew.
func (p *surveyPage) back(from *surveyPage, hand wing.Ref) {
	for i, t := range p.things() {
		if t.Ref == hand {
			p.stand(i)
		}
	}
	p.turn, p.walked = from.turn, false
}
