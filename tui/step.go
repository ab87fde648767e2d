package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

// stepPage is the page of the step that is due: most are a card with a field,
// those that look at the whole wing have a form of their own.
func stepPage(m *model, c job.Card) page {
	if len(c.Fields) == 0 {
		return newCardPage(m, c)
	}
	switch c.Fields[c.At].Kind {
	case procedure.Inspect:
		return newSurveyPage(m, c)
	case procedure.Lengths:
		return newLengthsPage(m, c)
	case procedure.Trim:
		return newTrimPage(m, c)
	case procedure.Loops:
		return newLoopsPage(m, c)
	case procedure.Clear:
		return newClearPage(m, c)
	}
	return newCardPage(m, c)
}

// step is what these forms have in common: the card, the pages that are read
// before it, and what was answered to the last Enter.
type step struct {
	card job.Card
	id   string // of the task and the card without its turn: what was read at row A is not read again at row B
	turn int    // pages before the card that were read
	told told
}

func newStep(m *model, c job.Card) step {
	id := c.Key
	if t, ok := m.session.Job().Task(c.Task); ok {
		if slot, ok := t.Unfolded.Slot(c.Key); ok {
			id = slot.Card.ID
		}
	}
	return step{card: c, id: fmt.Sprintf("%d/%s", c.Task, id)}
}

func (s *step) at() job.Field { return s.card.Fields[s.card.At] }

func (s *step) refused(err error) { s.told.what, s.told.do = explain(err) }

// question is what is asked, with its place among the questions of the card.
func (s *step) question() string {
	ask := s.at().Ask
	if n := len(s.card.Fields); n > 1 {
		ask = strings.TrimSpace(fmt.Sprintf("(%d of %d) %s", s.card.At+1, n, ask))
	}
	return ask
}

func (s *step) entry(kind job.EntryKind, text string) job.Entry {
	return job.Entry{Kind: kind, Task: s.card.Task, Key: s.at().Key, Text: text}
}

// roomy reports whether the detail of a wide card fits beside what is shown,
// which needs at least so many rows.
func (s *step) roomy(m *model, least int) bool {
	n := len(wrap(s.card.Detail, columnsFor(m.w).full))
	return n == 0 || n+1+least <= wideRows(s.card, m.w, m.h)
}

// intro is what is read before the card: the caution and the action where they
// do not fit on it, and once in a sitting a detail that has no room there.
func (s *step) intro(m *model, roomy bool) [][]string {
	if pages := wideIntro(s.card, m.w, m.h); len(pages) > 0 {
		return pages
	}
	if m.read[s.id] || roomy {
		return nil
	}
	w := columnsFor(m.w).full
	lines := append(append(cautionLines(s.card, w), ""), wrap(s.card.Action, w)...)
	lines = append(append(lines, ""), wrap(s.card.Detail, w)...)
	return slices.Collect(slices.Chunk(lines, bodyRows(m.h)-1))
}

// common takes the keys that mean the same on every step; free says that no
// text is being typed.
func (s *step) common(m *model, k tea.KeyMsg, roomy, free bool, keys []key.Binding, said ...string) (tea.Cmd, bool) {
	switch {
	case key.Matches(k, keyBack):
		return m.lookBack(s.card), true
	case key.Matches(k, keyMenu):
		return m.overview(s.card), true
	case key.Matches(k, keyHelp) && free:
		m.push(cardHelp(m, s.card, keys, said...))
		return nil, true
	case s.turn < len(s.intro(m, roomy)):
		if key.Matches(k, keyOn) {
			s.turn++
			m.read[s.id] = s.turn == len(s.intro(m, roomy))
			m.turned()
		}
		return nil, true
	}
	m.read[s.id] = true // it stands before the eyes
	return nil, false
}

// seen is the card as it stands behind its intro: what was read there has no
// second place.
func (s *step) seen(m *model, roomy bool) job.Card {
	c := s.card
	if len(wideIntro(c, m.w, m.h)) > 0 {
		c.Caution = readBefore
		c.Action, c.Detail = cell(c.Action, columnsFor(m.w).full), ""
	}
	if m.read[s.id] && !roomy {
		c.Detail = ""
	}
	return c
}

// stepKeys lists the keys of a step; more are those of its own.
func stepKeys(free bool, more ...key.Binding) []key.Binding {
	keys := []key.Binding{keyBack, keyMenu}
	if free {
		keys = append(keys, keyHelp)
	}
	return append(append(keys, more...), keyQuit, keyPause)
}
