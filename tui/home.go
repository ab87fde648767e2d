package tui

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
)

func number(n int) string { return strconv.Itoa(n) }

// homePage lists the jobs of the store.
type homePage struct {
	loaded bool
	jobs   []jobRow
	wings  int
	faults error // of the procedures
	list   list
}

// jobRow is one job in the list.
type jobRow struct {
	no         int
	head, body string
	closed     bool
}

// load reads the list, away from the screen. The job that was open is put away.
func (p *homePage) load(m *model) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		err := m.hands.swap(nil)
		jobs, wings, lerr := readHome(desk)
		if err == nil {
			err = lerr
		}
		_, faults := desk.Library()
		return func(m *model) tea.Cmd {
			p.loaded, p.jobs, p.wings, p.faults = true, jobs, wings, faults
			p.fill()
			m.turned()
			if err != nil {
				m.push(faultPage("The store cannot be read as a whole", err))
			}
			return nil
		}
	})
}

func (p *homePage) fill() {
	p.list.items = nil
	for _, j := range p.jobs {
		p.list.items = append(p.list.items, item{digit: j.no, text: j.head, more: j.body})
	}
	if p.wings > 0 {
		p.list.items = append(p.list.items, item{digit: 0, text: "Start a job on a wing"})
	}
	p.list.items = append(p.list.items, item{digit: -1, text: "Bench sums, without a job"})
}

// readHome gathers what the list shows. A job that cannot be read is listed
// with the reason; it does not hide the others.
func readHome(desk session.Desk) ([]jobRow, int, error) {
	wings, err := desk.Store.Wings()
	if err != nil {
		return nil, 0, err
	}
	nos, err := desk.Store.Jobs()
	if err != nil {
		return nil, len(wings), err
	}
	var open, closed []jobRow
	for i := len(nos) - 1; i >= 0; i-- {
		r := readJob(desk, nos[i])
		if r.closed {
			closed = append(closed, r)
		} else {
			open = append(open, r)
		}
	}
	return append(open, closed...), len(wings), nil
}

func readJob(desk session.Desk, no int) jobRow {
	j, _, err := desk.Look(no)
	if err != nil {
		what, _ := explain(err)
		return jobRow{no: no, head: fmt.Sprintf("job %d: CANNOT BE READ", no), body: what}
	}
	if j.Lines == 0 {
		return jobRow{no: no, head: fmt.Sprintf("job %d", no), body: "nothing is written in it"}
	}
	head := fmt.Sprintf("job %d: %s", no, j.Start.WingName)
	if j.Start.Serial != "" {
		head += ", " + j.Start.Serial
	}
	if j.Start.Demo {
		head += " (DEMO)"
	}
	return jobRow{no: no, head: head, body: jobWords(j), closed: j.Closed != nil}
}

// jobWords says how far a job is, what must not be overlooked first.
func jobWords(j *job.Job) string {
	var out []string
	if t, link := j.LinkOpen(); t != nil {
		out = append(out, "LINK OPEN: "+placeWords(j, t, link.String()))
	}
	for _, t := range j.Tasks {
		if t.OneSide() {
			out = append(out, "ONE BRAKE MOVED")
		}
	}
	for _, t := range j.Tasks {
		if s := t.State(); s != job.Gone && (s != job.Done || j.Closed == nil) {
			out = append(out, taskWords(j, t))
		}
	}
	if n := openCount(j); n > 0 {
		out = append(out, count(n, "open item"))
	}
	if j.Closed != nil {
		out = append([]string{"closed"}, out...)
	}
	if len(out) == 0 {
		return "no task yet"
	}
	return strings.Join(out, "; ")
}

// placeWords names a place unless it is still to be found out.
func placeWords(j *job.Job, t *job.Task, place string) string {
	if j.Covered(t.No) {
		return "a line to be found"
	}
	return place
}

func taskWords(j *job.Job, t *job.Task) string {
	words := t.Unfolded.Procedure.Title.In("en") + ": " + placeWords(j, t, t.Add.Target.String())
	done, _ := t.Progress()
	switch s := t.State(); s {
	case job.Running:
		// Without a total: what is answered decides which steps are asked for.
		return fmt.Sprintf("%s, step %d", words, done+1)
	default:
		return words + ", " + string(s)
	}
}

// openCount counts what answers left open, not the tasks that go on.
func openCount(j *job.Job) int {
	n := 0
	for _, it := range j.OpenItems() {
		if it.Key != "" {
			n++
		}
	}
	return n
}

func (p *homePage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.take(m)
	case key.Matches(k, keyLeave):
		p.list.clear()
	default:
		p.list.key(k, 5)
		m.word = p.list.gathered()
	}
	return nil
}

func (p *homePage) take(m *model) tea.Cmd {
	switch {
	case !p.loaded:
		return nil
	case p.list.at < 0:
		m.word = "No job has that number. Esc clears it."
		return nil
	case p.list.at < len(p.jobs):
		return m.openJob(p.jobs[p.list.at].no, 0)
	case p.list.at == len(p.list.items)-1:
		return m.homeSums()
	}
	return m.startJob()
}

func (p *homePage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyQuit, "leave"), keyKeys}
	if len(p.list.items) > 0 {
		keys = append(keys, named(keyOn, "open"), keyChoose)
	}
	return append(keys, keyPause)
}

func (p *homePage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	var body []string
	var at *point
	switch {
	case !p.loaded:
	case len(p.jobs) == 0:
		body = p.empty(m, cols)
		lines, mark := p.list.lines(m, cols, 3)
		at = &point{row: len(body) + mark.row}
		body = append(body, lines...)
	default:
		body, at = p.list.lines(m, cols, rows-len(p.faultLine(cols)))
		body = append(body, p.faultLine(cols)...)
	}
	return m.frame("linewright: the jobs at this bench", body, at, p.keys(m), w, h)
}

// empty is the first run: what to do, in words.
func (p *homePage) empty(m *model, w int) []string {
	text := []string{"No job yet.", ""}
	if p.wings == 0 {
		text = append(text,
			"A job is done on a wing, and a wing needs its line plan. Leave here and add one:",
			"", "   linewright wing add ID FILE", "",
			"Or see first how a job goes, on an invented wing:", "", "   linewright demo", "")
	} else {
		text = append(text, count(p.wings, "wing")+" here. Enter starts the first job: you choose wing, procedure and line; nothing is written before you said so.", "")
	}
	text = append(text, "All is kept in "+m.desk.Store.Dir(), "")
	var out []string
	for _, t := range text {
		if t == "" {
			out = append(out, "")
		}
		out = append(out, wrapKeep(t, w)...)
	}
	return append(out, p.faultLine(w)...)
}

func (p *homePage) faultLine(w int) []string {
	if p.faults == nil {
		return nil
	}
	return append([]string{""}, wrap("Some procedures have faults and are not offered: linewright procedure check shows them.", w)...)
}
