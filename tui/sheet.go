package tui

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/trim"
	"example.org/linewright/tui/prompt"
)

// measureDeeds lists what can be done where paths are measured: a sheet is
// taken, a path that is not proved is decided on, the trim is looked at.
func (m *model) measureDeeds(c job.Card) []deed {
	var out []deed
	if f, ok := due(c); ok && f.Kind == procedure.Lengths && c.Confirm == nil && c.Waiting == "" {
		out = append(out, deed{"c", "lengths from a sheet (CSV)", func(m *model) tea.Cmd { m.push(askSheet(c)); return nil }})
	}
	if open := m.openPaths(); len(open) > 0 {
		out = append(out, deed{"d", "decide on a path", func(m *model) tea.Cmd { m.choosePath(c, open); return nil }})
	}
	if len(prompt.Measured(m.session.Job())) > 0 {
		out = append(out, deed{"v", "trim and loops", func(m *model) tea.Cmd { m.push(m.reportPage()); return nil }})
	}
	return out
}

// askSheet asks for a file with lengths and shows what would be taken of it.
func askSheet(c job.Card) page {
	p := &askPage{title: "Lengths from a sheet", label: "The path of a CSV file:", text: []string{
		"Columns: point, side, mm; or point, left, right. A path that stands there again is another reading of it.",
		"Only the paths of this step are taken; the others wait in the sheet for their row.", "",
	}}
	p.done = func(m *model, path string) tea.Cmd {
		plan := m.at.plan
		return m.work(func() then {
			rows, err := prompt.ReadSheet(plan, strings.TrimSpace(path))
			return func(m *model) tea.Cmd {
				if faults, bad := err.(source.Faults); bad && len(faults) > 1 {
					m.push(faultPage("The sheet has faults", err))
					return nil
				}
				if err != nil {
					p.refused(err)
					return nil
				}
				return m.takeSheet(c, path, rows, p)
			}
		})
	}
	return p
}

// takeSheet says what of a sheet is for this step, and writes it on a choice.
func (m *model) takeSheet(c job.Card, path string, rows []job.PathRead, from *askPage) tea.Cmd {
	f, _ := due(c)
	en := job.Entry{Kind: job.EnterSheet, Task: c.Task, Key: f.Key, Sheet: rows}
	said, err := m.session.Preview(en)
	if err != nil {
		from.refused(err)
		return nil
	}
	ask := newChoosePage("Lengths from a sheet", []string{filepath.Base(path) + ": " + said + " for this step, " + count(len(rows), "length") + " in all."},
		numbered([]string{"take them", "not these"}), func(m *model, i int) tea.Cmd {
			m.pop()
			if i == 1 {
				return nil
			}
			return m.enter(en, from)
		})
	m.push(ask)
	return nil
}

// strikePaths lists the readings of a lengths step, those that do not agree
// first, else the newest first. What is read again blind keeps its value to
// itself.
func (m *model) strikePaths(c job.Card) []struckItem {
	f, ok := due(c)
	if !ok || f.Lengths == nil || f.State != job.Partial {
		return nil
	}
	t, ok := m.session.Job().Task(c.Task)
	if !ok || t.At(f.Key) == nil {
		return nil
	}
	var odd, rest []struckItem
	for _, r := range slices.Backward(t.At(f.Key).Readings) {
		if r.Path == nil || r.Struck != "" {
			continue
		}
		item := struckItem{r.Line, fmt.Sprintf("%s, %s, entry %d", r.Path, r.Value, r.Line), r.Path}
		cell := cellOf(f.Lengths, *r.Path)
		if cell != nil && cell.Hidden {
			item.text = fmt.Sprintf("%s, covered, entry %d", r.Path, r.Line)
		}
		if cell != nil && cell.Odd {
			odd = append(odd, item)
			continue
		}
		rest = append(rest, item)
	}
	return append(odd, rest...)
}

// cellOf finds a path in a row; nil where it is not measured there.
func cellOf(v *job.LengthsView, ref trim.PathRef) *job.LengthsCell {
	for _, r := range v.Rows {
		for _, c := range []*job.LengthsCell{r.Left, r.Right} {
			if c != nil && c.PathRef == ref {
				return c
			}
		}
	}
	return nil
}

// openPaths lists the measured paths that are neither proved inside nor outside
// and that nobody decided on.
func (m *model) openPaths() []job.PathLength {
	var out []job.PathLength
	for _, l := range m.session.Job().PathLengths() {
		if l.Verdict == metrology.NotProved && l.Decided == "" {
			out = append(out, l)
		}
	}
	return out
}

// choosePath lets a person take a path that is not proved, with a reason.
func (m *model) choosePath(c job.Card, open []job.PathLength) {
	texts := make([]string, len(open))
	for i, l := range open {
		texts[i] = fmt.Sprintf("%s: %s, sure within %s, limit %s: not proved", l.PathRef, prompt.OffWords(l.Deviation), roundUp(l.U), l.Limit)
	}
	m.push(newChoosePage("Decide yourself", []string{"The readings prove neither inside nor outside. Measured again they may; what is outside is never taken."},
		numbered(texts), func(m *model, i int) tea.Cmd {
			ref := open[i].PathRef
			m.askReason("Decide yourself", "Why do you take it?", []string{texts[i], "", "Your name and reason stand on the first page of the record.", ""},
				job.Entry{Kind: job.EnterDecide, Task: c.Task, Path: &ref})
			return nil
		}))
}
