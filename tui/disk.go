package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/journal"
)

// failedPage says that an entry is not known to be on the disk. Nothing is
// taken until the journal was read back.
func failedPage(m *model, err error) page {
	what, _ := explain(err)
	p := &notice{
		title: "The disk", head: notSaved + ". The last entry could not be written.",
		on: "try again", fixed: true,
	}
	p.says = []saying{
		{saysWhat, sentence(strings.TrimPrefix(what, "not saved: "))},
		{saysSafe, fmt.Sprintf("All %d entries before it are on the disk. What you entered is still in its field.", m.session.Job().Lines)},
		{saysNow, "Make room or put the disk right, then press enter: the journal is read back, and the bench says whether the entry is in it."},
	}
	p.take = func(m *model) tea.Cmd { return m.mend(p) }
	return p
}

// mend reads the journal back and goes on, or says that it still cannot.
func (m *model) mend(p *notice) tea.Cmd {
	s := m.session
	before := s.Job().Lines
	return m.work(func() then {
		err := s.Mend()
		return func(m *model) tea.Cmd {
			if err != nil {
				what, _ := explain(err)
				p.says = append(p.says[:3:3], saying{"Still", sentence(what) + " Nothing was lost by trying."})
				return nil
			}
			m.failed = nil
			if s.Job().Lines > before {
				m.drafts = map[string]string{} // it stood in one of them
			}
			m.mark = mendedWords(before, s.Job().Lines)
			cmd := m.due()
			m.word = m.mark
			return cmd
		}
	})
}

func mendedWords(before, after int) string {
	if after > before {
		return "the last entry is SAVED after all"
	}
	return "the last entry is " + notSaved + ": enter it again"
}

// tornPage tells what opening the journal had to mend.
func tornPage(r journal.Recovery) page {
	return &notice{title: "The journal was mended", head: "THE LAST ENTRY WAS CUT OFF", on: "go on with the job", says: []saying{
		{saysWhat, fmt.Sprintf("Entry %d was cut off while it was written: the power, the disk or the program went. It was never said to be saved.", r.Line)},
		{saysSafe, "All entries before it are whole. What was cut off lies in the file " + r.TornFile + " beside the journal."},
		{saysNow, "Press enter, and enter again what belongs to the step that is due."},
	}}
}
