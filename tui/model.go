package tui

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/wing"
	_ "example.org/linewright/tui/ground" // before bubbletea: see there
)

// The smallest screen on which a card can be worked from. Below it the screen
// says so, and nothing is lost.
const leastW, leastH = 40, 15

// page is one thing that fills the screen.
type page interface {
	// key takes a key. An Enter comes here only if it may act.
	key(m *model, k tea.KeyMsg) tea.Cmd
	// view draws the page; the screen has at least the least size.
	view(m *model, w, h int) sheet
	// keys lists the keys that act now, the most wanted first.
	keys(m *model) []key.Binding
}

// model is the whole bench: a pile of pages, of which the top one is seen.
type model struct {
	opt   Options
	desk  session.Desk
	hands *hands
	now   func() time.Time
	look  style
	can   termenv.Profile // what the terminal can show

	w, h    int
	pages   []page
	gate    gate
	busy    bool         // something is being written or read
	leaving bool         // quit as soon as that is done
	asleep  bool         // go to sleep as soon as that is done
	ahead   []tea.KeyMsg // typed meanwhile
	word    string       // said once, until the next key
	far     far          // of the work at the disk, where it takes a while

	session *session.Session // nil on the list of jobs; read only while not busy
	at      bearings
	task    int
	hidden  int               // task whose line had still to be found out on the last card; 0: none
	mark    string            // what was saved last
	failed  error             // the write after which nothing is taken
	drafts  map[string]string // by task and step
	read    map[string]bool   // cards whose detail was read on a page of its own, by task and card
	dropped string            // a draft that leaving dropped
}

// bearings are what a view needs of the job that is open. A view never reads
// the session: something may just be written.
type bearings struct {
	no    int // of the job here
	start job.Start
	bench metrology.Bench // in force
	plan  *wing.Plan
}

func newModel(o Options, now func() time.Time) *model {
	m := &model{opt: o, desk: o.Desk, hands: &hands{}, now: now, drafts: map[string]string{}, read: map[string]bool{}}
	m.pages = []page{&homePage{}}
	return m
}

// Init asks for the name first, or opens what is to be opened.
func (m *model) Init() tea.Cmd {
	if m.desk.Who == "" {
		return m.askName()
	}
	return m.begin()
}

// begin shows the job that was named, or the list of jobs.
func (m *model) begin() tea.Cmd {
	if m.opt.Job != 0 {
		return m.openJob(m.opt.Job, m.opt.Task)
	}
	return m.goHome()
}

func (m *model) top() page { return m.pages[len(m.pages)-1] }

func (m *model) push(p page) {
	m.pages = append(m.pages, p)
	m.turned()
}

func (m *model) pop() {
	m.pages = m.pages[:len(m.pages)-1]
	m.turned()
}

// base puts a page alone on the pile.
func (m *model) base(p page) {
	m.pages = []page{p}
	m.turned()
}

func (m *model) turned() { m.gate.turned(m.now()) }

// leave is the message that asks the program to end.
type leave struct{}

// Update moves the bench on.
func (m *model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
		m.turned()
	case tea.ResumeMsg:
		m.turned()
	case tea.KeyMsg:
		return m, m.onKey(msg)
	case then:
		return m, m.reply(msg)
	case far:
		m.far = msg
	case leave:
		return m, m.leave()
	}
	return m, nil
}

// onKey gives a key to the page that is seen, unless it is one of those that
// act everywhere.
func (m *model) onKey(k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyQuit):
		return m.leave()
	case key.Matches(k, keyPause):
		return m.sleep()
	case m.busy:
		m.ahead = append(m.ahead, k)
		return nil
	case m.tooSmall():
		return nil // what cannot be seen cannot be answered
	}
	if !key.Matches(k, keyOn) {
		m.word = ""
		m.gate.typed(m.now())
		return m.give(k)
	}
	pause := m.now().Sub(m.gate.last)
	if !m.gate.pass(m.now()) {
		if pause >= burst {
			m.word = "That Enter came too soon to have been meant, and did nothing."
		}
		return nil
	}
	m.word = ""
	l := m.list()
	if l != nil && l.odd() {
		m.word = l.typed + " is none of the numbers here. That Enter took nothing."
		l.clear()
		return nil
	}
	if l != nil {
		l.typed = "" // the next digit begins a number
	}
	return m.give(k)
}

// give gives a key to the page that is seen, and says where digits lead nowhere.
func (m *model) give(k tea.KeyMsg) tea.Cmd {
	cmd := m.top().key(m, k)
	if l := m.list(); l != nil && l.odd() {
		m.word = l.gathered()
	}
	return cmd
}

// chooser is a page that has a list to choose from; nil while it has none.
type chooser interface {
	choices() *list
}

// list is the one that is chosen from now, or nil.
func (m *model) list() *list {
	if c, ok := m.top().(chooser); ok {
		return c.choices()
	}
	return nil
}

// reply ends a piece of work at the screen. What was typed meanwhile goes into
// the field that stands there now, up to the first key that would act: it was
// typed before this was seen.
func (m *model) reply(f then) tea.Cmd {
	m.busy, m.far = false, far{}
	cmd := f(m)
	ahead := m.ahead
	m.ahead = nil
	if m.busy {
		return cmd
	}
	if m.leaving {
		return m.leave()
	}
	if m.asleep {
		return tea.Batch(cmd, m.sleep())
	}
	for _, k := range ahead {
		if !isText(k) {
			break
		}
		m.gate.typed(m.now())
		cmd = tea.Batch(cmd, m.give(k))
	}
	return cmd
}

// leave ends the program once the entry under way is on the disk. A draft is
// dropped, and Run says so.
func (m *model) leave() tea.Cmd {
	if m.busy {
		m.leaving = true
		return nil
	}
	if m.opt.Demo == nil {
		m.dropped = m.draft()
	}
	return tea.Quit
}

func (m *model) sleep() tea.Cmd {
	m.asleep = m.busy
	if m.busy {
		return nil
	}
	return tea.Suspend
}

// draft is what stands in a field and is not entered.
func (m *model) draft() string {
	for i := len(m.pages) - 1; i >= 0; i-- {
		if d, ok := m.pages[i].(interface{ draft() string }); ok && d.draft() != "" {
			return d.draft()
		}
	}
	return ""
}

func (m *model) tooSmall() bool { return m.w < leastW || m.h < leastH }

// View draws the page that is seen.
func (m *model) View() string {
	if m.w <= 0 || m.h <= 0 {
		return ""
	}
	if m.tooSmall() {
		text := fmt.Sprintf("linewright needs a screen of %d x %d; this one is %d x %d. Make it larger: nothing is lost.", leastW, leastH, m.w, m.h)
		return m.fit(sheet{lines: wrap(text, m.w)})
	}
	return m.fit(m.top().view(m, m.w, m.h))
}

// fit makes a page the frame that fills the screen.
func (m *model) fit(seen sheet) string {
	return m.look.paint(seen, m.w, m.h).fit(m.w, m.h, m.look.tint)
}

// dress gives the bench a look.
func (m *model) dress(look string) {
	m.opt.Look = look
	m.look = newStyle(look, m.can)
}
