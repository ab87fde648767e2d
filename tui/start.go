package tui

import (
	"errors"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// outline is a job or a task that is being put together: nothing is written
// before the last page.
type outline struct {
	wing      store.Wing // zero: a task of the job that is open
	plan      *wing.Plan
	proc      *procedure.Procedure // nil: a job without a task yet
	target    wing.Ref
	found     wing.Ref        // a line that is known already; zero: it is asked for
	bench     metrology.Bench // of the workplace
	suggested bool            // by the agenda, which knows what was done already
	hours     string          // flying hours of the wing as typed; "" where they are not known
}

// startJob begins at the wing.
func (m *model) startJob() tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		wings, faulty, err := readWings(desk)
		return func(m *model) tea.Cmd {
			if err != nil {
				m.push(faultPage("The wings cannot be read", err))
				return nil
			}
			m.push(m.chooseWing(wings, faulty))
			return nil
		}
	})
}

// readWings reads all wings; one with a fault does not hide the others.
func readWings(desk session.Desk) (wings []store.Wing, faulty []string, err error) {
	ids, err := desk.Store.Wings()
	if err != nil {
		return nil, nil, err
	}
	for _, id := range ids {
		w, err := desk.Store.Wing(id)
		if err != nil {
			what, _ := explain(err)
			faulty = append(faulty, what)
			continue
		}
		wings = append(wings, w)
	}
	return wings, faulty, nil
}

func (m *model) chooseWing(wings []store.Wing, faulty []string) page {
	names := make([]string, len(wings))
	for i, w := range wings {
		names[i] = w.Name
		if w.Serial != "" {
			names[i] += ", serial number " + w.Serial
		}
	}
	text := []string{"Which wing is on the bench?"}
	for _, f := range faulty {
		text = append(text, "Not offered: "+f)
	}
	p := newChoosePage("Start a job", text, numbered(names), func(m *model, i int) tea.Cmd { return m.takeWing(wings[i]) })
	if len(wings) == 1 {
		p.list.at = 0 // there is nothing to choose
	}
	return p
}

// takeWing reads the plan of a wing and the procedures.
func (m *model) takeWing(w store.Wing) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		o := &outline{wing: w}
		data, err := desk.Store.PlanBytes(w)
		if err == nil {
			o.plan, err = wing.ParsePlan(data, "plan of "+w.ID)
		}
		if err == nil {
			o.bench, err = desk.Bench()
		}
		lib, faults := desk.Library()
		return func(m *model) tea.Cmd {
			if err != nil {
				m.push(notStarted(w, m.inStore(err), err))
				return nil
			}
			m.push(m.chooseProcedure(o, lib, faults))
			return nil
		}
	})
}

// addTask begins at the procedure, for the wing of the job that is open.
func (m *model) addTask() tea.Cmd { return m.addTaskOn(wing.Ref{}) }

// addTaskOn is addTask for a line that was found out; zero: it is asked for.
func (m *model) addTaskOn(line wing.Ref) tea.Cmd {
	desk, o := m.desk, &outline{plan: m.at.plan, found: line}
	return m.work(func() then {
		lib, faults := desk.Library()
		return func(m *model) tea.Cmd {
			m.push(m.chooseProcedure(o, lib, faults))
			return nil
		}
	})
}

// chooseProcedure asks what the wing needs, and then for one of the procedures
// that serve it. A question with one answer is not asked.
func (m *model) chooseProcedure(o *outline, lib *procedure.Library, faults error) page {
	var shelves []procedure.Shelf
	var names []string
	for _, s := range procedure.Shelves {
		if len(lib.On(s)) > 0 {
			shelves, names = append(shelves, s), append(names, s.Words())
		}
	}
	ask := []string{"What is to be done?"}
	if o.found != (wing.Ref{}) {
		ask[0] = "What is to be done on " + o.found.String() + "?"
	}
	if faults != nil {
		ask = append(ask, "Some procedures have faults and are not offered: "+m.desk.Command("procedure list"))
	}
	if len(shelves) == 1 {
		return m.chooseOn(o, ask, lib.On(shelves[0]))
	}
	if o.wing.ID != "" {
		names = append(names, "Look at what earlier jobs left open: no task yet")
	}
	return newChoosePage("What the wing needs", ask, numbered(names), func(m *model, i int) tea.Cmd {
		if i == len(shelves) {
			m.push(m.lastQuestion(o))
			return nil
		}
		m.push(m.chooseOn(o, []string{names[i]}, lib.On(shelves[i])))
		return nil
	})
}

func (m *model) chooseOn(o *outline, ask []string, procs []*procedure.Procedure) page {
	var items []item
	for i, p := range procs {
		items = append(items, item{digit: i + 1, text: p.Title.In("en"), more: p.Purpose.In("en")})
	}
	p := newChoosePage("Choose a procedure", ask, items, func(m *model, i int) tea.Cmd {
		o.proc = procs[i]
		return m.chooseTarget(o)
	})
	p.list.apart = true
	return p
}

// chooseTarget asks for what the procedure works on.
func (m *model) chooseTarget(o *outline) tea.Cmd {
	kind := wing.Kind(o.proc.Target)
	if known, ok := o.known(kind); ok {
		o.target = known
		return m.checkTarget(o)
	}
	sides := []string{"left", "right"}
	if kind == wing.KindLine && findable(o.plan) {
		sides = append(sides, "find the line first, by what is seen of it")
	}
	m.push(newChoosePage(o.proc.Title.In("en"),
		[]string{"Which side, as the pilot sits under the wing? A wing on its back seen from its front shows left and right the wrong way round."},
		numbered(sides), func(m *model, i int) tea.Cmd {
			switch {
			case i == len(wing.Sides):
				m.push(newWhichPage(o.plan, func(m *model, ref wing.Ref) tea.Cmd {
					o.target = ref
					return m.checkTarget(o)
				}))
			case kind == wing.KindLink:
				m.push(m.chooseLink(o, wing.Sides[i]))
			default:
				m.push(newFanPage(o, wing.Sides[i]))
			}
			return nil
		}))
	return nil
}

// known is the target where nothing has to be asked: what there is one of, or
// what the line that was found out leads to.
func (o *outline) known(kind wing.Kind) (wing.Ref, bool) {
	switch kind {
	case wing.KindBrakes, wing.KindWing:
		return wing.Ref{Kind: kind}, true
	case wing.KindLine:
		return o.found, o.found != (wing.Ref{})
	}
	link, ok := o.plan.LinkOf(o.found.Code)
	return wing.LinkRef(link.Name, o.found.Side), ok && o.found != (wing.Ref{})
}

func (m *model) chooseLink(o *outline, side wing.Side) page {
	var names []string
	for _, l := range o.plan.Links {
		names = append(names, fmt.Sprintf("link %s, on branch %s: %s", l.Name, l.Branch, count(len(o.plan.OnLink(l.Name)), "line")))
	}
	return newChoosePage(o.proc.Title.In("en"), []string{"Which link on the " + string(side) + " side?"}, numbered(names),
		func(m *model, i int) tea.Cmd {
			o.target = wing.LinkRef(o.plan.Links[i].Name, side)
			return m.checkTarget(o)
		})
}

// checkTarget sees, before anything is written, whether the procedure fits.
func (m *model) checkTarget(o *outline) tea.Cmd {
	if _, err := procedure.Unfold(o.proc, o.plan, o.target); err != nil {
		title := "This procedure cannot be laid out"
		var bar *procedure.BarError
		if errors.As(err, &bar) {
			title = "Not with this procedure"
		}
		m.push(faultPage(title, err))
		return nil
	}
	if o.wing.ID == "" && !o.suggested {
		if t, since := m.session.Job().Already(o.proc.ID, o.target); t != nil {
			m.push(m.onceMore(o, t, since))
			return nil
		}
	}
	m.push(m.lastQuestion(o))
	return nil
}

// onceMore asks whether a task that the job has already is wanted again.
func (m *model) onceMore(o *outline, t *job.Task, since string) page {
	return newChoosePage("Once more?", []string{prompt.AlreadyWords(t, m.clock(since))},
		numbered([]string{fmt.Sprintf("go to task %d", t.No), "add it once more"}),
		func(m *model, i int) tea.Cmd {
			if i == 1 {
				m.push(m.lastQuestion(o))
				return nil
			}
			m.task = t.No
			return m.due()
		})
}

// lastQuestion asks why, and then writes.
func (m *model) lastQuestion(o *outline) page {
	what := "A job without a task yet"
	if o.proc != nil {
		what = o.proc.Title.In("en") + ", " + o.target.String()
	}
	p := &askPage{title: what, empty: true, label: "Why is it done? A few words, or none."}
	p.text = []string{what + ".", "", "Enter adds this task to the job and writes it down.", ""}
	p.done = func(m *model, reason string) tea.Cmd { return m.addNow(o, reason, p) }
	if o.wing.ID != "" {
		p.text = o.startWords(what)
		p.more = &deed{"tab", "flying hours", func(m *model) tea.Cmd {
			m.push(o.askHours(func() { p.text = o.startWords(what) }))
			return nil
		}}
		p.label = "Why is the wing here? A few words, or none."
		p.done = func(m *model, reason string) tea.Cmd { return m.startNow(o, reason, p) }
	}
	return p
}

// startWords says what the job that is put together starts with.
func (o *outline) startWords(what string) []string {
	hours := "Flying hours of the wing: not known. Tab writes them."
	if o.hours != "" {
		hours = "Flying hours of the wing: " + o.hours + ". Tab changes them."
	}
	text := append([]string{what + ",", "on the wing " + o.wing.Name + ".", ""}, benchWords(o.bench)...)
	text = append(text, hours)
	if o.covered() {
		text = append(text, "The line is not named at first: it is found once more at the wing, by hand.")
	}
	return append(text, "", "Enter starts the job and writes its first lines.", "")
}

// covered reports whether the procedure has its target found out, so that what
// is known already will not be shown.
func (o *outline) covered() bool {
	return o.proc != nil && slices.ContainsFunc(o.proc.Phases, func(ph procedure.Phase) bool { return ph.Hidden })
}

// askHours asks for the flying hours and comes back to the last question.
func (o *outline) askHours(kept func()) page {
	p := &askPage{
		title: "Flying hours of the wing", empty: true, label: "Flying hours of the wing now, such as 123.5. Enter alone: not known.",
		text: []string{"What is carried over, or due to be looked at again, can stand against flying hours.", ""},
	}
	p.field.set(o.hours)
	p.done = func(m *model, hours string) tea.Cmd {
		if hours != "" {
			if _, err := job.ParseHours(hours); err != nil {
				p.refused(err)
				return nil
			}
		}
		o.hours = hours
		m.pop()
		kept()
		return nil
	}
	return p
}

func benchWords(b metrology.Bench) []string {
	if b.Default {
		return []string{"Lengths are measured with " + b.Note + "."}
	}
	return []string{"Lengths are measured with the bench " + b.Name + "."}
}

// startNow makes the job and its first task, if it has one.
func (m *model) startNow(o *outline, reason string, from asker) tea.Cmd {
	desk, demo := m.desk, m.opt.Demo != nil
	return m.work(func() then {
		s, err := desk.Start(session.New{Wing: o.wing.ID, Reason: reason, Hours: o.hours, Demo: demo})
		if err == nil {
			err = m.hands.swap(s)
		}
		task := 0
		if err == nil && o.proc != nil {
			task, err = s.AddTask(o.proc.ID, o.target, "")
		}
		if err == nil {
			s.Due() // read here, away from the screen
		}
		return func(m *model) tea.Cmd {
			if err != nil {
				from.refused(err)
				return nil
			}
			cmd := m.opened(s, task)
			m.mark = fmt.Sprintf("SAVED the start of job %d", s.No())
			return cmd
		}
	})
}

func (m *model) addNow(o *outline, reason string, from asker) tea.Cmd {
	s := m.session
	return m.work(func() then {
		task, err := s.AddTask(o.proc.ID, o.target, reason)
		return func(m *model) tea.Cmd {
			if err != nil {
				return m.notEntered(err, from)
			}
			m.task = task
			m.mark = fmt.Sprintf("SAVED task %d", task)
			return m.due()
		}
	})
}
