package tui

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

func number(n int) string { return strconv.Itoa(n) }

// homePage lists the jobs of the store.
type homePage struct {
	loaded bool
	homeState
	faults source.Faults // of the procedures
	list   list
	part   scroller // of what is said where there is no job
}

// homeState is what the store holds.
type homeState struct {
	jobs  []jobRow
	wings int
	keyed bool // the person at the bench has a key here
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
		state, lerr := readHome(desk)
		if err == nil {
			err = lerr
		}
		return func(m *model) tea.Cmd {
			p.loaded, p.homeState = true, state
			p.fill()
			m.turned()
			if err != nil {
				m.push(faultPage("The store cannot be read as a whole", err))
			}
			return p.prove(m)
		}
	})
}

// prove looks for faults in the procedures, behind the first picture: that takes
// longer than to read the list.
func (p *homePage) prove(m *model) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		_, faults := desk.Library()
		return func(*model) tea.Cmd {
			p.faults, _ = manyFaults(faults)
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
	sums := item{digit: -1, text: "Bench sums, without a job"}
	if len(p.jobs) == 0 {
		sums.digit = 1 // no job has that number
	}
	p.list.items = append(p.list.items, sums)
}

// readHome gathers what the list shows. A job that cannot be read is listed
// with the reason; it does not hide the others.
func readHome(desk session.Desk) (homeState, error) {
	wings, err := desk.Store.Wings()
	if err != nil {
		return homeState{}, err
	}
	state := homeState{wings: len(wings)}
	names, err := desk.Store.Signers()
	if err != nil {
		return state, err
	}
	state.keyed = slices.Contains(names, desk.Who)
	pages, err := desk.Pages(desk.Progress)
	if err != nil {
		return state, err
	}
	var open, closed []jobRow
	for _, p := range slices.Backward(pages) {
		r := rowOf(p)
		if r.closed {
			closed = append(closed, r)
		} else {
			open = append(open, r)
		}
	}
	state.jobs = append(open, closed...)
	return state, nil
}

func rowOf(p logbook.Page) jobRow {
	if p.Fault != "" {
		what, _ := explain(errors.New(p.Fault))
		return jobRow{no: p.Job, head: fmt.Sprintf("job %d: CANNOT BE READ", p.Job), body: what}
	}
	head := fmt.Sprintf("job %d: %s", p.Job, p.WingName)
	if p.Serial != "" {
		head += ", " + p.Serial
	}
	if p.Demo {
		head += " (DEMO)"
	}
	return jobRow{no: p.Job, head: head, body: pageWords(p), closed: p.Closed}
}

// pageWords says how far a job is, what must not be overlooked first.
func pageWords(p logbook.Page) string {
	var out []string
	if p.LinkOpen != "" {
		out = append(out, "LINK OPEN: "+p.LinkOpen)
	}
	if p.HandedTo != "" {
		out = append(out, "HANDED ON to "+plain(p.HandedTo))
	}
	for _, t := range p.Tasks {
		if t.OneSide {
			out = append(out, strings.ToUpper(job.OneSideWords(t.Target.Kind)))
		}
		if t.State != job.Gone && (t.State != job.Done || !p.Closed) {
			on := t.On
			if t.Target == (wing.Ref{}) {
				on = toBeFound
			}
			out = append(out, doing(t.Title, on, t.State, t.Done))
		}
	}
	if n := leftOpen(p); n > 0 {
		out = append(out, count(n, "open item"))
	}
	if p.Closed {
		out = append([]string{"closed"}, out...)
	}
	if len(out) == 0 {
		return "no task yet"
	}
	return strings.Join(out, "; ")
}

const toBeFound = "a line to be found"

// placeWords names a place unless it is still to be found out.
func placeWords(j *job.Job, t *job.Task, place string) string {
	if j.Covered(t.No) {
		return toBeFound
	}
	return place
}

func taskWords(j *job.Job, t *job.Task) string {
	done, _ := t.Progress()
	return doing(t.Unfolded.Procedure.Title.In("en"), placeWords(j, t, t.Add.Target.String()), t.State(), done)
}

// doing says how far a task is.
func doing(title, on string, state job.TaskState, done int) string {
	words := title + ": " + on
	if state == job.Running {
		// Without a total: what is answered decides which steps are asked for.
		return fmt.Sprintf("%s, step %d", words, done+1)
	}
	return words + ", " + string(state)
}

// leftOpen counts what answers left open and the findings that are not over, not
// the tasks that go on.
func leftOpen(p logbook.Page) int {
	n := p.Left()
	for _, it := range p.Open {
		if it.Step == "" && !p.Closed {
			n--
		}
	}
	return n
}

func (p *homePage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if p.part.more() && p.part.key(k) {
		return nil
	}
	switch {
	case key.Matches(k, keyKeys):
		m.push(&textPage{title: "Keys", text: append(keyLines(p.keys(m)), "", "All is kept in the folder", "   "+m.desk.Store.Dir())})
	case key.Matches(k, keyFaults) && len(p.faults) > 0:
		m.push(faultsPage("Faults in procedures", p.faults, othersOffered))
	case key.Matches(k, keyOn):
		return p.take(m)
	case key.Matches(k, keyLook):
		return m.chooseLook()
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
	if p.part.more() {
		keys = append(keys, keyScroll)
	}
	if len(p.faults) > 0 {
		keys = append(keys, keyFaults)
	}
	return append(keys, keyLook, keyPause)
}

func (p *homePage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	var body []string
	var at *point
	switch {
	case !p.loaded:
	case len(p.jobs) == 0:
		room := rows - len(p.list.items) - 1
		body = p.part.see(p.empty(m, cols, room), room)
		for len(body) < room && h < 24 {
			body = append(body, "")
		}
		body = append(body, "")
		lines, mark := p.list.lines(m, cols, len(p.list.items))
		at = &point{row: len(body) + mark.row}
		body = append(body, lines...)
	default:
		notes := p.notes(m, cols)
		body, at = p.list.lines(m, cols, rows-len(notes))
		body = append(body, notes...)
	}
	return m.frame("linewright: the jobs at this bench", body, at, p.keys(m), w, h)
}
