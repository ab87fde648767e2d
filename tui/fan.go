package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/picture"
)

// fanPage chooses a line: walked on the fan with the arrows, or by its code.
type fanPage struct {
	o    *outline
	at   wing.Ref
	code editor
	told told
}

func newFanPage(o *outline, side wing.Side) *fanPage {
	return &fanPage{o: o, at: picture.Walk(o.plan, wing.Ref{Kind: wing.KindLine, Side: side}, picture.Up)}
}

func (p *fanPage) draft() string { return p.code.String() }

func (p *fanPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	p.told = told{}
	switch {
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyOn):
		return p.take(m)
	case key.Matches(k, keyLeft):
		p.walk(picture.Left)
	case key.Matches(k, keyRight):
		p.walk(picture.Right)
	case key.Matches(k, keyUp):
		p.walk(picture.Up)
	case key.Matches(k, keyDown):
		p.walk(picture.Down)
	case key.Matches(k, keyWhich) && p.asksFirst():
		p.which(m)
	case p.code.key(k):
		if l, ok := p.o.plan.Line(strings.TrimSpace(p.code.String())); ok {
			p.at = wing.LineRef(l.Code, p.at.Side)
		}
	}
	return nil
}

// asksFirst reports whether a w asks which line it is: nothing is typed, and no
// code begins with it.
func (p *fanPage) asksFirst() bool {
	return len(p.code.text) == 0 && !slices.ContainsFunc(p.o.plan.Lines, func(l wing.Line) bool { return strings.HasPrefix(l.Code, "w") })
}

func (p *fanPage) which(m *model) {
	m.push(newWhichPage(p.o.plan, func(m *model, ref wing.Ref) tea.Cmd {
		p.at = ref
		return p.take(m)
	}))
}

func (p *fanPage) walk(d picture.Direction) {
	p.at = picture.Walk(p.o.plan, p.at, d)
	p.code.wipe()
}

// take goes on with the line at hand. A code that was typed must be one.
func (p *fanPage) take(m *model) tea.Cmd {
	if code := strings.TrimSpace(p.code.String()); code != "" {
		l, ok := p.o.plan.Line(code)
		if !ok {
			p.told = told{fmt.Sprintf("The plan has no line %q.", code), "Capital and small letters count. The arrows walk over the fan."}
			return nil
		}
		p.at = wing.LineRef(l.Code, p.at.Side)
	}
	if p.at.Code == "" {
		p.told = told{"The plan has no lines.", "Choose another procedure."}
		return nil
	}
	p.o.target = p.at
	return m.checkTarget(p.o)
}

func (p *fanPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyLeave, named(keyOn, "take this line")}
	if p.asksFirst() {
		keys = append(keys, keyWhich)
	}
	return append(keys, keyWalk, keyQuit)
}

func (p *fanPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	card := job.Card{Picture: picture.NameFan, Ref: p.at, Target: p.at.String()}
	body := append([]string{}, picture.Of(card, p.o.plan, cols, rows-5, m.opt.signs())...)
	body = append(body, "")
	body = append(body, wrap(p.words(), cols)...)
	label := "Arrows walk; or type the code: [ "
	text, col := p.code.line(16)
	at := point{row: len(body), col: len(label) + col}
	body = append(body, label+text+" ]")
	body = append(body, p.told.wrapped(cols)...)
	return m.frame(p.o.proc.Title.In("en")+": which line?", body, &at, p.keys(m), w, h)
}

// words say where on the wing the line at hand is.
func (p *fanPage) words() string {
	l, ok := p.o.plan.LineAt(p.at)
	if !ok {
		return "No line is chosen."
	}
	return fmt.Sprintf("%s: row %s, %s tier, %s, place %d from the centre", p.at, l.Row, l.Tier, anchorWords(l.On), l.Pos)
}

// anchorWords say what a line hangs on.
func anchorWords(a wing.Anchor) string {
	switch a.Kind {
	case wing.OnLink:
		return "on link " + a.Name
	case wing.OnRiser:
		return "on a tab of riser " + a.Name
	case wing.OnHandle:
		return "on the brake handle"
	}
	return "on line " + a.Name
}
