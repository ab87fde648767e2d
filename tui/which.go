package tui

import (
	"fmt"
	"strconv"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/picture"
	"example.org/linewright/tui/prompt"
)

// whichPage finds out which line one is from what a person sees of it, one
// question at a time. Nothing is written. It is not offered where a step finds
// the line out by itself: it would bend the answers there.
type whichPage struct {
	plan *wing.Plan
	talk *prompt.LineTalk
	then func(m *model, ref wing.Ref) tea.Cmd

	list   list
	does   []func(m *model) tea.Cmd // by item of the list
	length editor                   // where a length is asked for
	stood  bool                     // in a contradiction: every answer is stood by
	told   told
}

// newWhichPage searches the lines of both sides. Once one is found and taken,
// the page is gone from the pile and then goes on with it.
func newWhichPage(plan *wing.Plan, then func(m *model, ref wing.Ref) tea.Cmd) *whichPage {
	p := &whichPage{plan: plan, talk: prompt.NewLineTalk(plan, ""), then: then}
	p.fill()
	return p
}

// cannotTellDigit chooses that nobody can tell.
const cannotTellDigit = 0

// asksLength reports whether the question that is due is answered by a length.
func (p *whichPage) asksLength() bool {
	return p.talk.Question().Feature == wing.FeatureLength && p.talk.Question().State != wing.FinderContradiction
}

// fill lists what can be answered now.
func (p *whichPage) fill() {
	p.list, p.does = list{at: -1}, nil
	p.length.wipe()
	p.told = told{}
	switch q := p.talk.Question(); {
	case q.State == wing.FinderContradiction && p.stood:
		p.add(1, "begin again from the riser", p.again)
	case q.State == wing.FinderContradiction:
		p.fillDoubt(q.Doubt)
	case q.State == wing.FinderFound:
		p.add(1, "take this line: "+q.Left[0].String(), p.found)
		p.list.at = 0
	case q.State == wing.FinderAlike:
		for i, o := range q.LookAgain {
			label, _ := prompt.FeatureWords(o.Feature, o.Instance)
			p.add(i+1, "look again and answer: "+label, p.takeBack(o))
		}
		p.add(cannotTellDigit, "leave it: the line is not found", p.leave)
	case p.asksLength():
	default:
		p.fillAnswers()
	}
}

func (p *whichPage) add(digit int, text string, do func(m *model) tea.Cmd) {
	p.list.items = append(p.list.items, item{digit: digit, text: text})
	p.does = append(p.does, do)
}

// fillAnswers lists the answers to a question. A count is chosen by itself, so
// that nobody has to read one number and type another; none comes behind it.
func (p *whichPage) fillAnswers() {
	p.add(cannotTellDigit, "cannot tell", p.give(""))
	answers, counts := p.talk.Answers()
	most, none := 0, ""
	for i, a := range answers {
		digit, text := i+1, a
		if n, err := strconv.Atoi(a); counts {
			if err != nil || n == 0 {
				none = a
				continue
			}
			digit, text, most = n, inWords(n), max(most, n)
		}
		p.add(digit, text, p.give(a))
	}
	if none != "" {
		p.add(most+1, "none", p.give(none))
	}
}

var smallNumbers = []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

func inWords(n int) string {
	if n < len(smallNumbers) {
		return smallNumbers[n]
	}
	return strconv.Itoa(n)
}

// fillDoubt offers to take an answer back, the one most likely wrong first.
func (p *whichPage) fillDoubt(d *wing.Doubt) {
	for i, o := range d.Suspects {
		p.add(i+1, "take back "+prompt.AnswerWords(o)+": most likely wrong", p.takeBack(o))
	}
	for i, o := range d.Also {
		p.add(len(d.Suspects)+i+1, "take back "+prompt.AnswerWords(o)+": could be wrong too", p.takeBack(o))
	}
	p.add(cannotTellDigit, "all of them hold: I looked again", func(m *model) tea.Cmd {
		p.stood = true
		p.next(m)
		return nil
	})
}

// next shows what is due now.
func (p *whichPage) next(m *model) {
	p.fill()
	m.turned()
}

func (p *whichPage) give(value string) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		p.talk.Give(value)
		p.next(m)
		return nil
	}
}

func (p *whichPage) takeBack(o wing.Observation) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		p.talk.TakeBack(o)
		p.next(m)
		return nil
	}
}

func (p *whichPage) again(m *model) tea.Cmd {
	p.talk, p.stood = prompt.NewLineTalk(p.plan, ""), false
	p.next(m)
	return nil
}

func (p *whichPage) leave(m *model) tea.Cmd {
	m.pop()
	return nil
}

func (p *whichPage) found(m *model) tea.Cmd {
	m.pop()
	return p.then(m, p.talk.Question().Left[0])
}

// back takes the last answer back; before the first it leaves.
func (p *whichPage) back(m *model) {
	switch {
	case p.stood:
		p.stood = false
	case len(p.talk.Seen()) == 0:
		m.pop()
		return
	default:
		p.talk.Back()
	}
	p.next(m)
}

func (p *whichPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		p.back(m)
	case key.Matches(k, keyMenu):
		m.pop()
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.asksLength() && p.length.key(k), p.list.key(k, 5):
		p.told = told{}
	}
	return nil
}

// take gives the answer that is marked, or the length that is typed.
func (p *whichPage) take(m *model) tea.Cmd {
	if p.asksLength() {
		return p.takeLength(m)
	}
	if p.list.at < 0 {
		p.told = told{"Choose an answer first.", fmt.Sprintf("%d if you cannot tell.", cannotTellDigit)}
		return nil
	}
	return p.does[p.list.at](m)
}

func (p *whichPage) takeLength(m *model) tea.Cmd {
	text := p.length.String()
	if text == strconv.Itoa(cannotTellDigit) {
		return p.give("")(m)
	}
	if err := p.talk.Take(text); err != nil {
		p.told.what, p.told.do = explain(err)
		return nil
	}
	p.next(m)
	return nil
}

func (p *whichPage) keys(*model) []key.Binding {
	back := named(keyLeave, "take the last answer back")
	if len(p.talk.Seen()) == 0 {
		back = keyLeave
	}
	keys := []key.Binding{back, named(keyMenu, "leave"), keyKeys, keyOn}
	if !p.asksLength() {
		keys = append(keys, keyChoose)
	}
	return append(keys, keyQuit)
}

// possible marks the lines that are left, on the side of the first of them.
// While a last look confirms, or what is wrong is looked for, nothing may show
// the line that is expected.
func (p *whichPage) possible() (wing.Side, map[string]picture.Mark) {
	q := p.talk.Question()
	left, mark := q.Left, picture.Possible
	switch q.State {
	case wing.FinderConfirm, wing.FinderContradiction:
		return "", nil
	case wing.FinderFound:
		mark = picture.InHand
	}
	if len(left) == 0 {
		return "", nil
	}
	side, marked := left[0].Side, map[string]picture.Mark{}
	for _, r := range left {
		if r.Side == side {
			marked[r.Code] = mark
		}
	}
	return side, marked
}
