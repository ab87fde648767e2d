// Command minimal is the least program with a picture: what the start of the
// bench is compared with.
package main

import (
	tea "github.com/charmbracelet/bubbletea"

	_ "example.org/linewright/tui/ground" // else a terminal that answers nothing holds it up for seconds
)

type model struct{}

func (model) Init() tea.Cmd                         { return nil }
func (m model) Update(tea.Msg) (tea.Model, tea.Cmd) { return m, nil }
func (model) View() string                          { return "first picture" }

func main() {
	if _, err := tea.NewProgram(model{}, tea.WithAltScreen()).Run(); err != nil {
		panic(err)
	}
}
