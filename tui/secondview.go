package tui

import "strings"

// ways says on a card of the second person, where the chain stands in the place
// of what Enter does, how to answer and how not to agree; nothing where the
// answers need the room.
func (p *cardPage) ways(m *model, at places, w int) []string {
	if rows, _, _ := p.entry.list.drawn(m, w); len(rows) > at.verdict-at.field {
		return nil
	}
	return []string{p.nextWords() + p.orNot()}
}

func (p *cardPage) orNot() string { return "; " + p.refusing() + ": I do not agree" }

// refusing is the key by which the second person does not agree: a letter where
// none is typed.
func (p *cardPage) refusing() string {
	if p.entry.typing() {
		return "tab, 5"
	}
	return keyRefuse.Help().Key
}

// notAgreed names that key where the words say not to agree.
func (p *cardPage) notAgreed(do string) string {
	const way = "o not agree"
	if !p.card.Second {
		return do
	}
	if !strings.Contains(do, way) {
		return do + " (" + p.refusing() + ": I do not agree.)"
	}
	return strings.Replace(do, way, way+" ("+p.refusing()+")", 1)
}
